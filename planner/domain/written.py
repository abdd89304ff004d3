"""A session as a coach writes it on a board: names and numbers, nothing worked out from them.

This is the value that the text form, YAML and JSON are read into and written from. What follows from it
(predicted times, loads, the other kit versions) is worked out elsewhere.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import AfterValidator, Discriminator, Field, Tag, model_validator

from planner.domain.base import Id, Value
from planner.domain.catalogue import Clock, Sharing, Spot, Tier
from planner.domain.characters import unprintable
from planner.domain.flow import Flow
from planner.domain.gym import Day
from planner.domain.sets import ComplexPart, Kg, Number, Sets


def _one_line(text: str) -> str:
    """The text with single spaces and no line's end, as it stands on a board."""
    if strange := unprintable(text := " ".join(text.split())):
        raise ValueError(f"there is an unprintable character here ({strange})")
    return text


Note = Annotated[str, Field(max_length=300), AfterValidator(_one_line)]
SPOTS: tuple[Spot, ...] = ("opening", "turn", "after_each", "closing")
Result = Literal["time", "rounds", "load", "metres", "calories", "slowest", "sum"]
Start = Literal["rack", "floor"]
Seconds = Annotated[int, Field(ge=1, le=7200)]


class Composition(Value):
    """How a conditioning piece runs.

    Attributes:
        clock: what ends it, or starts each part of it.
        seconds: with ``fixed`` its length; with ``work_rest`` the work of each turn.
        rest_s: with ``work_rest`` the rest after each turn, else the rest between rounds; seconds.
        every_s: with ``every`` the time from one start to the next, seconds.
        by_movement: with ``every`` and ``work_rest``: each slot holds one movement, the next slot the next;
            otherwise it holds a whole round.
        rest_slots: with ``by_movement`` which slots of a round are for rest, counted from 1.
        rounds: how many; with ``by_movement`` how often all movements are gone through; None where the
            clock or the athlete decides.
        ladder: the number of every turn line in each round (21-15-9); empty where each line says its own.
        grows: numbers grow by so many each round, without end, from the first of ``ladder``.
        people: who does it together: 1, 2 or 3.
        sharing: how they share it.
        flow: how the class runs it, where that is said.
        cap_s: time cap in seconds, where it is for time.
        result: what is written down; None for what is usual with the clock.
    """

    clock: Clock
    seconds: Seconds | None = None
    rest_s: int = Field(0, ge=0, le=1800)
    every_s: Seconds | None = None
    by_movement: bool = False
    rest_slots: tuple[Annotated[int, Field(ge=1, le=40)], ...] = ()
    rounds: Annotated[int, Field(ge=1, le=100)] | None = None
    ladder: tuple[Number, ...] = ()
    grows: Annotated[int, Field(ge=1, le=100)] | None = None
    people: int = Field(1, ge=1, le=3)
    sharing: Sharing = "alone"
    flow: Flow | None = None
    cap_s: Seconds | None = None
    result: Result | None = None

    @model_validator(mode="after")
    def _hangs_together(self) -> Composition:
        if (self.clock == "every") != (self.every_s is not None):
            raise ValueError("a start every so many seconds needs the seconds, and only that")
        if (self.clock in {"fixed", "work_rest"}) != (self.seconds is not None):
            raise ValueError("a fixed length, and work and rest in turn, need the seconds, and only they")
        if (self.people == 1) != (self.sharing == "alone"):
            raise ValueError("pairs and threes share in some way, and nobody else does")
        if self.grows is not None and len(self.ladder) != 1:
            raise ValueError("numbers that grow start from one number")
        if self.cap_s is not None and self.clock not in {"for_time", "as_long"}:
            raise ValueError("only what the clock does not end has a time cap")
        if self.rest_slots and (not self.by_movement or self.clock not in {"every", "work_rest"}):
            raise ValueError("only where each movement has a time of its own one can be for rest")
        if any(b <= a for a, b in pairwise(self.rest_slots)):
            raise ValueError("the times for rest are named once each, in order")
        return self


class WrittenLine(Value):
    """A line of a conditioning piece.

    Attributes:
        movement: id.
        spot: where it comes.
        dose: in the movement's unit, each time it comes; None where ``numbers`` or the ladder say it, or
            where it is as many as one can (in a slot).
        most_s: as many as one can in so many seconds; then there is no dose.
        numbers: its own number in each round, where they differ from round to round.
        tier: how heavy, where that is said and no load is.
        kg: what a man and a woman lift, where that is said.
        start: from the rack or from the floor, where that is said.
        note: anything else, as written.
    """

    movement: Id
    spot: Spot = "turn"
    dose: Number | None = None
    numbers: tuple[Number, ...] = ()
    most_s: Seconds | None = None
    tier: Tier | None = None
    kg: tuple[Kg, Kg] | None = None
    start: Start | None = None
    note: Note = ""

    @model_validator(mode="after")
    def _one_way(self) -> WrittenLine:
        if self.dose is not None and self.numbers:
            raise ValueError("a line has one number, or one for each round, not both")
        if self.most_s and (self.dose is not None or self.numbers):
            raise ValueError("as many as one can in a time has no number")
        return self


class WrittenLift(Value):
    """A lift with its sets.

    Attributes:
        parts: one movement; several are a complex, done in turn without putting the bar down.
        sets: the work sets; one of a complex's reps is all its parts in turn.
        scheme: id of the catalogue's scheme that it is, where it is one.
        kg: what a man and a woman lift on every set, where that is said.
        tier: how heavy, where that alone is said.
        start: from the rack or from the floor, where that is said.
        note: anything else, as written.
    """

    parts: tuple[ComplexPart, ...] = Field(min_length=1, max_length=6)
    sets: Sets
    scheme: Id | None = None
    kg: tuple[Kg, Kg] | None = None
    tier: Tier | None = None
    start: Start | None = None
    note: Note = ""


class WrittenStrength(Value):
    """A strength or a skill piece.

    Attributes:
        kind: which.
        lifts: one, or two.
        paired: whether two are done in turn, set by set.
        note: as written.
    """

    kind: Literal["strength", "skill"] = "strength"
    lifts: tuple[WrittenLift, ...] = Field(min_length=1, max_length=4)
    paired: bool = False
    note: Note = ""

    @model_validator(mode="after")
    def _practice_is_skill(self) -> WrittenStrength:
        if self.kind != "skill" and any(lift.sets.practice_s for lift in self.lifts):
            raise ValueError("practice without sets is a piece of skill")
        return self


class WrittenConditioning(Value):
    """A conditioning piece or a finisher.

    Attributes:
        kind: which.
        composition: how it runs.
        lines: in the order of doing within each spot.
        note: as written.
    """

    kind: Literal["conditioning", "finisher"] = "conditioning"
    composition: Composition
    lines: tuple[WrittenLine, ...] = Field(min_length=1, max_length=20)
    note: Note = ""

    @model_validator(mode="after")
    def _rests_between(self) -> WrittenConditioning:
        slots = sum(x.spot == "turn" for x in self.lines) + len(self.composition.rest_slots)
        if self.composition.rest_slots and self.composition.rest_slots[-1] > slots:
            raise ValueError(f"a round has {slots} times, and none later can be for rest")
        return self


class WrittenDrills(Value):
    """A warm-up or a cool-down.

    Attributes:
        kind: which.
        minutes: how long, where that is said.
        drills: a line each, as written.
        note: anything else, as written.
    """

    kind: Literal["warm_up", "cool_down"]
    minutes: Annotated[int, Field(ge=1, le=60)] | None = None
    drills: tuple[Annotated[Note, Field(min_length=1, max_length=200)], ...] = ()
    note: Note = ""


def _what_it_is(piece: object) -> str:
    """Which piece is meant, so that what is wrong with it is said of that one alone."""
    said = piece if isinstance(piece, dict) else {"kind": getattr(piece, "kind", "")}
    if said.get("kind") in {"warm_up", "cool_down"} or "drills" in said:
        return "(drills)"
    return "(lifts)" if said.get("kind") in {"strength", "skill"} or "lifts" in said else "(lines)"


WrittenPiece = Annotated[
    Annotated[WrittenStrength, Tag("(lifts)")]
    | Annotated[WrittenConditioning, Tag("(lines)")]
    | Annotated[WrittenDrills, Tag("(drills)")],
    Discriminator(_what_it_is),
]


class WrittenSession(Value):
    """A day.

    Attributes:
        day: of the week.
        pieces: in the order of doing, for the gym floor.
        versions: by kit id: a version that the coach wrote too; its pieces stand for the gym floor's.
        notes: for the day, as written.
    """

    day: Day
    pieces: tuple[WrittenPiece, ...] = ()
    versions: dict[Id, tuple[WrittenPiece, ...]] = Field(default_factory=dict)
    notes: tuple[Annotated[Note, Field(min_length=1)], ...] = ()
