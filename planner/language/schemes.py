"""Which of the catalogue's schemes a coach has written, where she has written one."""

from __future__ import annotations

from planner.domain.catalogue import Goal, Movement, Scheme
from planner.domain.sets import Sets, WorkSet
from planner.language.vocabulary import Vocabulary


def scheme_said(
    sets: Sets, movement: Movement, kind: str, vocabulary: Vocabulary, *, loaded: bool
) -> str | None:
    """The scheme that sets across are, where nothing is said that it does not say.

    Args:
        sets: as written.
        movement: the first of the lift.
        kind: strength or skill.
        vocabulary: schemes in the catalogue's order; the first that fits is taken.
        loaded: whether a load, a tier or a start is said.

    Returns:
        Its id; None where the sets are the coach's own.
    """
    goals: tuple[Goal, ...] = ("skill",) if kind == "skill" else movement.goals or ("assistance",)
    if loaded:
        return None
    return next((s.id for s in vocabulary.schemes.values() if s.goal in goals and _is(sets, s)), None)


def _is(sets: Sets, scheme: Scheme) -> bool:
    plain = Sets(sets=(WorkSet(reps=scheme.reps),) * scheme.sets, unit=scheme.unit, rest_s=sets.rest_s)
    return scheme.across and sets == plain and sets.rest_s in {None, scheme.rest_s}
