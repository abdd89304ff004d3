"""Numbers, dates and loads as a coach writes them."""

from __future__ import annotations

import re
from datetime import date

from planner.domain.catalogue import Modality, Pattern, Phase
from planner.domain.week import Line, Load, Session, Side
from planner.domain.words import SPOT_WORDS, capital

PATTERN_WORDS: dict[Pattern, str] = {
    "squat": "Squat",
    "hinge": "Hinge",
    "lunge": "Lunge",
    "horizontal_push": "Push, horizontal",
    "vertical_push": "Push, vertical",
    "horizontal_pull": "Pull, horizontal",
    "vertical_pull": "Pull, vertical",
    "carry": "Carry",
    "trunk": "Trunk",
    "jump": "Jump",
    "cyclic": "Cyclic",
}
MODALITY_WORDS: dict[Modality, str] = {
    "loaded": "loaded", "bodyweight": "bodyweight", "cyclic": "cyclic",
}  # fmt: skip
PHASE_WORDS: dict[Phase, str] = {
    "raise": "Raise", "activate": "Activate", "mobilise": "Mobilise", "potentiate": "Potentiate",
}  # fmt: skip
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_TIMES = re.compile(r"(?<=\d) ?x ?(?=\d)")
_MASS = re.compile(r"^(?P<number>.*?\d) kg(?P<rest>.*)$")


def day_month(iso: str) -> str:
    """``2025-12-01`` as "1 December"."""
    day = date.fromisoformat(iso)
    return f"{day.day} {_MONTHS[day.month - 1]}"


def date_range(first: str, last: str) -> str:
    """Two ISO dates as "1 to 6 December 2025"; month and year are not repeated."""
    a, b = date.fromisoformat(first), date.fromisoformat(last)
    end = f"{day_month(last)} {b.year}"
    if a == b:
        return end
    if a.year != b.year:
        return f"{day_month(first)} {a.year} to {end}"
    return f"{a.day} to {end}" if a.month == b.month else f"{day_month(first)} to {end}"


def iso_week(week: str) -> str:
    """``2025-W49`` as "Week 49 of 2025"; anything else unchanged."""
    match = re.fullmatch(r"(\d{4})-W0?(\d{1,2})", week)
    return f"Week {match[2]} of {match[1]}" if match else week


def number(value: float) -> str:
    """A number without trailing zeros: 42.5, 30, 1,240."""
    text = f"{value:,.2f}".rstrip("0").rstrip(".")
    return text or "0"


def span(seconds: int) -> str:
    """A rest in words: "45 s", "2 min", "2 min 30 s"."""
    minutes, rest = divmod(seconds, 60)
    parts = ([f"{minutes} min"] if minutes else []) + ([f"{rest} s"] if rest or not minutes else [])
    return " ".join(parts)


def count(amount: int, one: str, many: str = "") -> str:
    """An amount and its noun, in singular or plural."""
    return f"{amount:,} {one if amount == 1 else many or one + 's'}"


def amount(value: int, unit: str) -> str:
    """A measure in a rule's unit, "1 day" and "2 days": units are written in the plural."""
    if value == 1 and unit.endswith("s") and " " not in unit:
        unit = unit[:-1]
    return f"{value:,} {unit}".strip()


def times(text: str) -> str:
    """Replaces the letter x between two numbers by a multiplication sign."""
    return _TIMES.sub(" \N{MULTIPLICATION SIGN} ", text)


def loads(pair: tuple[Load, ...]) -> str:
    """Both athletes' loads on one line: "42.5 / 30 kg", "20 / 10 kg plate"."""
    texts = list(dict.fromkeys(times(load.text) for load in pair))
    split = [_MASS.match(text) for text in texts]
    if len(texts) > 1 and all(split):
        parts = [match for match in split if match]
        if len({part["rest"] for part in parts}) == 1:
            return " / ".join(part["number"] for part in parts) + f" kg{parts[0]['rest']}"
    return " / ".join(texts)


def plates(pair: tuple[Load, ...]) -> tuple[str, ...]:
    """Plates on each side of the bar for each athlete, "20+2.5"; empty if there are none."""
    if not any(load.per_side_kg for load in pair):
        return ()
    sides = ("+".join(number(kg) for kg in load.per_side_kg) or "empty bar" for load in pair)
    return tuple(dict.fromkeys(sides))


def percent(pair: tuple[Load, ...]) -> str:
    """Share of the 1RM: "70 % of 1RM", or both if the athletes differ."""
    known = list(dict.fromkeys(load.percent_1rm for load in pair if load.percent_1rm is not None))
    return " / ".join(str(p) for p in known) + " % of 1RM" if known else ""


def dose(line: Line) -> str:
    """The dose as written, and where it comes; with its sets before it, but not where it has all of them."""
    text = times(line.dose.text)
    as_long = len({alike.reps for alike in line.work_sets}) <= 1
    sets = f"{line.sets} \N{MULTIPLICATION SIGN} " if line.sets and as_long else ""
    return f"{SPOT_WORDS[line.spot]}{sets}{text}"


def line_loads(line: Line) -> str:
    """Both loads of a line: "up to 110 / 72.5 kg" where sets differ, "about" where one set is sought."""
    text = loads(line.loads)
    if not text:
        return ""
    if len({alike.loads for alike in line.work_sets}) > 1:
        return f"up to {text}"
    return f"about {text}" if line.scheme and line.sets is None else text


def run_of_loads(line: Line) -> str:
    """The loads of a line set by set, if they differ: "60 / 40, 65 / 42.5 kg"; else as ``line_loads``."""
    if len({alike.loads for alike in line.work_sets}) <= 1:
        return line_loads(line)
    each = [loads(alike.loads).removesuffix(" kg") for alike in line.work_sets for _ in range(alike.sets)]
    return f"{', '.join(each)} kg"


def set_by_set(line: Line) -> str:
    """Work sets with their loads, if they differ: "3 at 95 / 62.5 kg, 2 at 100 / 67.5 kg"; else empty."""
    if len({alike.loads for alike in line.work_sets}) <= 1:
        return ""
    said = []
    for alike in line.work_sets:
        reps = alike.text.removesuffix("s").removesuffix(" rep")
        count = f"{alike.sets} \N{MULTIPLICATION SIGN} " if alike.sets > 1 else ""
        said.append(f"{count}{reps} at {loads(alike.loads)}")
    return ", ".join(said)


def terms(line: Line) -> list[str]:
    """How the sets run, in small facts: rest, reserve, clock, tempo."""
    return [
        *([f"rest {span(line.rest_s)}"] if line.rest_s else []),
        *([f"{count(line.reserve, 'rep')} in reserve"] if line.reserve is not None else []),
        *line.terms,
    ]


def by_hand(line: Line) -> str:
    """What follows the name of a line that the coach changed in the week's file; else nothing."""
    return " (changed by the coach)" if line.by_hand else ""


def total(line: Line) -> str:
    """All units over the piece, unless the dose as written says it already."""
    if line.total == line.dose.value * (line.sets or 1):
        return ""
    unit = {"reps": "reps", "metres": "m", "calories": "calories", "seconds": "s"}[line.dose.unit]
    return f"{line.total:,} {unit} in all"


def group(side: Side) -> str:
    """One of two groups that are weighed, in a word: "push"."""
    return side.name.removesuffix(" work")


def sentence(text: str) -> str:
    """The text with a capital letter at the start and a full stop at the end."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?:" else ".")


def effort(session: Session) -> str:
    """How hard a day is expected to be: "Easy day, effort 5 of 10."."""
    return f"{capital(session.hardness)} day, effort {session.rating} of 10."
