"""A starved solver: however little time it gets, a week is proved best if and only if it is the best."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import product
from typing import Any

import pytest
from ortools.sat.python import cp_model

from planner.domain.progress import quiet
from planner.errors import SolverFault
from planner.problem.problem import Problem
from planner.rules.base import Expr
from planner.solve.model.master import Master, build_master
from planner.solve.model.view import total, value_of, weighted
from planner.solve.search import lexicographic as climbing
from planner.solve.search import solver
from planner.solve.search.draft import draft_plan
from planner.solve.search.lexicographic import NoWeek, Reached, bounds_that_hold, solve_layers
from planner.solve.search.solver import Budget, LayerAnswer, solve_layer, verdict
from tests import oracle
from tests.rules.universe import rule, universe
from tests.solve.demo import Day, demo_problem
from tests.solve.random_problems import random_problem

pytestmark = pytest.mark.slow

PROBLEMS = range(16)
STARVED = (0.0, 0.0005, 0.002)
"""Deterministic seconds: from none at all to less than such a week takes."""
SMALL: tuple[int, tuple[Day, ...]] = (45, ("mon", "wed", "fri"))


@cache
def best_of(number: int) -> oracle.Best | None:
    return oracle.best_week(random_problem(number, late=False))


# One layer ----------------------------------------------------------------------------------------------


def a_cover(number: int) -> tuple[cp_model.CpModel, Expr, int]:
    """A small covering problem, its objective, and its optimum by trying everything."""
    dice = random.Random(number)
    model = cp_model.CpModel()
    x = [model.new_bool_var(f"x{i}") for i in range(11)]
    prices = [dice.randint(1, 9) for _ in x]
    rows = [dice.sample(range(len(x)), 4) for _ in range(16)]
    for row in rows:
        model.add(total(x[i] for i in row) >= 2)
    best = min(
        sum(p * v for p, v in zip(prices, values, strict=True))
        for values in product((0, 1), repeat=len(x))
        if all(sum(values[i] for i in row) >= 2 for row in rows)
    )
    return model, weighted(list(zip(x, prices, strict=True))), best


def test_one_layer_is_proved_if_and_only_if_its_value_is_its_bound_and_brute_force_agrees() -> None:
    seen: Counter[str] = Counter()
    for number in range(24):
        model, objective, best = a_cover(number)
        for work in (0.0, 1e-5, 1e-4):
            answer = solve_layer(model, objective, Budget(work, 1))
            seen[answer.status] += 1
            assert answer.status != "impossible"
            assert bool(answer.values) == (answer.status != "undecided")
            if answer.values:
                assert value_of(objective, answer.values) == answer.objective
                assert answer.bound <= best <= answer.objective
                assert (answer.status == "proved") == (answer.objective == answer.bound)

    assert min(seen[s] for s in ("proved", "not proved", "undecided")) >= 5, f"this shows little: {seen}"


def test_a_bound_that_is_known_is_a_proof_only_where_it_is_met() -> None:
    for number in range(6):
        model, objective, best = a_cover(number)
        told = solve_layer(model, objective, Budget(1.0, 1), bound=best)
        loose = solve_layer(model, objective, Budget(5e-4, 1), bound=best - 1)

        assert (told.status, told.objective, told.bound) == ("proved", best, best)
        assert loose.status == "undecided" or loose.bound in {best - 1, best}
        assert solve_layer(model, objective, Budget(1.0, 1)).objective == best, "and it is forgotten after"


def test_a_bound_above_what_was_reached_is_a_fault_and_no_proof() -> None:
    assert verdict(7, 7) == "proved"
    assert verdict(7, 6) == "not proved"
    with pytest.raises(SolverFault, match="none below 8"):
        verdict(7, 8)


@pytest.mark.parametrize("off", [1.0, -1.0, 0.4])
def test_a_solver_that_contradicts_itself_is_not_believed(
    monkeypatch: pytest.MonkeyPatch, off: float
) -> None:
    class Off(cp_model.CpSolver):
        @property
        def best_objective_bound(self) -> float:
            return float(super().best_objective_bound) + off

    model, objective, _ = a_cover(1)
    monkeypatch.setattr(solver.cp_model, "CpSolver", Off)

    with pytest.raises(SolverFault, match="please report"):
        solve_layer(model, objective, Budget(1.0, 1))


@pytest.mark.parametrize("claimed", [cp_model.FEASIBLE, cp_model.OPTIMAL])
def test_a_gap_is_never_called_proved(monkeypatch: pytest.MonkeyPatch, claimed: int) -> None:
    """Whatever the solver calls an answer, its two numbers decide."""

    class Unsure(cp_model.CpSolver):
        def solve(self, *given: Any) -> Any:
            super().solve(*given)
            return claimed

        @property
        def best_objective_bound(self) -> float:
            return float(super().best_objective_bound) - 1

    model, objective, best = a_cover(1)
    monkeypatch.setattr(solver.cp_model, "CpSolver", Unsure)

    if claimed == cp_model.OPTIMAL:
        with pytest.raises(SolverFault, match="please report"):
            solve_layer(model, objective, Budget(1.0, 1))
        return
    answer = solve_layer(model, objective, Budget(1.0, 1))
    assert (answer.status, answer.objective, answer.bound) == ("not proved", best, best - 1)


def test_the_wall_clock_stop_is_said_and_the_end_of_the_budget_is_not_called_so() -> None:
    master = build_master(demo_problem(*SMALL, kits=1))
    rules = master.layers["rules"]

    assert solve_layer(master.model, rules, Budget(10.0, 1, wall_s=0.0)).walled
    assert not solve_layer(master.model, rules, Budget(0.001, 1)).walled
    assert not solve_layer(master.model, None, Budget(10.0, 1)).walled


# All layers ---------------------------------------------------------------------------------------------


def climbed(number: int, work: float, known: dict[str, LayerAnswer] | None = None) -> tuple[Master, Any]:
    problem = random_problem(number, late=False)
    master = build_master(problem)
    return master, solve_layers(master, problem.seed, work, quiet, known)


def starved() -> Iterator[tuple[int, Master, Reached]]:
    for number in PROBLEMS:
        for work in STARVED:
            master, found = climbed(number, work)
            if isinstance(found, NoWeek):
                assert not (found.certain and best_of(number)), f"{number}: there is a week"
            else:
                yield number, master, found


def test_every_layer_is_proved_if_and_only_if_its_value_is_its_bound_and_brute_force_agrees() -> None:
    seen: Counter[str] = Counter()
    for number, master, found in starved():
        best, rules = best_of(number), found.answers["rules"]
        if best is not None:
            # The first stage is what lines alone decide; doses and stand-ins can add to it.
            assert rules.bound <= best.rules
            if rules.objective >= best.rules:
                assert found.answers["stand-ins"].bound <= best.stand_ins
        for name, layer in master.layers.items():
            answer = found.answers[name]
            seen[answer.status] += 1
            assert (answer.status == "proved") == (answer.objective == answer.bound)
            assert answer.bound <= answer.objective
            assert value_of(layer, found.values) <= answer.objective, "no later layer makes one worse"

    assert min(seen["proved"], seen["not proved"]) >= 10, f"this shows little: {seen}"


def test_a_starved_draft_says_no_more_than_brute_force() -> None:
    for number in PROBLEMS[::2]:
        problem, best = random_problem(number, late=False), best_of(number)
        drafted = draft_plan(problem, 0.002)
        if drafted.proof is None or best is None:
            assert not (drafted.impossible and best)
            continue
        for tier in drafted.proof.tiers:
            assert (tier.status == "proved") == (tier.objective == tier.bound)
        assert drafted.proof.tiers[0].bound <= best.rules <= drafted.proof.tiers[0].objective


def test_only_weeks_that_the_model_allows_are_hints(monkeypatch: pytest.MonkeyPatch) -> None:
    """A hint to a model without a solution can make the solver abort the process."""
    hints = 0

    def watched(
        model: cp_model.CpModel,
        objective: Expr | None,
        budget: Budget,
        hint: Any = (),
        *rest: Any,
        **more: Any,
    ) -> LayerAnswer:
        nonlocal hints
        if hint:
            hints += 1
            fixed = model.clone()
            fixed.clear_objective()
            fixed.clear_hints()
            for index, value in enumerate(hint):
                fixed.add(fixed.get_int_var_from_proto_index(index) == value)
            solver = cp_model.CpSolver()
            solver.parameters.num_workers = 1
            assert solver.solve(fixed) == cp_model.OPTIMAL
        return solve_layer(model, objective, budget, hint, *rest, **more)

    monkeypatch.setattr(climbing, "solve_layer", watched)
    for number in PROBLEMS:
        for work in (0.0, 1.0):
            climbed(number, work)

    assert hints >= 5


# Bounds from an earlier climb ---------------------------------------------------------------------------


def answer(objective: int, bound: int) -> LayerAnswer:
    return LayerAnswer(verdict(objective, bound), objective, bound, (), 0.0, 0.0)


def test_a_bound_holds_among_weeks_at_least_as_good_in_the_layers_before_it() -> None:
    answers = {"rules": answer(4, 2), "stand-ins": answer(7, 7), "wishes": answer(3, 3)}

    as_good = bounds_that_hold(answers, {"rules": 4, "stand-ins": 7, "wishes": 3})
    worse_stand_ins = bounds_that_hold(answers, {"rules": 4, "stand-ins": 8, "wishes": 1})
    worse_rules = bounds_that_hold(answers, {"rules": 5, "stand-ins": 0, "wishes": 0})

    assert as_good == {"rules": 2, "stand-ins": 7, "wishes": 3}
    assert worse_stand_ins == {"rules": 2, "stand-ins": 7}
    assert worse_rules == {"rules": 2}


def a_week_and_its_price() -> tuple[Problem, Reached]:
    """No squats as main lifts, at a point each; and what a climb reaches."""
    wish = rule(
        kind="limit",
        where={"piece": "main", "movement": "squat"},
        count="days",
        per="week",
        at_most=0,
        weight=1,
    )
    problem = universe((wish,))
    found = solve_layers(build_master(problem), 1, 1.0, quiet)
    assert isinstance(found, Reached)
    return problem, found


def test_bounds_of_an_earlier_climb_go_where_a_layer_before_them_got_worse() -> None:
    problem, found = a_week_and_its_price()
    known = {**found.answers, "stand-ins": answer(100_000, 100_000)}
    master = build_master(problem)
    mains = [x for v in master.view.days.values() for x in v.piece("main")]
    squats = [x.literal for x in mains if x.facts.movement.id == "squat"]
    master.model.add(total(squats) > found.answers["rules"].objective)

    again = solve_layers(master, 1, 1.0, quiet, known)

    assert isinstance(again, Reached)
    assert again.answers["rules"].objective > found.answers["rules"].objective
    assert again.answers["stand-ins"].bound <= again.answers["stand-ins"].objective < 100_000


def test_a_bound_of_an_earlier_climb_that_is_wrong_is_a_fault() -> None:
    problem, found = a_week_and_its_price()
    known = {**found.answers, "stand-ins": answer(100_000, 100_000)}

    with pytest.raises(SolverFault, match="none below 100000"):
        solve_layers(build_master(problem), 1, 1.0, quiet, known)
