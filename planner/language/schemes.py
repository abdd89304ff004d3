"""Which of the catalogue's schemes a coach has written, where she has written one."""

from __future__ import annotations

from planner.domain.catalogue import Goal, Movement, Scheme
from planner.domain.sets import Sets, WorkSet
from planner.language.vocabulary import Vocabulary

SLOW_S = 5
"""A rep of a scheme that takes longer is slow on purpose: a coach who means that says so."""


def scheme_said(
    sets: Sets, movement: Movement, kind: str, vocabulary: Vocabulary, *, loaded: bool
) -> str | None:
    """The scheme that sets are, where they say nothing that it does not say.

    Args:
        sets: as written.
        movement: the first of the lift.
        kind: strength or skill.
        vocabulary: schemes in the catalogue's order; the first that fits is taken.
        loaded: whether a load, a tier or a start is said.

    Returns:
        Its id: one for such a movement, or any other that says the very same; None where the sets are the
        coach's own.
    """
    if loaded:
        return None
    goals: tuple[Goal, ...] = ("skill",) if kind == "skill" else movement.goals or ("assistance",)
    schemes = [scheme for scheme in vocabulary.schemes.values() if not scheme.parts]
    fitting = (s.id for s in schemes if s.goal in goals and s.seconds_per_rep <= SLOW_S and _fits(sets, s))
    return next(fitting, None) or next((s.id for s in schemes if s.work == sets), None)


def bare(scheme: Scheme) -> Sets:
    """The sets of a scheme as one says them who leaves its loads and rests to it."""
    sets = tuple(WorkSet(reps=one.reps, least=one.least) for one in scheme.work.sets)
    return scheme.work.model_copy(update={"sets": sets, "rest_s": None})


def _fits(sets: Sets, scheme: Scheme) -> bool:
    said = sets.model_copy(
        update={"sets": tuple(WorkSet(reps=one.reps, least=one.least) for one in sets.sets), "rest_s": None}
    )
    pairs = zip(sets.sets, scheme.work.sets, strict=False)
    return (
        said == bare(scheme)
        and sets.rest_s in {None, scheme.work.rest_s}
        and all(_set_fits(one, known) for one, known in pairs)
    )


def _set_fits(said: WorkSet, known: WorkSet) -> bool:
    return said == known.model_copy(update={key: None for key, x in said.model_dump().items() if x is None})
