"""Musts that came with the program and that a gym cannot keep: the least of them, and the least breach of it.

The draft's own model, asked two questions. Which guards have to be off: as few as can be, those of musts that
only ask for something first; nothing that is so by nature while anything else would do. Then how little of
those musts need be broken: they cost a point for each unit, and nothing else costs any. Where a filling shows
that a choice of guards was not enough, the next one is asked for.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.domain.plan import Plan
from planner.problem.problem import NO_REQUESTS, Problem
from planner.solve.model.master import ASIDE, build_master, set_range, switch
from planner.solve.model.view import total
from planner.solve.search.draft import Drafted, finish
from planner.solve.search.solver import Budget, solve_layer

MOST_TRIED = 12
"""Choices of guards that are filled before it is left open."""


@dataclass(frozen=True, slots=True)
class NotHere:
    """What a gym cannot keep.

    Attributes:
        rules: ids.
        plan: a week that breaks them as little as could be found, and keeps all else.
        fewest: whether it is proved that no lighter choice of musts would do.
    """

    rules: tuple[str, ...]
    plan: Plan
    fewest: bool


def not_here(problem: Problem, seconds: float) -> NotHere | None:
    """The least that a gym cannot keep of what came with the program; None where that is nothing, or unknown.

    Args:
        problem: for which there is no week; what the coach asked for is left out of the question.
        seconds: deterministic budget of each search for a week.
    """
    bare = replace(
        problem, requests=NO_REQUESTS, base=None, stay_near=False, insisted=(), loosened=frozenset()
    )
    spare = {rule.id: rule.standing for rule in bare.rules if rule.must and rule.shipped}
    master = build_master(bare)
    switch(master, (name for name in master.guards if name != ASIDE))
    for name in spare:
        set_range(master.model, master.guards[name], 0, 1)
    given = total(points * (1 - master.guards[name]) for name, points in spare.items())
    fewest = True
    for _ in range(MOST_TRIED):
        answer = solve_layer(master.model, given, Budget(seconds, problem.seed))
        if not answer.values:
            return None
        fewest = fewest and answer.status == "proved"
        off = tuple(name for name in spare if not answer.values[master.guards[name].index])
        found = _least_broken(bare, off, seconds)
        if found.plan is not None:
            return NotHere(off, found.plan, fewest) if off else None
        fewest = fewest and found.impossible
        others = [~master.guards[name] for name in spare if name not in off]
        master.model.add_bool_or(others)
    return None


def _least_broken(problem: Problem, off: tuple[str, ...], seconds: float) -> Drafted:
    """A week that breaks these musts by the fewest units and keeps all others."""
    eased = tuple(
        rule.model_copy(update={"must": False, "weight": 1}) if rule.id in off else rule
        for rule in problem.rules
        if rule.must
    )
    master = build_master(replace(problem, rules=eased))
    master.layers = {"rules": master.layers["rules"]}
    return finish(master, seconds)
