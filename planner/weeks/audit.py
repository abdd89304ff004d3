"""Measures every rule of a week's file again, in plain Python, and holds the file to the plan behind it."""

from __future__ import annotations

from pathlib import Path

from planner.audit.as_written import file_results
from planner.audit.audit import audit_plan
from planner.audit.reading import plan_of
from planner.domain.requests import Requests
from planner.domain.week import RuleResult, Week
from planner.problem.problem import Problem
from planner.store.past import overruled
from planner.version import program_version
from planner.weeks.setting import setting_of
from planner.weeks.written import basis_digest


def audit(week: Week, gym_folder: Path) -> tuple[RuleResult, ...]:
    """Every rule with its measure, then whether the file is what its plan comes to.

    What the coach overruled counts as far as the gym's store knows of it.

    Raises:
        DataError: the week names what the catalogue does not have or the kit cannot do.
    """
    setting = setting_of(gym_folder, week.week)
    asked = Requests(overrules=overruled(gym_folder, week.week))
    return audit_file(week, setting.asking(asked).problem(seed=week.proof.seed))


def audit_file(week: Week, problem: Problem) -> tuple[RuleResult, ...]:
    """The same for inputs that are at hand.

    Raises:
        DataError: as ``audit``.
    """
    plan = plan_of(week)
    results = audit_plan(problem, plan)
    return (*results, *file_results(week, plan, problem, results, _elsewhere(week, problem)))


def _elsewhere(week: Week, problem: Problem) -> str:
    """Why the file's numbers need not be those of this program and these inputs; empty where they must be."""
    here = program_version()
    if not week.program:
        return "the file does not name the version of the program that wrote it"
    if week.program != here:
        return f"the file was written by version {week.program}, and this is {here}"
    if week.basis_digest != basis_digest(problem):
        return "the file was written from another catalogue or gym, other rules or another past"
    return ""
