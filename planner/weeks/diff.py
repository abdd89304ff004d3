"""The differences between two plans on the gym floor: pieces and lines."""

from __future__ import annotations

from collections.abc import Iterable

from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.plan import Plan, SessionPlan, VersionPlan
from planner.domain.requests import PIECES


class PieceChange(Value):
    """A piece that changed.

    Attributes:
        day: of the week.
        piece: strength or conditioning.
        before: line ids of the old one, or empty where the day is new.
        after: of the new one, or empty where the day is gone.
        shape_changed: whether the conditioning runs another way.
        gone: lines that were removed.
        new: lines that were added.
    """

    day: Day
    piece: str
    before: tuple[str, ...]
    after: tuple[str, ...]
    shape_changed: bool
    gone: tuple[str, ...]
    new: tuple[str, ...]


class VersionChange(Value):
    """A piece that is unchanged on the gym floor but changed in another kit version.

    Attributes:
        day: of the week.
        piece: strength or conditioning.
        kit: id of the kit version.
        gone: movements that were removed.
        new: movements that were added.
    """

    day: Day
    piece: str
    kit: str
    gone: tuple[str, ...]
    new: tuple[str, ...]


def version_changes(before: Plan, after: Plan, changes: Iterable[PieceChange]) -> tuple[VersionChange, ...]:
    """Changed stand-ins for pieces that are unchanged on the floor, for instance after a ban or a lost item.

    Args:
        before: the old plan.
        after: the new one.
        changes: pieces that differ on the floor, as ``plan_changes`` has them.
    """
    differing = {(c.day, c.piece) for c in changes}
    old, out = {s.day: s for s in before.sessions}, []
    for session in after.sessions:
        was = old.get(session.day)
        for piece in PIECES:
            if was is None or (session.day, piece) in differing:
                continue
            for kit in list(session.versions)[1:]:
                if kit not in was.versions:
                    continue
                then = [x.movement for x in getattr(was.versions[kit], piece)]
                now = [x.movement for x in getattr(session.versions[kit], piece)]
                if set(then) != set(now):
                    gone, new = [m for m in then if m not in now], [m for m in now if m not in then]
                    change = VersionChange(
                        day=session.day, piece=piece, kit=kit, gone=tuple(gone), new=tuple(new)
                    )
                    out.append(change)
    return tuple(out)


def plan_changes(before: Plan, after: Plan) -> tuple[PieceChange, ...]:
    """Every piece that differs on the gym floor (each session's first version), in day order."""
    old = {s.day: s for s in before.sessions}
    new = {s.day: s for s in after.sessions}
    out = []
    for day in sorted({*old, *new}, key=("mon", "tue", "wed", "thu", "fri", "sat", "sun").index):
        for piece in PIECES:
            a, b = piece_lines(old.get(day), piece), piece_lines(new.get(day), piece)
            shape = piece == "conditioning" and _shape(old.get(day)) != _shape(new.get(day))
            if set(a) != set(b) or shape:
                gone = tuple(x for x in a if x not in b)
                fresh = tuple(x for x in b if x not in a)
                out.append(
                    PieceChange(
                        day=day, piece=piece, before=a, after=b, shape_changed=shape, gone=gone, new=fresh
                    )
                )
    return tuple(out)


def piece_lines(session: SessionPlan | None, piece: str) -> tuple[str, ...]:
    """Movements of a piece on the gym floor, each with its scheme, or tier and dose."""
    if session is None:
        return ()
    floor: VersionPlan = next(iter(session.versions.values()))
    if piece == "strength":
        return tuple(f"{x.movement} {x.scheme}{' beside' if x.assistance else ''}" for x in floor.strength)
    return tuple(f"{x.movement} {x.tier} {x.dose}" for x in floor.conditioning)


def _shape(session: SessionPlan | None) -> str:
    return session.shape if session else ""
