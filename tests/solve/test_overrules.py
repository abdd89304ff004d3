"""A rule overruled where it binds: the draft is the best week of those in which it does not count there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from planner.audit.audit import audit_plan, broken_musts, total_cost
from planner.domain.requests import Overrule, Requests
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.solve.search.draft import draft_plan
from tests import oracle
from tests.solve.random_problems import random_problem

pytestmark = pytest.mark.slow

NUMBERS = range(8)
SECONDS = 5.0
Week = tuple[oracle.Written, ...]


def breaches(problem: Problem, rule: Rule, week: Week) -> Iterator[tuple[str, int]]:
    """Places and measures of a rule in every version that it speaks of."""
    kits = problem.gym.kits if rule.versions == "all" else problem.gym.kits[:1]
    for kit in kits:
        found = rule.audit(tuple(w.audited[kit.id] for w in week), problem.facts)
        yield from ((b.place, b.measure) for b in found.breaches)


def points(problem: Problem, week: Week, overruled: set[tuple[str, str]]) -> int | None:
    """What weighted rules cost elsewhere than where they are overruled; None where a must is broken there."""
    total = 0
    for rule in problem.rules:
        left = sum(n for place, n in breaches(problem, rule, week) if (rule.id, place) not in overruled)
        if left and rule.must:
            return None
        total += left * rule.weight
    return total


def best(problem: Problem, overruled: set[tuple[str, str]]) -> int | None:
    """The fewest points of all weeks; None where the musts leave none."""
    weeks = product(*(oracle.sessions(problem, day) for day in problem.gym.days))
    return min((p for w in weeks if (p := points(problem, w, overruled)) is not None), default=None)


@cache
def binding(number: int) -> tuple[Problem, set[tuple[str, str]], int | None, int | None]:
    """A random problem, a place where overruling a rule helps most, and the best without and with that.

    Of the places in which the first weeks break something, the one that leaves the best week the cheapest.
    """
    problem = random_problem(number, late=False)
    plain, seen = best(problem, set()), dict[tuple[str, str], None]()
    for week in list(product(*(oracle.sessions(problem, day)[:4] for day in problem.gym.days)))[:20]:
        seen |= {(r.id, place): None for r in problem.rules for place, _ in breaches(problem, r, week)}
    tried = [({key}, best(problem, {key})) for key in list(seen)[:6]]
    found = [(overruled, cost) for overruled, cost in tried if cost is not None]
    overruled, cost = min(found, key=lambda x: (x[1], sorted(x[0])), default=(set(), plain))
    return problem, overruled, plain, cost


@pytest.mark.parametrize("number", NUMBERS)
def test_the_draft_is_the_best_week_where_one_place_does_not_count(number: int) -> None:
    problem, overruled, _, cost = binding(number)
    if not overruled:
        return
    said = tuple(Overrule(rule=r, place=p, reason="it is meant so") for r, p in sorted(overruled))
    asked = replace(problem, requests=Requests(overrules=said))

    drafted = draft_plan(asked, SECONDS)

    assert drafted.plan is not None
    assert drafted.proof is not None
    rules = drafted.proof.tiers[0]
    results = audit_plan(asked, drafted.plan)
    assert (rules.objective, rules.bound, rules.status) == (cost, cost, "proved")
    assert total_cost(results) == cost
    assert not broken_musts(results)


def test_most_of_those_overrules_bind() -> None:
    """Where the best week is the same without, an overrule shows nothing."""
    helped = [n for n in NUMBERS if binding(n)[1] and binding(n)[2] != binding(n)[3]]
    assert len(helped) >= 2
