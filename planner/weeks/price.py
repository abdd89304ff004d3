"""What the binding rules cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.audit.audit import audit_plan, total_cost
from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.week import RuleResult, Week
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.rules.limit import Limit
from planner.weeks.keeping import asked_about
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store


class Price(Value):
    """A rule that binds.

    Attributes:
        rule: its id.
        statement: the rule.
        measure: its breach now; 0 for a must that holds just so.
        saves: points that one unit of relaxing it saves.
    """

    rule: str
    statement: str
    measure: int
    saves: int


def price(
    setting: Setting, week: Week, *, seconds: float = 4.0, progress: Progress = quiet
) -> tuple[Price, ...]:
    """Rules that bind, and what relaxing each by one unit buys, the dearest first.

    A weighted rule that gives way saves its weight. For a must the week is solved again with the rule broken
    by one unit in one place: what the weighted rules then cost less is what it costs now. Where the weighted
    rules cost nothing, no must does.

    Args:
        setting: gym, catalogue, rules, past.
        week: the week.
        seconds: deterministic budget of each solve; where it does not suffice, a price is at least so much.
        progress: called with a label and a fraction done.
    """
    problem = setting.problem(seed=week.proof.seed)
    results = audit_plan(problem, plan_of(week))
    prices = [
        Price(rule=r.id, statement=r.statement, measure=r.measure, saves=r.weight)
        for r in results
        if r.level == "weight" and r.measure
    ]
    cost = total_cost(results)
    if cost:
        prices += _prices_of_musts(problem, plan_of(week), cost, seconds, progress)
    return tuple(sorted(prices, key=lambda p: (-p.saves, p.rule)))


def price_kept(
    store: Store,
    setting: Setting,
    *,
    candidate: str | None = None,
    seconds: float = 4.0,
    progress: Progress = quiet,
) -> tuple[Price, ...]:
    """The rules that bind in a candidate, and what relaxing each by one unit buys, the dearest first."""
    here, of = asked_about(store, setting, candidate)
    return price(here, of.week, seconds=seconds, progress=progress)


def _prices_of_musts(
    problem: Problem, plan: Plan, cost: int, seconds: float, progress: Progress
) -> Iterator[Price]:
    from planner.solve.search import at_once

    musts = [r for r in problem.rules if r.must and r.stage == "lines" and _is_tight(problem, plan, r)]
    costs = at_once(lambda rule: _cost_with(problem, rule, seconds), musts)
    for i, (rule, less) in enumerate(zip(musts, costs, strict=True)):
        progress(rule.statement(), i / len(musts))
        if less < cost:
            yield Price(rule=rule.id, statement=rule.statement(), measure=0, saves=cost - less)


def _is_tight(problem: Problem, plan: Plan, rule: Rule) -> bool:
    """Whether a must has no room left: made one stricter, this week would break it."""
    if not isinstance(rule, Limit):
        return True
    stricter = {
        "at_most": rule.at_most - 1 if rule.at_most is not None else None,
        "at_least": rule.at_least + 1 if rule.at_least is not None else None,
    }
    probe = rule.model_copy(update=stricter)
    results: tuple[RuleResult, ...] = audit_plan(replace(problem, rules=(probe,)), plan)
    return any(r.measure for r in results if r.id == rule.id)


def _cost_with(problem: Problem, loosened: Rule, seconds: float) -> int:
    """The least that the weighted rules can cost with one must loosened."""
    from planner.solve.climb import NoWeek, climb
    from planner.solve.master import NO_CEILING, build_master
    from planner.solve.view import value_of

    master = build_master(problem, loosened.id)
    rules_layer = master.layers["rules"]
    master.layers = {"rules": rules_layer}
    found = climb(master, problem.seed, seconds, quiet)
    return NO_CEILING if isinstance(found, NoWeek) else value_of(rules_layer, found.values)
