"""What differs between two plans: pieces, and lines, on the gym floor."""

from __future__ import annotations

from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.plan import Plan, SessionPlan, VersionPlan


class PieceChange(Value):
    """A piece that is not what it was.

    Attributes:
        day: of the week.
        piece: strength or conditioning.
        before: line ids of the old one, or empty where the day is new.
        after: of the new one, or empty where the day is gone.
        shape_changed: whether the conditioning runs another way.
        gone: lines that are not there any more.
        new: lines that were not there.
    """

    day: Day
    piece: str
    before: tuple[str, ...]
    after: tuple[str, ...]
    shape_changed: bool
    gone: tuple[str, ...]
    new: tuple[str, ...]


def plan_changes(before: Plan, after: Plan) -> tuple[PieceChange, ...]:
    """Every piece that differs on the gym floor, in day order; the floor is each session's first version."""
    old = {s.day: s for s in before.sessions}
    new = {s.day: s for s in after.sessions}
    out = []
    for day in sorted({*old, *new}, key=("mon", "tue", "wed", "thu", "fri", "sat", "sun").index):
        for piece in ("strength", "conditioning"):
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
