"""Other lines for the days that could not be filled, all other days held as they are: a small question."""

from __future__ import annotations

from collections.abc import Sequence

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.problem.problem import Problem
from planner.rules.base import Expr
from planner.solve.model.master import Master
from planner.solve.model.view import weighted
from planner.solve.search.solver import Budget, LayerAnswer, solve_layer
from planner.solve.search.week_in_hand import hold_other_days

REPAIR_BUDGET = 1.0


def other_lines(
    problem: Problem, master: Master, values: tuple[int, ...], days: Sequence[Day], base: cp_model.CpModel
) -> LayerAnswer:
    """A week with other lines on some days; of all such lines those that suit most times.

    Args:
        problem: with the requirements that count.
        master: that ``values`` solve.
        values: the week in hand.
        days: that may change.
        base: the master's model, with guards and ceilings as they are to be; it stays as it is.
    """
    model = base.clone()
    hold_other_days(model, master, values, days)
    return solve_layer(
        model, _stiffness(problem, master, days), Budget(REPAIR_BUDGET, problem.seed), effort="search"
    )


def _stiffness(problem: Problem, master: Master, days: Sequence[Day]) -> Expr:
    """Least where lines can stretch most: doses that reach far up and down fit almost any time."""
    pairs = []
    for day in days:
        if day in problem.options.given:
            continue
        reaches = {c.facts: reach for c, reach in problem.options.conditioning_on(day)}
        for x in master.view.days[day].piece("conditioning"):
            spans = reaches[x.facts].tenths.values()
            pairs.append((x.literal, -(sum(high - low for low, high in spans) // max(1, len(spans)))))
    return weighted(pairs)
