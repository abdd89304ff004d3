"""Plans that nobody solved: what hangs together by nature, what is overruled, what is read back."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from planner.audit.audit import STRUCTURE, audit_plan, broken_musts, total_cost
from planner.audit.days import misfits
from planner.audit.reading import plan_of
from planner.domain.plan import Plan, SessionPlan, VersionPlan
from planner.domain.requests import Overrule, Requests
from planner.domain.week import RuleResult
from planner.problem.problem import Problem, assemble_problem
from tests.measured.weeks import Pool, data_of, gym_of, more_rules, written
from tests.plans import with_versions
from tests.solve.demo import WEEK, shipped

KITS = ("floor", "home_barbell", "one_plate", "no_kit")


@cache
def problem() -> Problem:
    catalogue, _, rules = shipped()
    return assemble_problem(catalogue, gym_of(12, 3), (*rules, *more_rules()), (), WEEK, 1)


@cache
def plan() -> Plan:
    """The first that has a ladder, whose doses are read in another way."""
    drawn = (Pool(data_of(12, 3), random.Random(seed)).plan(WEEK) for seed in range(50))
    return next(p for p in drawn if any(problem().catalogue.shapes[s.shape].ladder for s in p.sessions))


def structure(made: Plan) -> RuleResult:
    return next(r for r in audit_plan(problem(), made) if r.id == STRUCTURE)


def changed(day: int, kit: str, change: Callable[[VersionPlan], VersionPlan]) -> Plan:
    sessions = list(plan().sessions)
    session: SessionPlan = sessions[day]
    versions = {**session.versions, kit: change(session.versions[kit])}
    sessions[day] = with_versions(session, versions)
    return plan().model_copy(update={"sessions": tuple(sessions)})


def test_a_random_plan_hangs_together_and_is_read_back_from_its_week() -> None:
    assert not structure(plan()).measure
    assert plan_of(written(problem(), plan())) == plan()
    assert any(x.assistance for s in plan().sessions for x in s.versions["floor"].strength)


def test_a_day_that_is_missing_or_in_the_wrong_place_is_a_fault() -> None:
    first, second, *rest = plan().sessions
    for sessions in ((first, second, *rest[:-1]), (second, first, *rest)):
        assert structure(plan().model_copy(update={"sessions": sessions})).measure == 1


@pytest.mark.parametrize("kit", KITS)
def test_a_line_too_few_or_twice_is_a_fault_in_every_version(kit: str) -> None:
    day = next(i for i, s in enumerate(plan().sessions) if len(s.versions[kit].conditioning) > 1)

    less = changed(day, kit, lambda v: v.model_copy(update={"conditioning": v.conditioning[1:]}))
    twice = changed(
        day, kit, lambda v: v.model_copy(update={"conditioning": (v.conditioning[0], *v.conditioning[:-1])})
    )
    no_main = changed(
        day, kit, lambda v: v.model_copy(update={"strength": tuple(x for x in v.strength if x.assistance)})
    )

    assert structure(less).measure == 1
    assert structure(twice).measure == 1
    assert structure(no_main).measure >= 1


def test_a_day_without_a_main_lift_in_any_version_is_a_fault_in_each() -> None:
    day = next(i for i, s in enumerate(plan().sessions) if len(s.versions["floor"].strength) > 1)
    session = plan().sessions[day]
    versions = {
        kit: v.model_copy(update={"strength": tuple(x for x in v.strength if x.assistance)})
        for kit, v in session.versions.items()
    }
    sessions = list(plan().sessions)
    sessions[day] = with_versions(session, versions)

    found = misfits(problem(), plan().model_copy(update={"sessions": tuple(sessions)}))

    assert len(found) == len(KITS)
    assert all("does not have one main lift" in m.sentence for m in found)


def test_two_loads_in_one_piece_are_a_fault_on_the_floor_alone() -> None:
    day = next(i for i, s in enumerate(plan().sessions) if len(s.versions["floor"].conditioning) > 1)

    def two(v: VersionPlan) -> VersionPlan:
        lines = v.conditioning
        tiers = ("light", "moderate", *(x.tier for x in lines[2:]))
        mixed = tuple(x.model_copy(update={"tier": t}) for x, t in zip(lines, tiers, strict=True))
        return v.model_copy(update={"conditioning": mixed})

    said = [p.sentence for p in structure(changed(day, "floor", two)).places]
    assert said == ["More than one load in the conditioning."]
    assert not structure(changed(day, "one_plate", two)).measure


def test_what_is_overruled_counts_nought_there_and_all_the_rest_elsewhere() -> None:
    before = {r.id: r for r in audit_plan(problem(), plan())}
    rule = next(r for r in before.values() if len(r.places) > 1 and r.places[0].measure > 1 and r.weight)
    gone = rule.places[0]
    overrules = (Overrule(rule=rule.id, place=gone.place, reason="it is meant so"),)
    after = {
        r.id: r
        for r in audit_plan(replace(problem(), requests=Requests(overrules=overrules)), plan())
    }  # fmt: skip

    mine = after[rule.id]
    assert mine.measure == rule.measure - gone.measure
    assert mine.cost == mine.measure * rule.weight
    places = {p.place: (p.measure, p.overruled) for p in mine.places}
    assert places[gone.place] == (0, "it is meant so")
    assert {p.place for p in rule.places} == set(places)
    assert all(places[p.place] == (p.measure, "") for p in rule.places[1:])
    assert {i: r for i, r in after.items() if i != rule.id} == {
        i: r for i, r in before.items() if i != rule.id
    }


def test_a_must_is_broken_by_one_and_only_weights_cost_points() -> None:
    results = audit_plan(problem(), plan())
    by_one = [r for r in results if r.level == "must" and r.measure == 1]

    assert by_one
    assert {r.id for r in broken_musts(results)} == {r.id for r in results if r.level == "must" and r.measure}
    assert total_cost(results) == sum(r.weight * p.measure for r in results for p in r.places)
    assert total_cost(results) != sum(r.measure for r in results)
