"""Words in general use on a board, and the terminal of the grammar that each is.

Keys are written as said; ``compact`` makes of them, and of what is read, letters and digits without spaces
and hyphens, so that "every minute on the minute", "for-time" and "For Time" are found alike.
"""

from __future__ import annotations

from planner.domain.gym import DAY_NAMES

_WORDS: dict[str, str] = {
    "STRENGTH": "strength, strength piece",
    "SKILL": "skill, skill piece",
    "CONDITIONING": "conditioning, conditioning piece, cond",
    "FINISHER": "finisher",
    "WARM_UP": "warm-up, warming up, warmup",
    "COOL_DOWN": "cool-down, cooling down, cooldown",
    "FOR_TIME": "for time, as fast as possible, as fast as you can, against the clock",
    "AS_MANY": "amrap, as many rounds as possible, as many reps as possible, as many rounds as you can, "
    "as many as possible, as many rounds and reps as possible, as many reps as you can",
    "EMOM": "emom, every minute, every minute on the minute, on the minute, each minute",
    "EVERY": "every",
    "ROUNDS": "round, rounds, rd, rds, rnd, rnds",
    "RFT": "rft",
    "SETS": "set, sets, turn, turns, interval, intervals",
    "ON": "on, work",
    "OFF": "off",
    "REST": "rest, rests, resting",
    "NO_REST": "no rest, without rest",
    "BETWEEN": "between, between rounds, after each round, between sets, after each set, between each round, "
    "in between, between reps, between parts",
    "CAP": "cap, time cap, capped at",
    "PAIRS": "in pairs, pairs, team of 2, team of two, teams of 2, teams of two, partners, "
    "with a partner, in twos, in teams of two, in teams of 2, in a pair",
    "THREES": "in threes, threes, team of 3, team of three, teams of 3, teams of three, "
    "in teams of three, in teams of 3",
    "SHARED": "shared, share the work, share the reps, shared total, split as you like",
    "IN_TURN": "one works, one works at a time, one works one rests, one works while the others rest, "
    "one works while one rests",
    "MIRRORED": "mirrored, together, all do the same, in sync, synchronised, synchronized",
    "FLOW": "flow",
    "RESULT": "result, score",
    "SLOWEST": "slowest round, slowest",
    "ONE_EACH": "one movement each, a movement each, one movement each time, alternating movements",
    "ALL_EACH": "all movements each, whole round each, a whole round each, a round each",
    "AS_LONG": "for as long as you can, as long as you can, as long as possible, for as long as possible",
    "OPENING": "opening, open with, buy-in, buyin, start with, once first",
    "THEN": "then, each round, in each round, in the rounds",
    "AFTER_EACH": "after each, after every movement, after each movement, after each line",
    "CLOSING": "closing, close with, cash-out, buy-out, finish with, once at the end",
    "MOST": "max, most, as many as you can, max reps",
    "NUMBERS": "numbers, ladder",
    "TO": "to, down to, up to",
    "BY": "by, in steps of",
    "OF": "of",
    "REPS": "reps, rep, repetitions, repetition",
    "METRE": "m, metre, metres, meter, meters, mtr",
    "KM": "km, k, kilometre, kilometres, kilometer, kilometers",
    "CAL": "cal, cals, calorie, calories, kcal",
    "SEC": "s, sec, secs, second, seconds",
    "KG": "kg, kgs, kilo, kilos, kilogram, kilograms",
    "PERCENT": "percent, per cent, pct",
    "AT": "at",
    "X": "x, times",
    "EACH_SIDE": "each side, per side, a side, each leg, per leg, each arm, per arm, each way",
    "ACROSS": "across, same load, straight sets",
    "ASCENDING": "ascending, building, heavier each set, up each set, going up",
    "WAVES": "waves, wave, in waves",
    "BACK_OFF": "back-off, back-off sets, backoff, drop sets",
    "FIND": "to a heavy, a heavy, build to, build up to, work up to, find a heavy, build to a heavy, "
    "build up to a heavy, work up to a heavy, "
    "ascending to a heavy, to a heavy set of, a heavy set of, find a heavy set of, build to a heavy set of, "
    "build up to a heavy set of, work up to a heavy set of, ascending to a heavy set of, find, test",
    "RM": "rm, rep max, repetition maximum, reps maximum",
    "RESERVE": "in reserve, reps in reserve, rep in reserve, rir, left in reserve, left in the tank, "
    "reps left",
    "RPE": "rpe",
    "PAUSE": "pause, pause of, paused, pause at the bottom",
    "TEMPO": "tempo",
    "PRACTICE": "practice, practise, practising, practicing, skill practice",
    "SUPERSET": "superset, in turn, alternate sets, alternate, taking turns",
    "AS": "as, scheme",
    "AS_WRITTEN": "as written",
    "SEP": "and",
    "PLUS": "plus",
    "NOISE": "for, in, with, the, a, an, total, your, you, is, do, use, using, set of, as needed, "
    "rest as needed, through, each, alternating",
}
_COUNTS = (
    "one, single", "two, double, twice", "three, triple, thrice", "four", "five", "six", "seven", "eight",
    "nine", "ten", "eleven", "twelve",
)  # fmt: skip
_SHORT = {"tue": "tues", "wed": "weds", "thu": "thur, thurs"}
VALUES: dict[str, dict[str, str]] = {
    "TIER": {
        "light": "light", "moderate": "moderate, medium", "heavy": "heavy", "open": "open, unloaded",
    },
    "START": {
        "floor": "from the floor, off the floor, from floor, from the ground",
        "rack": "from the rack, out of the rack, from rack, from racks, from the racks",
    },
    "SCORE": {
        "time": "time", "load": "load, heaviest load, weight", "sum": "sum, total reps",
        "rounds": "rounds and reps",
        "calories": "total calories", "metres": "total metres, distance",
    },
    "MANNER": {
        "spread": "spread, spread out", "heats": "heats, in heats", "starts": "starts, one by one",
        "twos": "twos, turns in twos", "halves": "halves, in halves",
    },
    "NUMBER": {str(n): words for n, words in enumerate(_COUNTS, 1)},
    "DAY": {day: f"{day}, {name}, {name}s, {_SHORT.get(day, day)}" for day, name in DAY_NAMES.items()},
}  # fmt: skip
"""Words that carry a value: ``{terminal: {value: words}}``."""

IN_WORDS: dict[str, str] = {
    "MOVEMENT": "a movement",
    "NUMBER": "a number",
    "LADDER": "numbers such as 21-15-9",
    "GROWING": "numbers without end such as 2-4-6...",
    "DURATION": "a time such as 2:00, 90 s or 12 min",
    "SEP": "a comma",
    "KG": '"kg"',
    "X": '"x"',
    "AT": '"@"',
    "$END": "the end of the line",
    "NOTE": '"note:"',
    "PERCENT": '"%"',
    "SLASH": '"/"',
    "LPAR": '"("',
    "RPAR": '")"',
    "PLUS": '"+"',
    "TIER": '"light", "moderate" or "heavy"',
    "START": '"from the floor" or "from the rack"',
    "SCORE": '"time", "load", "metres", "calories" or "sum"',
    "MANNER": '"together", "spread", "heats", "starts", "twos" or "halves"',
    "SCHEME": "a scheme's name",
    "DAY": "a day",
    "KIT": "a kit's name",
}
"""Terminals in messages; the others by the first of their words."""


def in_words(terminal: str) -> str:
    """A terminal as a coach would look for it."""
    if terminal in IN_WORDS:
        return IN_WORDS[terminal]
    return f'"{_WORDS[terminal].split(", ")[0]}"' if terminal in _WORDS else terminal.lower()


def compact(words: str) -> str:
    """Letters and digits alone, small: what a name is known by; a comma inside it stays."""
    return "".join(c for c in words.casefold() if c.isalnum() or c == ",")


def keywords() -> dict[str, tuple[str, str]]:
    """Every word in general use, compact, with its terminal and its value."""
    found = {compact(word): (kind, word) for kind, words in _WORDS.items() for word in words.split(", ")}
    for kind, values in VALUES.items():
        found |= {
            compact(word): (kind, value) for value, words in values.items() for word in words.split(", ")
        }
    return found


def said_words() -> dict[str, str]:
    """Every word in general use as said, by its letters and digits; what is passed over is left out."""
    every = {kind: words for kind, words in _WORDS.items() if kind not in {"NOISE", "SEP"}}
    said = ", ".join([*every.values(), *(words for values in VALUES.values() for words in values.values())])
    return {compact(word): word for word in said.split(", ") if len(word) > 1}


def terminals() -> dict[str, tuple[str, ...]]:
    """The words of each terminal that is made of words."""
    kinds = {kind: words for kind, words in _WORDS.items() if kind != "NOISE"}
    kinds |= {kind: ", ".join(values.values()) for kind, values in VALUES.items() if kind != "NUMBER"}
    return {kind: tuple(dict.fromkeys(words.split(", "))) for kind, words in kinds.items()}


def passed_over() -> tuple[str, ...]:
    """Words that say nothing."""
    return tuple(_WORDS["NOISE"].split(", "))
