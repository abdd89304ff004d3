"""The differences between two plans: pieces on the gym floor, and stand-ins in the other kit versions."""

from __future__ import annotations

from collections.abc import Iterable

from planner.domain.base import Value
from planner.domain.difference import difference
from planner.domain.gym import Day
from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine
from planner.domain.requests import PIECES


class PieceChange(Value):
    """A piece that changed on the gym floor.

    Attributes:
        day: of the week.
        piece: strength or conditioning.
        gone: lines that were removed: a movement with its scheme, or its dose and load.
        new: lines that were added.
    """

    day: Day
    piece: str
    gone: tuple[str, ...]
    new: tuple[str, ...]


class VersionChange(PieceChange):
    """A piece that is unchanged on the gym floor but has other movements in another kit version.

    Attributes:
        kit: id of the kit version.
    """

    kit: str


def plan_changes(before: Plan, after: Plan) -> tuple[PieceChange, ...]:
    """Every piece that differs on the gym floor, in day order; the floor is each session's first version."""
    out = []
    for day in difference(before, after).parts["sessions"]:
        a, b = (next(iter(side.versions.values())) if side else None for side in (day.a, day.b))
        for piece in PIECES:
            apart = [line for line in difference(a, b).parts[piece] if not line.same]
            if apart or (piece == "conditioning" and _runs(day.a) != _runs(day.b)):
                gone, new = (
                    tuple(_said(x) for x in side if x)
                    for side in ([x.a for x in apart], [x.b for x in apart])
                )
                out.append(PieceChange(day=day.known.day, piece=piece, gone=gone, new=new))
    return tuple(out)


def _runs(session: SessionPlan | None) -> list[object]:
    """How the pieces with a clock run."""
    return [(p.kind, p.shape, p.composition) for p in session.running] if session else []


def version_changes(before: Plan, after: Plan, changes: Iterable[PieceChange]) -> tuple[VersionChange, ...]:
    """Changed stand-ins for pieces that are unchanged on the floor, for instance after a ban or a lost item.

    Args:
        before: the old plan.
        after: the new one.
        changes: pieces that differ on the floor, as ``plan_changes`` has them.
    """
    out, differing = [], {(change.day, change.piece) for change in changes}
    for day in difference(before, after).parts["sessions"]:
        if day.a is None or day.b is None:
            continue
        kits = [kit for kit in day.b.versions if kit in day.a.versions][1:]
        for piece in PIECES:
            for kit in kits if (day.key, piece) not in differing else ():
                lines = difference(day.a.versions[kit], day.b.versions[kit]).parts[piece]
                gone, new = (tuple(x.key for x in lines if getattr(x, side) is None) for side in "ba")
                if gone or new:
                    out.append(VersionChange(day=day.known.day, piece=piece, kit=kit, gone=gone, new=new))
    return tuple(out)


def _said(line: StrengthLine | ConditioningLine) -> str:
    if isinstance(line, StrengthLine):
        return f"{line.movement} {line.scheme}{' beside' if line.assistance else ''}"
    return f"{line.movement} {line.tier} {line.dose}"
