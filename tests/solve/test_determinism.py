"""The same inputs give the same week, statuses mean what they say, and no lower layer buys a higher one."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from ortools.sat.python import cp_model

from planner.audit.audit import audit_plan, broken_musts, total_cost
from planner.errors import SolverFault
from planner.solve.model.master import build_master, set_ceiling
from planner.solve.model.view import value_of
from planner.solve.search.draft import draft_plan
from planner.solve.search.solver import Budget, solve_layer
from tests.rules.solving import least
from tests.rules.universe import catalogue, gym, rule, universe
from tests.solve.demo import demo_problem
from tests.weeks import small

ROOT = Path(__file__).parents[2]
SMALL = (45, ("mon", "wed", "fri"))


def drafted_apart(seed: int, hash_seed: str) -> str:
    """What another process prints, whose sets of words come in another order."""
    env = {**os.environ, "PYTHONHASHSEED": hash_seed}
    done = subprocess.run(
        [sys.executable, "-m", "tests.solve.draft_a_small_week", str(seed)],
        cwd=ROOT,
        env=env,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_same_inputs_and_seed_give_the_same_week_to_the_byte() -> None:
    """This process has a hash seed of its own, drawn by chance."""
    assert drafted_apart(1, "4711") == f"{small.week(1).model_dump_json()}\n"


def test_what_a_digest_is_made_from_has_no_order_by_chance() -> None:
    """A set has another order in another process; a list has the same in all."""
    problem = small.setting().problem()
    waiting: list[Any] = [problem.catalogue.model_dump(), problem.gym.model_dump()]
    waiting += [r.model_dump() for r in problem.rules]
    while waiting:
        node = waiting.pop()
        assert not isinstance(node, (set, frozenset)), node
        if isinstance(node, dict):
            waiting += node.values()
        elif isinstance(node, (list, tuple)):
            waiting += node


def test_another_seed_still_gives_a_week_as_good() -> None:
    first, second = (draft_plan(demo_problem(*SMALL, seed=seed, kits=1), 0.5) for seed in (1, 2))

    assert first.proof is not None
    assert second.proof is not None
    a, b = first.proof.tiers[0], second.proof.tiers[0]
    assert a.bound <= b.objective
    assert b.bound <= a.objective


def test_steps_of_a_draft_follow_one_another_and_do_not_overlap() -> None:
    took = draft_plan(universe(()), 2.0).timings

    assert sum(took[step] for step in ("build", "lines", "versions")) == pytest.approx(
        took["total"], rel=0.05
    )


# Statuses -----------------------------------------------------------------------------------------------


def a_model() -> tuple[cp_model.CpModel, cp_model.IntVar]:
    model = cp_model.CpModel()
    return model, model.new_int_var(2, 9, "x")


def test_a_proved_best_has_its_bound() -> None:
    model, x = a_model()

    answer = solve_layer(model, x, Budget(1, 1))

    assert (answer.status, answer.objective, answer.bound, answer.values) == ("proved", 2, 2, (2,))


def test_no_week_at_all_is_impossible_and_not_undecided() -> None:
    model, x = a_model()
    model.add(x >= 10)

    answer = solve_layer(model, None, Budget(1, 1))

    assert (answer.status, answer.values) == ("impossible", ())


def test_no_time_is_undecided_and_not_impossible() -> None:
    master = build_master(demo_problem(*SMALL, kits=1))

    answer = solve_layer(master.model, master.layers["rules"], Budget(0.0, 1))

    assert answer.status == "undecided"
    assert answer.values == ()


def test_an_invalid_model_is_a_fault_of_ours() -> None:
    model, _ = a_model()
    model.proto.variables[0].domain.append(1)

    with pytest.raises(SolverFault, match="invalid"):
        solve_layer(model, None, Budget(1, 1))


def test_an_impossible_week_is_said_to_be_impossible() -> None:
    musts = (
        rule(id="a", kind="limit", where={"load": "heavy"}, count="days", per="week", at_least=2, must=True),
        rule(id="b", kind="spacing", where={"load": "heavy"}, hours=48, must=True),
    )

    drafted = draft_plan(universe(musts), 2.0)

    assert drafted.impossible
    assert drafted.plan is None
    assert not draft_plan(universe(musts[:1]), 2.0).impossible


# Canaries for the solver --------------------------------------------------------------------------------


@pytest.mark.parametrize("there", [True, False])
@pytest.mark.parametrize("kind", ["linear_at_least", "linear_at_most", "linear_equal", "implication", "or"])
def test_what_is_enforced_holds_only_where_its_literal_does(kind: str, *, there: bool) -> None:
    """Old versions of the solver ignored ``only_enforce_if`` on some kinds; each kind in use, both ways."""
    model = cp_model.CpModel()
    x, y = model.new_int_var(0, 9, "x"), model.new_bool_var("y")
    on = model.new_bool_var("on")
    if kind == "linear_at_least":
        model.add(x >= 5).only_enforce_if(on)
        broken = x <= 4
    elif kind == "linear_at_most":
        model.add(x <= 4).only_enforce_if(on)
        broken = x >= 5
    elif kind == "linear_equal":
        model.add(x == 3 + y).only_enforce_if(on)
        broken = x >= 5
    elif kind == "implication":
        model.add_implication(on, y)
        broken = y == 0
    else:
        model.add_bool_or([y, ~on])
        broken = y == 0
    model.add(broken)
    model.add(on == int(there))

    assert (least(model) is None) == there


# Layers -------------------------------------------------------------------------------------------------


@pytest.mark.slow
def test_no_lower_layer_buys_a_higher_one() -> None:
    """Stand-ins would be cheaper with another week, but not at the price of a point of a rule."""
    master = build_master(demo_problem(*SMALL))
    best = {name: solve_layer(master.model, layer, Budget(30, 1)) for name, layer in master.layers.items()}
    assert all(a.status == "proved" for a in best.values())

    reached = []
    for name, layer in master.layers.items():
        answer = solve_layer(master.model, layer, Budget(30, 1))
        assert answer.status == "proved"
        set_ceiling(master, name, answer.objective)
        reached.append((name, answer))

    for i, (name, answer) in enumerate(reached):
        for _, later in reached[i:]:
            assert value_of(master.layers[name], later.values) == answer.objective
    assert reached[0][1].objective == best["rules"].objective
    assert sum(a.objective for _, a in reached[1:]) > sum(best[n].objective for n, _ in reached[1:]), (
        "the layers do not pull against one another here, so this shows nothing"
    )


@pytest.mark.slow
def test_a_drafted_week_keeps_the_first_layer_at_its_proved_best() -> None:
    problem = demo_problem(*SMALL, kits=2)
    alone = build_master(problem)
    best = solve_layer(alone.model, alone.layers["rules"], Budget(10, 1))
    assert best.status == "proved"

    drafted = draft_plan(problem, 3.0)

    assert drafted.plan is not None
    assert drafted.proof is not None
    early = tuple(r.id for r in problem.rules if r.stage == "lines")
    results = audit_plan(problem, drafted.plan)
    floor = sum(
        p.measure * r.weight for r in results if r.id in early for p in r.places if "," not in p.place
    )
    assert not broken_musts(results)
    assert floor == best.objective
    assert total_cost(results) == drafted.proof.tiers[0].objective >= best.objective


def test_a_point_of_a_rule_outweighs_any_stand_in() -> None:
    """The squat at home costs a bad stand-in; a rule of one point asks for it all the same."""
    wish = rule(
        kind="limit",
        where={"piece": "main", "movement": "squat"},
        count="days",
        per="week",
        at_least=2,
        weight=1,
    )
    world = {"a_catalogue": catalogue(only_schemes=("heavy",)), "a_gym": gym(kits=("bare",))}
    asked, free = draft_plan(universe((wish,), **world), 2.0), draft_plan(universe((), **world), 2.0)

    assert asked.plan is not None
    assert all(s.versions["floor"].strength[0].movement == "squat" for s in asked.plan.sessions)
    assert asked.proof is not None
    assert free.proof is not None
    assert asked.proof.tiers[0].objective == 0
    assert asked.proof.tiers[1].objective >= free.proof.tiers[1].objective
