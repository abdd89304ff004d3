"""The first stage's model through another solver: the same rows, the same optimum."""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.solve.model.master import build_master
from planner.solve.model.view import value_of, weighted
from planner.solve.search.solver import Budget, solve_layer
from tests.rules.solving import Floor, all_solutions
from tests.solve.demo import demo_problem
from tests.solve.random_problems import random_problem
from tests.solve.second_solver import Translation

pytestmark = pytest.mark.slow

SECONDS = 60.0
MIDDLING: tuple[tuple[int, tuple[Day, ...]], ...] = (
    (45, ("mon", "wed", "fri")),
    (50, ("mon", "tue", "wed", "sat")),
)


@pytest.mark.parametrize("layer", ["rules", "stand-ins"])
@pytest.mark.parametrize(("about", "days"), MIDDLING, ids=["45-movements-3-days", "50-movements-4-days"])
def test_both_solvers_prove_the_same_optimum(about: int, days: tuple[Day, ...], layer: str) -> None:
    master = build_master(demo_problem(about, days))
    ours = solve_layer(master.model, master.layers[layer], Budget(SECONDS, 1))
    assert ours.status == "proved"

    translation = Translation(master.model, master.layers[layer])
    status, objective, values = translation.solve(SECONDS)

    assert (status, objective) == ("Optimal", ours.objective)
    assert fits(master.model, values), "its week is one of ours"
    assert all(holds(row, ours.values) for row in translation.rows), "and ours is one of its own"


@pytest.mark.parametrize("number", range(8))
def test_tiny_models_translate_without_loss(number: int) -> None:
    """Every solution keeps every row, and the best by rows is the best of all solutions."""
    problem, dice = random_problem(number, late=False), random.Random(number)
    floor = Floor.of(problem, *(r for r in problem.rules if r.must and r.stage == "lines"))
    solutions = all_solutions(floor.model)
    pairs = [(x.literal, dice.randint(-9, 9)) for v in floor.view.days.values() for x in v.lines]
    objective = weighted(pairs)
    translation = Translation(floor.model, objective)

    status, best, values = translation.solve(SECONDS)

    if not solutions:
        assert status == "Infeasible"
        return
    assert all(holds(row, s) for row in translation.rows for s in solutions[:200])
    assert status == "Optimal"
    assert fits(floor.model, values)
    assert best == min(value_of(objective, s) for s in solutions)


def holds(row: tuple[float, float, dict[int, int]], values: tuple[int, ...]) -> bool:
    low, high, terms = row
    return low <= sum(c * values[i] for i, c in terms.items()) <= high


def fits(model: cp_model.CpModel, values: list[int]) -> bool:
    """Whether a whole assignment is a solution."""
    fixed = model.clone()
    fixed.clear_objective()
    for index, value in enumerate(values):
        fixed.add(fixed.get_int_var_from_proto_index(index) == value)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.solve(fixed) == cp_model.OPTIMAL
