"""Lines and doses that could be written, and what suits what."""

from __future__ import annotations

from dataclasses import dataclass

from planner.domain.catalogue import Movement, Scheme, Shape, Tier
from planner.domain.line import LineFacts, LinePiece, line_units
from planner.domain.plan import ConditioningLine
from planner.domain.running import timed_line
from planner.domain.timing import line_tenths, work_tenths, work_units

NO_LIMIT = 1000
"""More units than any set has."""


@dataclass(frozen=True, slots=True, eq=False)
class DoseChoice:
    """A dose that could be written.

    Attributes:
        dose: in the unit, for one round; the sum of the rungs of a ladder.
        ladder: the rungs, or empty.
        chipper: whether it is a once-through dose.
        tenths: tenths of a second in one round, or in the whole ladder.
        units: in one round, both sides counted.
    """

    dose: int
    ladder: tuple[int, ...]
    chipper: bool
    tenths: int
    units: int


@dataclass(frozen=True, slots=True, eq=False)
class LineOption:
    """A line that could be written, with its doses; strength lines have the one of their scheme."""

    facts: LineFacts
    doses: tuple[DoseChoice, ...]


def suits(m: Movement, scheme: Scheme, piece: LinePiece) -> bool:
    """Whether a movement takes a scheme in a strength piece on the gym floor, of a draft."""
    if not scheme.drafted or m.unit != scheme.unit or scheme.reps > most_in_a_set(m):
        return False
    if scheme.tier == "heavy" and m.lift is None:
        return False  # what has no bar to load is not a heavy lift
    if piece == "assistance":
        if scheme.goal != "assistance":
            return False
        return m.modality == "loaded" or scheme.unit != "metres"
    if scheme.goal not in m.goals:
        return False
    return m.modality == "loaded" or scheme.tier in ("moderate", "open")


def strength_dose(m: Movement, scheme: Scheme) -> DoseChoice:
    """The one dose of a strength line: its sets and reps, all sets counted as units."""
    units = line_units(m, scheme.total, 1)
    return DoseChoice(scheme.reps, (), chipper=False, tenths=0, units=units)


def plain_dose(m: Movement, tier: Tier, n: int, *, chipper: bool = False) -> DoseChoice:
    """A dose for one round, or for once through a chipper."""
    return DoseChoice(n, (), chipper, line_tenths(m, n, tier), line_units(m, n, 1))


def ladder_dose(m: Movement, tier: Tier, ladder: tuple[int, ...]) -> DoseChoice:
    """The dose of a whole ladder: the sum of its rungs, each timed as a set of its own."""
    total = sum(ladder)
    return DoseChoice(
        total,
        ladder,
        chipper=False,
        tenths=line_tenths(m, total, tier, ladder),
        units=line_units(m, total, 1),
    )


def explicit_dose(m: Movement, line: ConditioningLine, shape: Shape) -> DoseChoice:
    """The dose of a line that is given, whether or not a coach would choose it."""
    timed = timed_line(line, m)
    return DoseChoice(
        dose=line.dose,
        ladder=timed.rungs(shape),
        chipper=shape.format == "chipper",
        tenths=work_tenths(timed, shape),
        units=work_units(timed, shape),
    )


def dose_suits(dose: DoseChoice, m: Movement, shape: Shape) -> bool:
    """Whether a dose can be written in a shape: its kind, the movement's cap, and the slot of a station."""
    if dose.ladder != shape.ladder or dose.chipper != (shape.format == "chipper"):
        return False
    if dose.dose * shape.rounds > m.cap:
        return False
    if shape.station_s is not None:
        low, high = shape.station_s
        return low * 10 <= dose.tenths <= high * 10
    return True


def most_in_a_set(m: Movement) -> int:
    """The most units that a set of an unloaded movement may have; no limit with a load.

    No more than its largest dose; and of what asks for skill, such as strict pull-ups and dips, no more than
    one beyond those that go at a steady pace: past that most of a class cannot end the set (common practice).
    """
    numbers = m.doses.get("open", ())
    if not numbers:
        return NO_LIMIT
    return min(numbers[-1], m.pace.steady_to + 1 if m.skill > 1 else NO_LIMIT)
