"""Checks by arithmetic: what cannot work is said before any solving, and in a coach's words."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from planner.domain.changes import GymChanges
from planner.errors import NoPlanError, RuleError
from planner.paths import home
from planner.problem.checks import check_rules, precheck
from planner.problem.problem import Problem
from planner.rules import RULE_ADAPTER
from planner.weeks.setting import Setting, load_setting


@cache
def setting() -> Setting:
    return load_setting(Path(home().shared) / "gyms" / "demo", "2026-W49", ())


def with_rule(changes: GymChanges | None = None, **fields) -> Problem:
    rule = RULE_ADAPTER.validate_python({"id": "the-rule", "because": "the test says so", **fields})
    here = setting().changed(changes) if changes else setting()
    problem = here.problem()
    return replace(problem, rules=(*problem.rules, rule))


PULLS = {
    "kind": "limit",
    "where": {"movement": ["strict_pull_up", "rope_climb"], "piece": "strength"},
    "count": "days",
    "per": "week",
    "at_least": 3,
    "must": True,
}


def test_the_shipped_rules_pass() -> None:
    precheck(setting().problem())
    check_rules(setting().problem())


def test_fewer_movements_than_are_needed() -> None:
    """Two vertical pulls, each once a week, three needed."""
    with pytest.raises(NoPlanError) as said:
        precheck(with_rule(**PULLS))

    assert "3 are needed" in str(said.value)
    assert "strict pull-up" in str(said.value)


def test_without_a_rig_there_is_nothing_for_it() -> None:
    lost = GymChanges(without=("rig", "rings", "climbing_rope"))

    with pytest.raises(NoPlanError, match="no equipment for any of it"):
        precheck(with_rule(lost, **PULLS))


def test_more_days_than_the_gym_opens() -> None:
    with pytest.raises(NoPlanError, match="7 days are asked for, and the gym opens on 6"):
        precheck(
            with_rule(kind="limit", where={"piece": "main"}, count="days", per="week", at_least=7, must=True)
        )


def test_just_enough_passes() -> None:
    precheck(with_rule(**{**PULLS, "at_least": 1}))


def test_a_selector_that_matches_nothing_at_all() -> None:
    with pytest.raises(RuleError, match="matches nothing in the catalogue"):
        check_rules(
            with_rule(kind="limit", where={"pattern": "jump", "modality": "cyclic"}, at_most=1, weight=1)
        )
