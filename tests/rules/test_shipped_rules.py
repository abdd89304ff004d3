"""The shipped rules on random weeks of the shipped catalogue: audit and model measure alike.

The first stage's model is made once, with every rule's terms and none of them enforced; a week is fixed in it
and solved, so that whatever hangs on the decisions takes its value. Doses and kit versions follow in the
second stage's model of that week, filled at random.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from planner.audit.days import version_days
from planner.domain.plan import Plan
from planner.problem.problem import Problem, assemble_problem
from planner.rules.base import Term
from planner.solve.model.versions import session_of
from tests.oracle import FloorLines
from tests.rules.solving import Doses, Floor, by_value, key_of, line_key, measured
from tests.rules.universe import past_session, with_windows
from tests.solve.demo import demo_problem

EXAMPLES = settings(
    max_examples=30, deadline=None, derandomize=True, database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)  # fmt: skip


@cache
def problem() -> Problem:
    """The demo gym after a made-up week, so that what rotates has something to repeat."""
    made = demo_problem()
    dice, options, past = random.Random(7), made.options, []
    for day in made.gym.days:
        main, cyclic = (
            dice.choice(options.main).facts,
            [c for c in options.conditioning if not c.facts.scheme],
        )
        shape = next(s for s in made.catalogue.shapes.values() if s.movements == 2 and not s.ladder)
        picked = dice.sample(cyclic, 2)
        listed = ", ".join(f"{c.facts.movement.id}.{c.facts.tier}" for c in picked)
        assert main.scheme is not None
        text = f"{main.movement.id}/{main.scheme.id} | {shape.id}: {listed}"
        past.append(past_session(made, day, text))
    return replace(made, facts=replace(made.facts, past=tuple(past)))


@cache
def first_stage() -> tuple[Floor, dict[str, list[Term]]]:
    """The first stage without its rows on time, which would refuse most random weeks."""
    wide = with_windows(problem().catalogue, dict.fromkeys(problem().catalogue.shapes, (0, 10**5)))
    made = assemble_problem(wide, problem().gym, problem().rules, (), problem().week, 1)
    floor = Floor.of(replace(made, facts=problem().facts))
    rules = [r for r in problem().rules if r.stage == "lines"]
    return floor, {r.id: list(r.encode(floor.view, problem().facts)) for r in rules}


@st.composite
def random_weeks(draw: Any) -> tuple[FloorLines, ...]:
    return tuple(draw(random_days()) for _ in problem().gym.days)


@st.composite
def random_days(draw: Any) -> FloorLines:
    """A main lift, perhaps assistance, and movements of one load that have a dose in the family of shapes."""
    options = problem().options
    index = draw(st.integers(0, len(options.families) - 1))
    family = options.families[index]
    tier = draw(st.sampled_from(["light", "moderate", "heavy"]))
    reaches = {c.facts: reach for c, reach in options.conditioning_on("mon")}
    able = [f for f, r in reaches.items() if index in r.families and f.tier in ("open", tier)]
    n = family.lead.movements
    lines = draw(st.lists(st.sampled_from(able), min_size=n, max_size=n, unique_by=lambda f: f.movement.id))
    placed = {spot: count for spot, count in family.lead.spots.items() if spot != "turn"}
    assume(all(sum(spot in reaches[f].spots for f in lines) >= count for spot, count in placed.items()))
    main = draw(st.sampled_from(options.main)).facts
    beside = draw(st.sampled_from([None, *options.assistance]))
    return FloorLines(family, (main, *([beside.facts] if beside else []), *lines))


def fixed(floor: Floor, week: tuple[FloorLines, ...]) -> tuple[int, ...]:
    """The model's values for a week; empty where the model has no such week."""
    variables = floor.model.proto.variables
    for v, day in zip(floor.view.days.values(), week, strict=True):
        lines, lead = key_of(day)
        pairs = [(x.literal, line_key(x.facts) in lines) for x in v.lines]
        for literal, there in [*pairs, *((lit, s.id == lead) for s, lit in v.shapes)]:
            domain = variables[literal.index].domain
            domain.clear()
            domain.extend([int(there)] * 2)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.cp_model_presolve = False
    status = solver.solve(floor.model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE), solver.status_name(status)
    return tuple(solver.response_proto.solution) if status == cp_model.OPTIMAL else ()


@given(random_weeks())
@EXAMPLES
def test_what_lines_decide_is_measured_alike(week: tuple[FloorLines, ...]) -> None:
    floor, terms = first_stage()
    values = fixed(floor, week)
    assert values, "every week of lines is one of the model's"
    as_audited = tuple(f.as_audited(day) for day, f in zip(problem().gym.days, week, strict=True))

    for rule in problem().rules:
        if rule.id in terms:
            found = {b.place: b.measure for b in rule.audit(as_audited, problem().facts).breaches}
            assert measured(terms[rule.id], by_value(values)) == found, rule.id


@pytest.mark.slow
@given(random_weeks(), st.integers(0, 10**6))
@EXAMPLES
def test_what_doses_and_versions_decide_is_measured_alike(week: tuple[FloorLines, ...], seed: int) -> None:
    doses = Doses.of(problem(), week)
    assume(doses is not None)
    assert doses is not None
    asked = {
        (rule, kit.id): doses.terms(rule, kit.id)
        for rule in problem().rules
        for kit in problem().gym.kits
        if (rule.versions == "all" if kit is not problem().gym.kits[0] else rule.stage == "doses")
    }
    values = any_filling(doses, seed)
    assume(values)
    sessions = tuple(session_of(problem(), day, d, values) for day, d in doses.days.items())
    plan = Plan(week=problem().week, sessions=sessions)

    for (rule, kit), terms in asked.items():
        found = rule.audit(version_days(problem(), plan, kit), problem().facts)
        assert measured(terms, by_value(values)) == {b.place: b.measure for b in found.breaches}, (
            rule.id,
            kit,
        )


def any_filling(doses: Doses, seed: int) -> tuple[int, ...]:
    """Doses and stand-ins at random; empty where the lines have none."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.randomize_search = True
    solver.parameters.stop_after_first_solution = True
    status = solver.solve(doses.model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE), solver.status_name(status)
    return () if status == cp_model.INFEASIBLE else tuple(solver.response_proto.solution)
