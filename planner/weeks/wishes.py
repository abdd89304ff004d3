"""Which wishes a week does not meet."""

from __future__ import annotations

from collections.abc import Iterable

from planner.domain.groups import patterns_of
from planner.domain.requests import Wish
from planner.domain.week import Session, Week


def unmet(week: Week, wishes: Iterable[Wish]) -> tuple[Wish, ...]:
    """Returns the wishes that a week does not meet, in their order."""

    def met(wish: Wish) -> bool:
        return any(_meets(session, wish) for session in week.sessions if wish.day in (None, session.day))

    return tuple(wish for wish in wishes if not met(wish))


def _meets(session: Session, wish: Wish) -> bool:
    if wish.hardness:
        return session.hardness == wish.hardness
    if wish.pattern:
        return any(session.patterns.get(pattern) for pattern in patterns_of(wish.pattern))
    floors = (next(iter(piece.versions.values())) for piece in session.pieces if piece.versions)
    return any(line.movement == wish.movement for floor in floors for line in floor.lines)
