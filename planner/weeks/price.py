"""What the rules that bind cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.audit.audit import audit_plan, total_cost
from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.progress import Progress, quiet
from planner.domain.week import Week
from planner.problem.problem import Problem
from planner.weeks.keeping import asked_about
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store


class Price(Value):
    """A rule that binds.

    Attributes:
        rule: its id.
        statement: the rule.
        measure: its breach now; 0 for a must that only just holds.
        saves: points saved by relaxing it by one unit.
    """

    rule: str
    statement: str
    measure: int
    saves: int


def price(
    setting: Setting, week: Week, *, seconds: float = 4.0, progress: Progress = quiet
) -> tuple[Price, ...]:
    """Lists the rules that bind and what relaxing each by one unit saves, the most expensive first.

    A weighted rule that gives way saves its weight. For musts the week is solved again with each of some
    broken by one unit in one place, first all of them, then halves of those that save anything: a group that
    saves nothing has no member that does. Where the weighted rules cost nothing, no must does.

    Args:
        setting: gym, catalogue, rules, past.
        week: the week.
        seconds: deterministic budget of each solve; if it is too short, a price is a lower bound.
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
        prices += _prices_of_musts(problem, cost, seconds, progress)
    return tuple(sorted(prices, key=lambda p: (-p.saves, p.rule)))


def price_kept(
    store: Store,
    setting: Setting,
    *,
    candidate: str | None = None,
    seconds: float = 4.0,
    progress: Progress = quiet,
) -> tuple[Price, ...]:
    """The same for a candidate that is kept."""
    here, of = asked_about(store, setting, candidate)
    return price(here, of.week, seconds=seconds, progress=progress)


def _prices_of_musts(problem: Problem, cost: int, seconds: float, progress: Progress) -> Iterator[Price]:
    """Musts that save something against the least that the rules can cost as they are."""
    from planner.solve.search.draft import least_points

    musts = [r for r in problem.rules if r.must]
    progress("The least that the rules can cost", 0.0)
    least = min(cost, least_points(problem, seconds)[1])
    waiting, done = [musts], 0
    while waiting:
        group = waiting.pop()
        progress(f"Without {len(group)} of {len(musts)} musts", done / len(musts))
        loosened = replace(problem, loosened=frozenset(r.id for r in group))
        saves = least - least_points(loosened, seconds)[0]
        if saves <= 0 or len(group) == 1:
            done += len(group)
        if saves > 0 and len(group) == 1:
            yield Price(rule=group[0].id, statement=group[0].statement(), measure=0, saves=saves)
        elif saves > 0:
            half = len(group) // 2
            waiting += [group[half:], group[:half]]
