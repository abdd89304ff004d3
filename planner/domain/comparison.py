"""Two candidate weeks beside each other, as plain values: what is the same, what differs, and the figures.

Wherever the two weeks are set against each other the value is a ``Both``, so that the comparison the other
way round is the same value with every ``Both`` turned.
"""

from __future__ import annotations

from typing import Generic, Literal, TypeVar

from planner.domain.base import Value
from planner.domain.catalogue import DomainName, Pattern
from planner.domain.gym import Day
from planner.domain.week import Line

T = TypeVar("T")
PieceKind = Literal["warm_up", "strength", "conditioning", "cool_down"]
Aspect = Literal[
    "only", "movement", "dose", "load", "scheme", "setup", "order", "format", "domain", "cap", "minutes",
    "drills", "forecast", "notes",
]  # fmt: skip
"""What can differ. ``only``: one week has it and the other has not. ``notes``: words alone."""


class Both(Value, Generic[T]):
    """What the one week has, and what the other has."""

    a: T
    b: T

    @property
    def same(self) -> bool:
        """Whether both have the same."""
        return self.a == self.b


class WeekHead(Value):
    """Which week it is: ISO week, date of its Monday, gym, whether the gym is invented."""

    week: str
    monday: str
    gym: str
    invented: bool


class DayHead(Value):
    """A day in a line.

    Attributes:
        title: what it is about.
        date: ISO date.
        rating: expected, 0 to 10.
        hardness: easy, medium or hard.
    """

    title: str
    date: str
    rating: int
    hardness: Literal["easy", "medium", "hard"]


class PieceHead(Value):
    """How a piece runs, without its lines; the fields are those of the week's piece."""

    title: str
    minutes: int
    cap_minutes: int | None
    format: str
    domain: DomainName | None
    drills: tuple[str, ...]


class Cell(Value):
    """One line beside the line that stands in its place; ``differs`` is empty where they are the same."""

    lines: Both[Line | None]
    differs: tuple[Aspect, ...]


class VersionPair(Value):
    """A piece in one kit version.

    Attributes:
        kit: id.
        name: of the kit.
        floor: whether it is the gym floor.
        cells: the lines.
        forecasts: what athletes are expected to get, in words; empty where nothing is predicted.
        differs: beyond the cells: only in one week, order of the same movements, forecast.
    """

    kit: str
    name: str
    floor: bool
    cells: tuple[Cell, ...]
    forecasts: Both[str]
    differs: tuple[Aspect, ...]

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        return not self.differs and not any(cell.differs for cell in self.cells)


class PiecePair(Value):
    """A piece of a day.

    Attributes:
        kind: which part of the session.
        heads: how it runs in each week; None where a week has no such piece.
        versions: the gym floor first.
        differs: of the piece as a whole.
    """

    kind: PieceKind
    heads: Both[PieceHead | None]
    versions: tuple[VersionPair, ...]
    differs: tuple[Aspect, ...]

    @property
    def same(self) -> bool:
        """Whether nothing differs, in any kit version."""
        return not self.differs and all(version.same for version in self.versions)

    @property
    def floor_same(self) -> bool:
        """Whether nothing differs on the gym floor."""
        return not self.differs and all(version.same for version in self.versions if version.floor)


class DayPair(Value):
    """A day; a head is None where a week has no class that day."""

    day: Day
    heads: Both[DayHead | None]
    pieces: tuple[PiecePair, ...]
    differs: tuple[Aspect, ...]

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        return not self.differs and all(piece.same for piece in self.pieces)


class Tally(Value):
    """How much differs.

    Attributes:
        days: with a class in one week or both, and ``days_differ`` those with any difference.
        pieces: of strength and conditioning, ``pieces_differ`` on the gym floor, ``kits_differ`` only in
            other kit versions.
        lines: on the gym floor, and ``lines_differ``.
    """

    days: int
    days_differ: int
    pieces: int
    pieces_differ: int
    kits_differ: int
    lines: int
    lines_differ: int


class PatternFigure(Value):
    """Exposures to a pattern: by day, for days with a class in one week or both, and in the week."""

    pattern: Pattern
    days: dict[Day, Both[int]]
    total: Both[int]


class DomainFigure(Value):
    """The days whose conditioning is of a time domain."""

    domain: DomainName
    days: Both[tuple[Day, ...]]


class DayLoads(Value):
    """A day's expected rating, None without a class, and planned load: rating times class minutes."""

    day: Day
    rating: Both[int | None]
    au: Both[int]


class LoadFigures(Value):
    """Planned load; the terms are those of the week's own load."""

    days: tuple[DayLoads, ...]
    week_au: Both[int]
    monotony: Both[float | None]
    strain: Both[float | None]


class Equipment(Value):
    """What the gym floor needs.

    Attributes:
        items: distinct items.
        stations: distinct stations: the items that one movement needs at once, "barbell + rack".
        sets: distinct sets of stations, one for each piece that needs any: what has to be set out.
    """

    items: tuple[str, ...]
    stations: tuple[str, ...]
    sets: tuple[str, ...]


class EquipmentFigures(Value):
    """Equipment by day, and over the week."""

    days: dict[Day, Both[Equipment]]
    week: Both[Equipment]


class Novelty(Value):
    """What was not on the gym floor in the weeks before.

    Attributes:
        against: ISO weeks before, newest first, four at most.
        movements: names.
        pairs: two movements in one piece, "burpee with row".
        formats: of conditioning.
    """

    against: tuple[str, ...]
    movements: tuple[str, ...]
    pairs: tuple[str, ...]
    formats: tuple[str, ...]


class RuleSide(Value):
    """How a rule did in one week; the fields are those of the week's own audit."""

    level: Literal["must", "weight", "watch"]
    weight: int
    measure: int
    cost: int
    places: tuple[str, ...]


class RulePair(Value):
    """A rule that did not do the same in both; None where a week does not have it."""

    id: str
    statement: str
    unit: str
    sides: Both[RuleSide | None]


class Figures(Value):
    """All figures.

    Attributes:
        patterns: those that either week has.
        domains: short, medium, long.
        load: planned load.
        equipment: demand of the gym floor.
        novelty: None where no earlier week is known.
        rules: those that differ; broken musts first, then the greatest difference in points.
        points: given up on weighted rules.
        broken_musts: how many.
    """

    patterns: tuple[PatternFigure, ...]
    domains: tuple[DomainFigure, ...]
    load: LoadFigures
    equipment: EquipmentFigures
    novelty: Both[Novelty | None]
    rules: tuple[RulePair, ...]
    points: Both[int]
    broken_musts: Both[int]


class Comparison(Value):
    """Two candidates beside each other.

    Attributes:
        names: "A" and "B", or what sets them apart.
        heads: which weeks they are.
        days: union of both weeks' days.
        tally: how much differs.
        figures: patterns, time domains, loads, equipment, novelty, rules.
        summary: three sentences at most, made from the tally and the figures.
    """

    names: Both[str]
    heads: Both[WeekHead]
    days: tuple[DayPair, ...]
    tally: Tally
    figures: Figures
    summary: tuple[str, ...]

    @property
    def same(self) -> bool:
        """Whether nothing differs, day by day."""
        return all(day.same for day in self.days)
