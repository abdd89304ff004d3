"""Measures every rule of a week again, in plain Python, from the week alone."""

from __future__ import annotations

from pathlib import Path

from planner.audit.audit import audit_plan
from planner.audit.reading import plan_of
from planner.domain.week import RuleResult, Week
from planner.weeks.setting import load_setting


def audit(week: Week, gym_folder: Path) -> tuple[RuleResult, ...]:
    """Every rule with its measure.

    Raises:
        DataError: the week names what the catalogue does not have or the kit cannot do.
    """
    problem = load_setting(gym_folder, week.week).problem(seed=week.proof.seed)
    return audit_plan(problem, plan_of(week))
