"""Tiny solved weeks, changed one line at a time: whatever brute force would not write, the audit finds."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from planner.audit.audit import audit_plan, broken_musts
from planner.domain.plan import ConditioningLine, Plan, SessionPlan, VersionPlan
from planner.errors import DataError
from planner.problem.problem import Problem
from planner.solve.search.draft import draft_plan
from tests import oracle
from tests.plans import with_versions
from tests.solve.random_problems import random_problem

NUMBERS = range(12)


def mutants(problem: Problem, plan: Plan) -> Iterator[Plan]:
    """Every line swapped for each other of its piece, left out, and written twice; and days exchanged."""
    for i, session in enumerate(plan.sessions):
        for kit, version in session.versions.items():
            for other in _versions(problem, version):
                changed = with_versions(session, {**session.versions, kit: other})
                yield _with(plan, i, changed)
        if i:
            before, here = plan.sessions[i - 1], session
            swapped = _with(plan, i - 1, here.model_copy(update={"day": before.day}))
            yield _with(swapped, i, before.model_copy(update={"day": here.day}))


def _with(plan: Plan, i: int, session: SessionPlan) -> Plan:
    return plan.model_copy(update={"sessions": (*plan.sessions[:i], session, *plan.sessions[i + 1 :])})


def _versions(problem: Problem, version: VersionPlan) -> Iterator[VersionPlan]:
    for i, line in enumerate(version.conditioning):
        rest = (version.conditioning[:i], version.conditioning[i + 1 :])
        for c in problem.options.conditioning:
            for dose in c.doses[:2]:
                new = ConditioningLine(movement=c.facts.movement.id, dose=dose.dose, tier=c.facts.tier)
                if new != line:
                    yield version.model_copy(update={"conditioning": (*rest[0], new, *rest[1])})
        yield version.model_copy(update={"conditioning": (*rest[0], *rest[1])})
        yield version.model_copy(update={"conditioning": (*rest[0], line, line, *rest[1])})
    for i, line in enumerate(version.strength):
        yield version.model_copy(update={"strength": version.strength[:i] + version.strength[i + 1 :]})
        yield version.model_copy(update={"strength": (*version.strength, line)})


def found_by_audit(problem: Problem, plan: Plan) -> bool:
    try:
        return bool(broken_musts(audit_plan(problem, plan)))
    except DataError:
        return True


def found_by_oracle(problem: Problem, plan: Plan) -> bool:
    """By counting lines, and by the musts' own audits on sessions looked up afresh."""
    for session in plan.sessions:
        shape = problem.catalogue.shapes.get(session.shape)
        if shape is None:
            return True
        floor = session.versions["floor"]
        for kit, version in session.versions.items():
            names = [x.movement for x in version.conditioning]
            loads = {x.tier for x in version.conditioning} - {"open"}
            if (
                len(names) != shape.movements
                or len(set(names)) < len(names)
                or (kit == "floor" and len(loads) > 1)
                or [x.assistance for x in version.strength] != [x.assistance for x in floor.strength]
                or [x.assistance for x in version.strength].count(False) != 1
            ):
                return True
    try:
        week = tuple(
            oracle.Written(s, oracle.audited_by_kit(problem, s), 0) for s in plan.sessions
        )  # fmt: skip
    except DataError:
        return True
    return oracle.price(problem, week) is None


@pytest.mark.slow
def test_audit_finds_every_change_that_brute_force_would_refuse() -> None:
    weeks = 0
    for number in NUMBERS:
        problem = random_problem(number, late=True)
        drafted = draft_plan(problem, 3.0)
        if drafted.plan is None:
            continue
        weeks += 1
        assert not found_by_oracle(problem, drafted.plan)

        changed = list(mutants(problem, drafted.plan))

        bad = [m for m in changed if found_by_oracle(problem, m)]
        assert bad
        assert all(found_by_audit(problem, m) for m in bad)
        assert not any(found_by_audit(problem, m) for m in changed if m not in bad)

    assert weeks >= len(NUMBERS) // 2
