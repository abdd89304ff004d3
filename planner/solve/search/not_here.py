"""Musts that came with the program and that a gym cannot keep: the least of them, and the least breach of it.

The draft's own model, asked two questions. Which guards have to be off: as few as can be, those of musts that
only ask for something first; nothing that is so by nature while anything else would do. Then how little of
those musts need be broken: they cost a point for each unit, and nothing else costs any. Where a filling shows
that a choice of guards was not enough, the next one is asked for.

Several choices can be as light, and a coach may have fixed what goes with one of them and not with another:
that one is taken which leaves most of what she asked for in force. It is never heavier, nor is more broken,
than if she had asked for nothing: no shipped must gives way for what she asks.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.domain.plan import Plan
from planner.domain.requests import Requests
from planner.problem.problem import Problem
from planner.problem.requirements import without
from planner.solve.model.master import ASIDE, build_master, set_range, switch
from planner.solve.model.view import total
from planner.solve.search.draft import Drafted, finish
from planner.solve.search.solver import Budget, solve_layer

MOST_TRIED, MOST_WORK = 12, 10.0
"""Choices of guards that are filled before it is left open; and deterministic seconds that it may all take,
or as many as one search where that is given more."""
LEAST_WORK = 0.3
"""A search for a week that has been begun may take so much."""
ASKED = ("lock", "ban", "wish")
"""Kinds of requirements that a coach asked for this week."""


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
        problem: for which there is no week.
        seconds: deterministic budget of each search for a week.
    """
    asked = replace(problem, stay_near=False, loosened=frozenset())
    overruled = Requests(overrules=problem.requests.overrules)
    bare = replace(asked, requests=overruled, base=None, insisted=())
    master = build_master(asked)
    switch(master, (name for name in master.guards if name != ASIDE))
    spare = {rule.id: rule.standing for rule in problem.rules if rule.must and rule.shipped}
    wanted = {r.id: r.cost for r in master.requirements if r.kind in ASKED}
    for name in (*spare, *wanted):
        set_range(master.model, master.guards[name], 0, 1)
    heavy = sum(wanted.values()) + 1
    prices = {name: points * heavy for name, points in spare.items()} | wanted
    given = total(points * (1 - master.guards[name]) for name, points in prices.items())
    fewest, found, left = True, None, max(seconds, MOST_WORK)
    for _ in range(MOST_TRIED):
        if left <= 0:
            break
        answer = solve_layer(master.model, given, Budget(min(seconds, left), problem.seed))
        left -= answer.deterministic
        if not answer.values or (found and answer.objective // heavy > sum(spare[r] for r in found.rules)):
            break
        fewest = fewest and answer.status == "proved"
        off = [name for name in prices if not answer.values[master.guards[name].index]]
        musts = tuple(name for name in off if name in spare)
        alone = _least_broken(bare, musts, min(seconds, max(left, LEAST_WORK)))
        left -= alone.work
        if alone.plan is None:
            fewest = fewest and alone.impossible
            master.model.add_bool_or([~master.guards[name] for name in spare if name not in musts])
            continue
        if not musts:
            return None
        found = found or NotHere(musts, alone.plan, fewest)
        if not wanted:
            break
        waiting = without(asked, [name for name in off if name in wanted])
        beside = _least_broken(waiting, musts, min(seconds, max(left, LEAST_WORK)))
        left -= beside.work
        if beside.plan is not None and _broken(beside) <= _broken(alone):
            return NotHere(musts, beside.plan, found.fewest)
        master.model.add_bool_or([~master.guards[name] for name in prices if name not in off])
    return found


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


def _broken(found: Drafted) -> int:
    """Units of breach in all."""
    return found.proof.tiers[0].objective if found.proof else 0
