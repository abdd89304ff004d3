"""Sentences of the sheet: doses, loads, times, ratings, advice, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil

from planner.domain.base import Unit
from planner.domain.catalogue import Format, Movement, Shape, Sides
from planner.domain.week import Load
from planner.domain.words import clock, listed, spelt
from planner.domain.written import Composition

CR10_ANCHORS: dict[int, str] = {
    0: "rest",
    1: "very, very easy",
    2: "easy",
    3: "moderate",
    4: "somewhat hard",
    5: "hard",
    7: "very hard",
    10: "maximal",
}
"""Modified category-ratio scale, Foster and others, JSCR 2001;15(1):109-115; the others are blank."""
STEP_DOWN: dict[str, str] = {"overhead_squat": "front_squat", "overhead_lunge": "front_rack_lunge"}
"""Whose bar is too heavy overhead does this with the same bar instead: a rule of the trade."""
HALF, MINUTE_S = 2, 60
LIMITED_SHORT = "end each set two reps before you could do no more; more or fewer reps than written are right"

LESS_OF_IT: dict[Unit, tuple[str, str]] = {
    "reps": ("fewer reps", "half of them, ended before form goes"),
    "seconds": ("shorter holds", "half the time, ended before form goes"),
    "metres": ("a shorter way", "half of it, with a stop before form goes"),
    "calories": ("fewer calories", "half of them, at a pace that lasts"),
}
"""The easier option where a movement is the easiest of its kind; common practice."""

RHABDOMYOLYSIS = (
    "Stop and see a doctor at once for severe muscle pain or swelling, weakness, or cola-coloured urine. The "
    "risk is highest after a lay-off, in heat, when ill or dry, and with much unaccustomed lowering."
)
ALONE = {
    "shared": "On your own: half of a pair's total, a third of a three's; rest as long as you worked.",
    "in_turn": "On your own: after each turn rest as long as it took you.",
    "mirrored": "On your own: at your own pace.",
}
"""How one person does what is written for two or three; common practice."""
SHARED = {
    "shared": "The numbers are for all of you together: share them as you like, one works at a time.",
    "in_turn": "One works while the others rest; change over when the round is done.",
    "mirrored": "Do every rep at the same time.",
}
RESULTS = {
    "time": "Your time, with the load; past the cap, the rounds and reps you did.",
    "rounds": "Rounds, and reps of the unfinished round, with the load.",
    "load": "The load that you used, or reached.",
    "metres": "Your metres, all turns together.",
    "calories": "Your calories, all turns together.",
    "slowest": "Your slowest round, with the load.",
    "sum": "The reps of all turns added up, with the load.",
}

UNWELL = "New, back after a break, or unwell? Halve the dose, lengthen the rests, or come another day."
LANDING = "Land quietly, knees over toes, and step down from boxes; swap jumps for steps if anything hurts."
OVERHEAD = "Much goes overhead today: ribs down, and stop short of any pinch in the shoulder."
LOWERING = "Much lowering under load today: those new to it do half, and will still be sore."


def kg_text(kg: float) -> str:
    """Kilograms as on a plate: 20, 42.5, 1.25."""
    return f"{kg:.2f}".rstrip("0").rstrip(".")


def load_text(item: str, name: str, kg: float) -> str:
    """A load as said: "42.5 kg" on a bar, "2 x 16 kg" for a pair, "20 kg plate".

    Args:
        item: id of the implement.
        name: its name, singular.
        kg: of one implement, or of the whole bar.
    """
    if item == "barbell":
        return f"{kg_text(kg)} kg"
    if item.endswith("_pair"):
        return f"2 x {kg_text(kg)} kg"
    return f"{kg_text(kg)} kg {name}"


def both(loads: Sequence[Load]) -> str:
    """Loads of the man and the woman: "80 kg / 52.5 kg"."""
    return " / ".join(load.text for load in loads)


def dose_text(value: int, unit: Unit, sides: Sides = "both", ladder: tuple[int, ...] = ()) -> str:
    """A dose as written: "20 reps", "10 each side", "400 m", "12 calories", "40 seconds", "21-15-9".

    Args:
        value: in ``unit``; for each side where it is per side.
        unit: counted unit.
        sides: both, alternating, or per side.
        ladder: rungs, which replace the number.
    """
    figure = "-".join(map(str, ladder)) if ladder else str(value)
    one = value == 1 and not ladder
    words = {
        "reps": "rep" if one else "reps",
        "metres": "m",
        "calories": "calorie" if one else "calories",
        "seconds": "second" if one else "seconds",
    }
    if ladder and unit == "reps":
        return f"{figure} each side" if sides == "per_side" else figure
    if sides == "per_side":
        return f"{figure} each side" if unit == "reps" else f"{figure} {words[unit]} each side"
    if sides == "alternating" and unit == "reps":
        return f"{figure} {words[unit]}, alternating"
    return f"{figure} {words[unit]}"


def order_words(shape: Shape, c: Composition | None) -> Iterator[str]:
    """What is said of the order, the rests and the people of a piece that a coach composed."""
    if shape.opening:
        yield "Start with what comes once."
    if shape.after_each:
        yield "What comes after each is done after every other movement of the round."
    if shape.closing:
        yield "End with what comes last, once."
    if shape.rest_s:
        yield f"Rest {clock(shape.rest_s)} between rounds."
    if c is not None and c.rest_slots:
        yield _rest_slots(c)
    if shape.people > 1:
        yield SHARED[shape.sharing]


def _rest_slots(c: Composition) -> str:
    """Which turns of the clock are for rest: "Minute 4 of each round is for rest."."""
    many = len(c.rest_slots) > 1
    turn = "minute" if c.every_s == MINUTE_S else "turn"
    which = listed(map(str, c.rest_slots))
    return f"{turn.capitalize()}{'s' * many} {which} of each round {'are' if many else 'is'} for rest."


def result_words(c: Composition, form: Format) -> str:
    """How the result of a coach's own piece is written down."""
    return RESULTS[c.result] if c.result else form.score


def rounds_text(tenths: int) -> str:
    """Rounds from tenths of rounds: "5", "4.5"."""
    return str(tenths // 10) if tenths % 10 == 0 else f"{tenths / 10:.1f}"


def rating_words(rating: int) -> str:
    """The scale's own anchor; where it has none, the two on either side."""
    if rating in CR10_ANCHORS:
        return CR10_ANCHORS[rating]
    below = max(r for r in CR10_ANCHORS if r < rating)
    above = min(r for r in CR10_ANCHORS if r > rating)
    return f"between {CR10_ANCHORS[below]} and {CR10_ANCHORS[above]}"


def too_heavy(
    movement: Movement,
    dose: int,
    movements: Mapping[str, Movement],
    *,
    shared_bar: bool = False,
    lighter: bool = True,
) -> str:
    """What to do in conditioning when the load is too heavy.

    Args:
        movement: the movement.
        dose: of a round; of the whole ladder in a ladder.
        movements: all, for names.
        shared_bar: whether one bar does other lines of the piece too.
        lighter: whether a lighter load is at hand.
    """
    least = ceil(dose / HALF)
    if movement.unit == "reps":
        fewer = f"fewer reps, not fewer than {least}"
    else:
        fewer = f"less, not less than {dose_text(least, movement.unit)}"
    down = STEP_DOWN.get(movement.id)
    if down is not None and down in movements:
        return f"Too heavy overhead? Do {movements[down].name}s with the same bar, or {fewer}."
    if shared_bar:
        return f"One bar does it all: take weight off for your weakest lift, or do {fewer}."
    if not lighter:
        return f"Too heavy? Do {fewer}."
    return f"Too heavy? Take the next lighter load, or do {fewer}."


def find_advice(name: str, percent: float | None) -> str:
    """What to expect where a heavy set is looked for; arguments as for ``strength_advice``."""
    start = "" if percent is None else f"Expect about {percent:g} % of your best {name} if you know it. "
    return f"{start}If speed or form goes, that was the last try."


def strength_advice(name: str, percent: float | None, reserve: int | None) -> str:
    """What to do on a strength line when the printed load does not fit.

    Args:
        name: of the movement, or what of it the percent is of: "back squat on the heaviest set".
        percent: of 1RM, where the load follows from one.
        reserve: reps in reserve, where it applies.
    """
    parts = []
    if percent is not None:
        parts.append(f"Use {percent:g} % of your best {name} if you know it.")
    if reserve is not None:
        left = "no rep" if reserve == 0 else f"{spelt(reserve)} rep" + ("s" if reserve > 1 else "")
        parts.append(f"Finish each set with {left} in reserve: fewer left, take weight off; more, add some.")
    else:
        parts.append("If speed or form goes, take weight off.")
    return " ".join(parts)
