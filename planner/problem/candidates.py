"""Lines and doses that could be written, and what suits what."""

from __future__ import annotations

from dataclasses import dataclass

from planner.domain.catalogue import Movement, Part, Scheme, Shape, Tier
from planner.domain.line import LineFacts, LinePiece, line_units
from planner.domain.plan import ConditioningLine
from planner.domain.running import timed_line
from planner.domain.timing import line_tenths, own_share, work_tenths, work_units

TURN = Part()
"""Each round, by oneself."""
NO_LIMIT = 1000
"""More units than any set has."""


@dataclass(frozen=True, slots=True, eq=False)
class DoseChoice:
    """A dose that could be written.

    Attributes:
        dose: in the unit, for one round; the sum of the rungs of a ladder.
        tenths: tenths of a second in one round, or in the whole ladder; over the whole piece where doses are
            counted over it.
        units: of one athlete in the same, both sides counted.
        part: how it counts in the piece.
    """

    dose: int
    tenths: int
    units: int
    part: Part = TURN

    @property
    def ladder(self) -> tuple[int, ...]:
        """Its rungs, or empty."""
        return self.part.ladder


@dataclass(frozen=True, slots=True, eq=False)
class LineOption:
    """A line that could be written, with its doses; strength lines have the one of their scheme."""

    facts: LineFacts
    doses: tuple[DoseChoice, ...]


def suits(m: Movement, scheme: Scheme, piece: LinePiece) -> bool:
    """Whether a movement takes a scheme in a strength piece on the gym floor, of a draft."""
    another = bool(scheme.parts) and m.id != scheme.parts[0].movement  # a complex is its first movement's
    if another or not scheme.drafted or m.unit != scheme.unit or scheme.reps > most_in_a_set(m):
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
    return DoseChoice(scheme.reps, tenths=0, units=units)


def plain_dose(m: Movement, tier: Tier, n: int, part: Part = TURN) -> DoseChoice:
    """A dose that is the same each time it comes."""
    own = own_share(n, part)
    tenths = line_tenths(m, own, tier) * part.turns * part.times
    return DoseChoice(n, tenths, line_units(m, own, part.times), part)


def ladder_dose(m: Movement, tier: Tier, part: Part) -> DoseChoice:
    """The dose of a whole ladder: the sum of its rungs, each timed as a set of its own."""
    rungs = tuple(own_share(n, part) for n in part.ladder)
    total = sum(part.ladder)
    tenths = line_tenths(m, total, tier, rungs) * part.turns
    return DoseChoice(total, tenths, line_units(m, sum(rungs), 1), part)


def explicit_dose(m: Movement, line: ConditioningLine, shape: Shape) -> DoseChoice:
    """The dose of a line that is given, whether or not a coach would choose it."""
    timed = timed_line(line, m)
    part = shape.part(line.spot)._replace(ladder=timed.rungs(shape))
    return DoseChoice(line.dose, work_tenths(timed, shape), work_units(timed, shape), part)


def dose_suits(dose: DoseChoice, m: Movement, shape: Shape) -> bool:
    """Whether a dose can be written in a shape: how it counts, the movement's cap, and a station's slot."""
    if dose.part not in shape.parts or not within_cap(dose, m, shape):
        return False
    if shape.station_s is not None:
        low, high = shape.station_s
        return low * 10 <= dose.tenths <= high * 10
    return True


def within_cap(dose: DoseChoice, m: Movement, shape: Shape) -> bool:
    """Whether one athlete does no more of it in the whole piece than the movement's cap."""
    return own_share(dose.dose, dose.part) * dose.part.times * shape.rounds <= m.cap


def most_in_a_set(m: Movement) -> int:
    """The most units that a set of an unloaded movement may have; no limit with a load.

    No more than its largest dose; and of what asks for skill, such as strict pull-ups and dips, no more than
    one beyond those that go at a steady pace: past that most of a class cannot end the set (common practice).
    """
    numbers = m.doses.get("open", ())
    if not numbers:
        return NO_LIMIT
    return min(numbers[-1], m.pace.steady_to + 1 if m.skill > 1 else NO_LIMIT)
