"""What a solver, or a coach with a pencil, decides: ids and numbers only, nothing drawn from them."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from planner.domain.base import Value
from planner.domain.catalogue import Catalogue, Scheme, Spot, Tier
from planner.domain.difference import Compared
from planner.domain.flow import Flow
from planner.domain.gym import Day
from planner.domain.sets import Kg, Number
from planner.domain.written import Composition, Start, WrittenDrills

PlannedKind = Literal["skill", "strength", "conditioning", "finisher"]
"""Pieces that are decided; warm-up and cool-down follow from them."""
LIFTING: tuple[PlannedKind, ...] = ("skill", "strength")
RUNNING: tuple[PlannedKind, ...] = ("conditioning", "finisher")

OWN = "own_"
"""How the id of a scheme begins that is not in the catalogue: it comes with its line."""


class StrengthLine(Value):
    """A movement under a scheme.

    Attributes:
        movement: id.
        scheme: id.
        assistance: whether it is done beside the main lift.
        own: the scheme itself, where the catalogue has none like it.
        kg: what a man and a woman lift on every set, where the coach named it.
        tier: how heavy, where the coach named it.
        start: from the rack or from the floor, where the coach named it.
        paired: whether it is done in turn, set by set, with the line before it.
        note: as the coach wrote it.
    """

    movement: str
    scheme: str
    assistance: bool = False
    own: Scheme | None = None
    kg: tuple[Kg, Kg] | None = None
    tier: Tier | None = None
    start: Start | None = None
    paired: bool = False
    note: str = ""


def scheme_of_line(line: StrengthLine, catalogue: Catalogue) -> Scheme | None:
    """A line's scheme: its own, else the catalogue's; None where that has none of the name."""
    return line.own or catalogue.schemes.get(line.scheme)


class ConditioningLine(Value):
    """A movement with its dose.

    Attributes:
        movement: id.
        dose: in the movement's unit, each time it comes; where it has a number of its own for each round
            (in a ladder or in ``numbers``), their sum.
        tier: how heavy.
        spot: where in the piece it comes.
        numbers: its own number in each round, where they are not the ladder's.
        kg: what a man and a woman lift, where the coach said so.
        start: from the rack or from the floor, where the coach said so.
        open: as many as one can in the slot; the dose is what a typical athlete gets.
        most_s: seconds that there are for it, where that is said and is not the slot.
        note: as the coach wrote it.
    """

    movement: str
    dose: int
    tier: Tier
    spot: Spot = "turn"
    numbers: tuple[Number, ...] = ()
    kg: tuple[float, float] | None = None
    start: Start | None = None
    open: bool = False
    most_s: int | None = None
    note: str = ""


PlanLine = StrengthLine | ConditioningLine


class VersionPlan(Value):
    """A day's lines for one kit version, all pieces together; line i stands for line i of the gym floor.

    Attributes:
        strength: main lift first, then assistance.
        conditioning: in the order in which they are done.
    """

    strength: Annotated[tuple[StrengthLine, ...], Compared(by="movement")]
    conditioning: Annotated[tuple[ConditioningLine, ...], Compared(by="movement")]


class PiecePlan(Value):
    """One piece of a day.

    Attributes:
        kind: which.
        shape: id of the catalogue's shape, where a conditioning piece runs as one of these.
        composition: how it runs, where it does not.
        paired: whether two lifts are done in turn, set by set.
        flow: how the class runs a catalogue's shape, where that is decided; a composition says its own.
        versions: lines by kit id, the gym floor first.
        note: as the coach wrote it.
    """

    kind: PlannedKind
    shape: str = ""
    composition: Composition | None = None
    paired: bool = False
    flow: Flow | None = None
    versions: dict[str, tuple[PlanLine, ...]]
    note: str = ""

    @model_validator(mode="after")
    def _hangs_together(self) -> PiecePlan:
        runs = self.kind in RUNNING
        if runs != bool(self.shape or self.composition) or (self.shape and self.composition):
            raise ValueError("a conditioning piece runs as a shape or has a composition of its own")
        if any(isinstance(x, ConditioningLine) != runs for lines in self.versions.values() for x in lines):
            raise ValueError(f"a {self.kind} piece has lines of another kind")
        if self.flow and not self.shape:
            raise ValueError("a flow goes with a shape; a composition says its own")
        return self

    @property
    def lifts(self) -> bool:
        """Whether it has sets and reps; otherwise it has a clock."""
        return self.kind in LIFTING

    @property
    def said_flow(self) -> Flow | None:
        """How the class runs it, where that is said; else it follows from the counts."""
        return self.composition.flow if self.composition else self.flow


class SessionPlan(Value):
    """One day.

    Attributes:
        day: of the week.
        pieces: in the order in which they are done.
        notes: as the coach wrote them.
        drills: a warm-up or a cool-down that she wrote, in the place of those that follow from the day.
    """

    day: Day
    pieces: tuple[PiecePlan, ...]
    notes: tuple[Annotated[str, Field(min_length=1)], ...] = ()
    drills: tuple[WrittenDrills, ...] = ()

    @model_validator(mode="before")
    @classmethod
    def _as_written_before(cls, data: Any) -> Any:
        """Plans of before have one strength and one conditioning piece: a shape, and lines by kit."""
        if not isinstance(data, dict) or "versions" not in data:
            return data
        given = {k: v if isinstance(v, dict) else dict(v) for k, v in data["versions"].items()}
        by_kind = {
            kind: {kit: tuple(version[kind]) for kit, version in given.items()}
            for kind in ("strength", "conditioning")
        }
        pieces = [
            {"kind": kind, "versions": lines} | ({"shape": data["shape"]} if kind == "conditioning" else {})
            for kind, lines in by_kind.items()
            if any(lines.values())
        ]
        return {"day": data.get("day"), "pieces": pieces}

    def piece(self, kind: PlannedKind) -> PiecePlan | None:
        """The first piece of a kind."""
        return next((p for p in self.pieces if p.kind == kind), None)

    @cached_property
    def versions(self) -> dict[str, VersionPlan]:
        """All lines of a day, by kit id; only versions that every piece has."""
        kits = tuple(self.pieces[0].versions) if self.pieces else ()
        lines = {
            kit: [x for p in self.pieces for x in p.versions[kit]]
            for kit in kits
            if all(kit in p.versions for p in self.pieces)
        }
        return {
            kit: VersionPlan(
                strength=tuple(x for x in mine if isinstance(x, StrengthLine)),
                conditioning=tuple(x for x in mine if isinstance(x, ConditioningLine)),
            )
            for kit, mine in lines.items()
        }

    @property
    def own(self) -> bool:
        """Whether it has what no draft comes to: another list of pieces, or a composition of its own."""
        kinds = tuple(p.kind for p in self.pieces)
        return kinds != ("strength", "conditioning") or any(p.composition for p in self.pieces)

    def holds(self, written: SessionPlan) -> bool:
        """Whether it is a session as the coach wrote it, whatever other versions there are by now."""

        def said(session: SessionPlan) -> list[PiecePlan]:
            kept = {k for p in written.pieces for k in p.versions}
            return [
                p.model_copy(update={"versions": {k: x for k, x in p.versions.items() if k in kept}})
                for p in session.pieces
            ]

        return said(self) == said(written)

    @property
    def running(self) -> tuple[PiecePlan, ...]:
        """Pieces with a clock, in order."""
        return tuple(p for p in self.pieces if not p.lifts)

    @property
    def shape(self) -> str:
        """Id of the shape of the conditioning; empty where there is none or it has its own composition."""
        piece = self.piece("conditioning")
        return piece.shape if piece else ""


class Plan(Value):
    """A whole week, as decided.

    Attributes:
        week: ISO week, ``2026-W49``.
        sessions: in day order.
    """

    week: str
    sessions: Annotated[tuple[SessionPlan, ...], Compared(by="day")]
