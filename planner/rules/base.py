"""What a rule is: a measurement, at each place where it applies, in four parts.

A kind of rule is one module in this package. It declares its fields (a pydantic model), encodes itself into
the model (``encode``), audits a finished week in plain Python (``audit``), and says itself, its breach and a
remedy (``statement``, ``sentence``, ``remedy``). ``encode`` and ``audit`` share catalogue data and the
meaning of a selector, and nothing else: neither counts with the other's code.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, ClassVar, Literal, Protocol, Self

from pydantic import Field, PrivateAttr, model_validator

from planner.domain.base import Value
from planner.domain.catalogue import Shape
from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.domain.line import Held, LineFacts, PlannedLine
from planner.domain.week import Side
from planner.rules.where import Where

Expr = Any
"""A linear expression or literal of the model; rules never look inside."""
Level = Literal["must", "weight", "watch"]
NATURE = 1000
"""Standing of what is so by nature: no wish of a coach's makes more bars, or a longer hour."""
Scope = Literal["floor", "all"]
Stage = Literal["lines", "doses"]
"""What a rule can be decided by: the lines and the kind of piece, or only with the doses and rounds too."""


@dataclass(frozen=True, slots=True)
class Term:
    """One measurement of a rule inside the model: ``scale * max(0, ceil((expr - limit) / divide))``.

    Attributes:
        place: where: a day, ``week``, or what the rule says.
        expr: linear in the decisions.
        limit: up to here nothing is breached.
        upper: the most that ``expr`` can be.
        scale: units of breach for each step beyond the limit.
        divide: how much of ``expr`` makes a step.
    """

    place: str
    expr: Expr
    limit: int
    upper: int
    scale: int = 1
    divide: int = 1


@dataclass(frozen=True, slots=True)
class Breach:
    """A place where an audit measured more than nought."""

    place: str
    measure: int


@dataclass(frozen=True, slots=True)
class Audit:
    """What an audit of one rule found.

    Attributes:
        checked: places examined.
        breaches: those with a measure above nought.
        sides: where groups are weighed against each other, what was counted of each.
    """

    checked: int
    breaches: tuple[Breach, ...]
    sides: tuple[Side, ...] = ()

    @property
    def measure(self) -> int:
        """All breaches together."""
        return sum(b.measure for b in self.breaches)


@dataclass(frozen=True, slots=True)
class AuditDay:
    """One session of one kit version as an audit sees it.

    Attributes:
        day: which.
        lines: of all its pieces.
        shape: of the conditioning, the first piece of that kind; None where there is none.
        rating: expected.
        clock_minutes: of the class.
        window_tenths: least and most tenths of a second of one round.
        turning_tenths: of a second, from line to line in one round, ways to what comes once left out.
    """

    day: Day
    lines: tuple[PlannedLine, ...]
    shape: Shape | None
    rating: int
    clock_minutes: int
    window_tenths: tuple[int, int]
    turning_tenths: int = 0

    @property
    def index(self) -> int:
        """Days since Monday."""
        return DAYS.index(self.day)


@dataclass(frozen=True, slots=True)
class PastLine:
    """A line of an earlier week; ``facts`` is None where the catalogue no longer has the movement."""

    movement: str
    facts: LineFacts | None


@dataclass(frozen=True, slots=True)
class PastSession:
    """A session of an earlier week.

    Attributes:
        days_ago: days before this week's Monday; 1 is the Sunday before.
        weeks_ago: 1 for last week.
        lines: of the gym floor.
        shape_format: format of the conditioning.
        domain: its time domain.
        scheme: of the main lift.
        rating: that was expected of it.
    """

    days_ago: int
    weeks_ago: int
    lines: tuple[PastLine, ...]
    shape_format: str
    domain: str
    scheme: str
    rating: int = 0

    def had(self, where: Where) -> bool:
        """Whether it is meant, or any of its lines is, by all that is known of it."""
        if where.about_sessions:
            asked = ((where.format, self.shape_format), (where.domain, self.domain))
            return bool(self.shape_format) and all(not names or was in names for names, was in asked)
        return any(x.facts is not None and where.matches(x.facts) for x in self.lines)


@dataclass(frozen=True, slots=True)
class Facts:
    """What rules may ask about the gym and the past.

    Attributes:
        days: open days in order.
        class_size: athletes, on the day with the most.
        class_minutes: length of a class.
        counts: how many of each item the gym has.
        bounded: items that are counted at all; space that the gym has is not.
        past: sessions of earlier weeks, newest first.
        item_names: for words: plural by id.
        class_sizes: athletes by day, where it is another number than ``class_size``.
        masses: how many the gym has of each mass of what is counted by mass.
    """

    days: tuple[Day, ...]
    class_size: int
    class_minutes: int
    counts: dict[str, int]
    bounded: frozenset[str]
    past: tuple[PastSession, ...]
    item_names: dict[str, str]
    class_sizes: dict[Day, int] = field(default_factory=dict)
    masses: dict[Held, int] = field(default_factory=dict)

    def held(self, item: Held) -> int:
        """How many the gym has of an item, at its mass where it is counted so."""
        return self.masses.get(item, 0) if item[1] is not None else self.counts.get(item[0], 0)

    def class_on(self, day: Day) -> int:
        """Athletes on a day."""
        return self.class_sizes.get(day, self.class_size)


@dataclass(frozen=True, slots=True)
class Amount:
    """Something that is counted, as the model knows it: exactly, or between two bounds.

    A rule presses what is asked for at most on ``least``, and at least on ``most``: while doses are still
    open it is then never stricter than it will be once they are known.

    Attributes:
        least: it is no less.
        most: it is no more; the same expression where the amount is known exactly.
        upper: the most that there can be.
    """

    least: Expr
    most: Expr
    upper: int

    @classmethod
    def exactly(cls, expr: Expr, upper: int) -> Amount:
        """An amount that the model knows exactly."""
        return cls(expr, expr, upper)


@dataclass(frozen=True, slots=True)
class TurnWork:
    """What the lines of a turn take of a day's conditioning; in tenths of a second.

    Attributes:
        lines: each with its literal and the least and the most that it may take, by all who take turns at it;
            nought where it is not there.
        walking: from one to the next, at most.
        idle: 1 where the piece is of another kind, and nothing here says anything.
        people: of whom one works at a time.
        heats: of the class.
        rounds: rounds that the tenths are counted over, at most; a breach is measured in seconds of one.
        upper: a bound on the sum of all lines.
        spans: tenths of each line at its least and its most, in the same order, while doses are open; empty
            where they are not.
        window: so long all lines take at least, and with the ways at most, where a piece keeps to its time.
    """

    lines: tuple[tuple[LineFacts, Expr, Expr, Expr], ...]
    walking: Expr
    idle: Expr
    people: int
    heats: int
    rounds: int
    upper: int
    spans: tuple[tuple[int, int], ...] = ()
    window: tuple[int, int] = (0, 0)


@dataclass(frozen=True, slots=True)
class PieceTime:
    """How long the conditioning of a day takes, and how long it may; in tenths of a second.

    Attributes:
        takes: a round's work and transitions, or all rounds' where doses are still open.
        shortest, longest: of the chosen shape.
        upper: a bound on all of them.
        rounds: rounds that the tenths are counted over, at most; a breach is measured in seconds of one.
    """

    takes: Amount
    shortest: Expr
    longest: Expr
    upper: int
    rounds: int = 1


class View(Protocol):
    """What a rule may ask the model for, one kit version at a time. Days are the open days."""

    def literal(self, day: Day, where: Where) -> Expr:
        """1 where any line matches on that day, or where the session matches."""

    def lines(self, day: Day, where: Where) -> Amount:
        """How many lines match on that day."""

    def units(self, day: Day, where: Where, kind: Literal["units", "contacts", "sets"]) -> Amount:
        """Units, landing contacts or sets of the matching lines over the day."""

    def items(self, day: Day, where: Where, kind: Literal["implements", "large"]) -> Amount:
        """How many distinct loads in the hands (implement and class), or large stations, the lines need."""

    def matching(self, day: Day, where: Where) -> list[tuple[LineFacts, Expr]]:
        """Each matching line and its literal."""

    def shapes(self, day: Day) -> list[tuple[Shape, Expr]]:
        """Each shape and its literal."""

    def clock(self, day: Day, *, one_heat: bool = False) -> tuple[Expr, int]:
        """Minutes of the class (of an athlete's part where it runs in heats), and the most there can be."""

    def rating(self, day: Day) -> tuple[Expr, int]:
        """Expected rating of the session, and the most there can be."""

    def paces(self, day: Day) -> list[PieceTime]:
        """The time of the conditioning; one for each kind of shape while doses are still open."""

    def turns(self, day: Day) -> list[TurnWork]:
        """The turns of the conditioning, where people go on from line to line; one for each kind of shape."""

    def any_of(self, literals: list[Expr], name: str) -> Expr:
        """1 where any literal is."""

    def all_of(self, literals: list[Expr], name: str) -> Expr:
        """1 where all literals are."""


class Rule(Value, ABC):
    """One entry of a rule file.

    Attributes:
        id: stable name.
        kind: which kind.
        must: true where the measure has to be nought.
        weight: points for each unit of breach; 0 with ``must: false`` means that it is only reported.
        because: the coach's reason.
        source: publication, ``common practice``, or empty.
        versions: ``floor`` or ``all`` kit versions.
        off: true to switch it off.
    """

    id: str = Field(pattern=r"^[a-z0-9][a-z0-9-]*$")
    kind: str
    must: bool = False
    weight: int = Field(0, ge=0, le=1000)
    because: str = Field(min_length=8)
    source: str = ""
    versions: Scope = "floor"
    off: bool = False

    unit: ClassVar[str] = "times"
    _shipped: bool = PrivateAttr(default=False)

    @property
    def shipped(self) -> bool:
        """Whether it is as it came with the program: no coach has written or changed it."""
        return self._shipped

    def as_shipped(self, *, shipped: bool) -> Self:
        """The same rule as one that came with the program, or as a coach's own."""
        made = self.model_copy()
        made._shipped = shipped  # noqa: SLF001  (its own)
        return made

    @property
    def standing(self) -> int:
        """What it weighs against others where a gym cannot keep all: what only asks for something least."""
        return 10

    @model_validator(mode="after")
    def _must_or_weight(self) -> Rule:
        if self.must and self.weight:
            raise ValueError("a rule has `must: true` or a `weight`, not both")
        return self

    @property
    def level(self) -> Level:
        """Must, weight or watch."""
        if self.must:
            return "must"
        return "weight" if self.weight else "watch"

    @property
    def stage(self) -> Stage:
        """What has to be decided before the rule can be measured."""
        return "lines"

    @property
    def forbids(self) -> bool:
        """Whether it only forbids: a week that breaks it still does when lines or days are added to it."""
        return False

    @property
    def day_by_day(self) -> bool:
        """Whether it measures each day by itself, and all days alike."""
        return False

    @property
    def on_time(self) -> bool:
        """Whether it measures nothing but the predicted time of the conditioning, day by day."""
        return False

    @property
    def on_conditioning(self) -> bool:
        """Whether it measures nothing but the conditioning, day by day."""
        return self.on_time

    @abstractmethod
    def encode(self, view: View, facts: Facts) -> Iterator[Term]:
        """The rule as terms of the model; exact: each term's measure is what the audit measures."""

    @abstractmethod
    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:
        """The rule in plain Python over a finished week of one kit version."""

    @abstractmethod
    def statement(self) -> str:
        """The rule in one sentence."""

    def unit_words(self) -> str:
        """What a breach is counted in."""
        return self.unit

    def sentence(self, place: str, measure: int) -> str:
        """A breach in one sentence."""
        return f"{place_words(place)}: {measure} {self.unit_words()} outside what the rule allows."

    @abstractmethod
    def remedy(self) -> str:
        """What would mend a breach."""

    def selectors(self) -> tuple[Where, ...]:
        """Every selector of the rule, to check that it matches something."""
        return ()


def place_words(place: str) -> str:
    """A place as said aloud: "Monday", "Monday to Wednesday", "The week: squat"."""
    head, _, tail = place.partition(":")
    days = {str(day): name for day, name in DAY_NAMES.items()}
    names = [days.get(part, part) for part in head.split("-")]
    spoken_head = " to ".join(names) if len(names) > 1 else names[0]
    if spoken_head == "week":
        spoken_head = "Over the week"
    return f"{spoken_head}: {tail.strip().replace('_', ' ')}" if tail else spoken_head


def audit_of(places: list[tuple[str, int]]) -> Audit:
    """An audit from every place examined and its measure; several measures of one place add up."""
    totals: dict[str, int] = {}
    for place, measure in places:
        totals[place] = totals.get(place, 0) + measure
    return Audit(len(totals), tuple(Breach(p, m) for p, m in totals.items() if m > 0))
