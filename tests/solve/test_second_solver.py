"""The first stage's model through another solver: the same rows, the same optimum."""

from __future__ import annotations

import pytest
from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.solve.master import build_master as _master
from planner.solve.search import Budget, solve_layer
from tests.rules.solving import all_solutions
from tests.solve.demo import demo_problem
from tests.solve.random_problems import random_problem
from tests.solve.second_solver import Translation

SECONDS = 30.0
MIDDLING: tuple[tuple[int, tuple[Day, ...]], ...] = (
    (45, ("mon", "wed", "fri")),
    (60, ("mon", "tue", "wed", "sat")),
)


@pytest.mark.parametrize("layer", ["rules", "stand-ins"])
@pytest.mark.parametrize(("about", "days"), MIDDLING, ids=["45-movements-3-days", "60-movements-4-days"])
def test_both_solvers_prove_the_same_optimum(about: int, days: tuple[Day, ...], layer: str) -> None:
    master = _master(demo_problem(about, days))
    ours = solve_layer(master.model, master.layers[layer], Budget(SECONDS, 1))
    assert ours.status == "proved"

    translation = Translation(master.model, master.layers[layer])
    status, objective, values = translation.solve(SECONDS)

    assert (status, objective) == ("Optimal", ours.objective)
    assert fits(master.model, values), "its week is one of ours"
    assert all(holds(row, ours.values) for row in translation.rows), "and ours is one of its own"


@pytest.mark.parametrize("number", range(8))
def test_tiny_models_translate_without_loss(number: int) -> None:
    """Every solution keeps every row, and the best by rows is a solution."""
    master = _master(random_problem(number, late=False))
    solutions = all_solutions(only_true_slacks(master))
    translation = Translation(master.model, master.layers["rules"])
    status, objective, values = translation.solve(SECONDS)

    if not solutions:
        assert status == "Infeasible"
        return
    assert all(holds(row, s) for row in translation.rows for s in solutions[:300])
    assert status == "Optimal"
    assert fits(master.model, values)
    assert objective == solve_layer(master.model, master.layers["rules"], Budget(SECONDS, 1)).objective


def only_true_slacks(master) -> cp_model.CpModel:
    """The model with every slack at nought or at its top, so that its solutions can be listed."""
    model = master.model.clone()
    for t in master.priced:
        slack = model.get_int_var_from_proto_index(t.slack.index)
        top = model.proto.variables[t.slack.index].domain[-1]
        model.add_linear_expression_in_domain(slack, cp_model.Domain.from_values([0, top]))
    return model


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
