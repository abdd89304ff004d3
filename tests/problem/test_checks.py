"""Checks by arithmetic: what cannot work is said before any solving, and in a coach's words."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from planner.domain.changes import GymChanges
from planner.errors import RuleError
from planner.paths import home
from planner.problem.checks import check_rules, too_little
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


def lacking(problem: Problem) -> str:
    """What is said of the last rule."""
    return too_little(problem, problem.rules[-1])


def test_the_shipped_rules_pass() -> None:
    problem = setting().problem()

    assert [too_little(problem, r) for r in problem.rules if too_little(problem, r)] == []
    check_rules(problem)


def test_fewer_movements_than_are_needed() -> None:
    """Two vertical pulls, each once a week, three needed."""
    said = lacking(with_rule(**PULLS))

    assert "3 are needed" in said
    assert "strict pull-up" in said


def test_without_a_rig_there_is_nothing_for_it() -> None:
    lost = GymChanges(without=("rig", "rings", "climbing_rope"))

    assert "no equipment for any of it" in lacking(with_rule(lost, **PULLS))


def test_more_days_than_the_gym_opens() -> None:
    seven = with_rule(kind="limit", where={"piece": "main"}, count="days", per="week", at_least=7, must=True)

    assert lacking(seven) == "7 days are asked for, and the gym opens on 6."


def test_just_enough_passes() -> None:
    assert not lacking(with_rule(**{**PULLS, "at_least": 1}))


def test_a_selector_that_matches_nothing_at_all() -> None:
    with pytest.raises(RuleError, match="matches nothing in the catalogue"):
        check_rules(
            with_rule(kind="limit", where={"pattern": "jump", "modality": "cyclic"}, at_most=1, weight=1)
        )
