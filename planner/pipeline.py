"""The steps from files to a week, in order. Start reading here."""

from __future__ import annotations

import hashlib
import json
from datetime import UTC, datetime
from pathlib import Path

from planner.audit.audit import audit_plan, broken_musts, total_cost
from planner.audit.reading import plan_of
from planner.domain.iso_week import next_week
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.week import RULES_LAYER, Proof, RuleResult, Week
from planner.errors import NoPlanError, SolverFault
from planner.load.gym import read_week
from planner.prescribe.write_out import write_out
from planner.problem.checks import check_rules
from planner.problem.problem import Problem
from planner.setting import load_setting


def draft(
    gym_folder: Path,
    *,
    week: str | None = None,
    seed: int = 1,
    seconds: float = 10.0,
    progress: Progress | None = None,
) -> Week:
    """Drafts a week for a gym.

    Args:
        gym_folder: with ``gym.yaml``, and where there are any ``rules.yaml`` and ``history/*.json``.
        week: ISO week such as ``2026-W49``; the week after this one unless given.
        seed: another seed gives another week of the same quality.
        seconds: the solver's budget, in its own repeatable measure of about a second each.
        progress: called with a label and a fraction done.

    Raises:
        DataError: a file cannot be used.
        NoPlanError: the musts cannot all hold, or no week was found in the time.
        SolverFault: a fault of ours: the solved week fails its own audit.
    """
    setting = load_setting(gym_folder, week or next_week(datetime.now(tz=UTC).date()))
    problem = checked_problem(setting.problem(seed=seed))
    return solved_week(problem, seconds, progress or quiet)


def solved_week(problem: Problem, seconds: float, progress: Progress = quiet) -> Week:
    """A problem solved, audited and written out.

    Raises:
        NoPlanError: the musts cannot all hold, or no week was found in the time.
        SolverFault: a fault of ours.
    """
    from planner.solve.draft import draft_plan
    from planner.solve.explain.no_week import explain_no_week

    drafted = draft_plan(problem, seconds, progress)
    if drafted.plan is None or drafted.proof is None:
        raise explain_no_week(problem, drafted)
    return written_week(problem, drafted.plan, drafted.proof, seconds)


def written_week(problem: Problem, plan: Plan, proof: Proof, seconds: float) -> Week:
    """A plan audited and written out.

    Raises:
        SolverFault: the plan fails its audit, which is a fault of ours.
    """
    results = audit_plan(problem, plan)
    _confirm(results, proof)
    return write_out(
        plan,
        problem.catalogue,
        problem.gym,
        rules=results,
        proof=proof,
        history=problem.history,
        inputs_digest=digest(problem, seconds),
    )


def checked_problem(problem: Problem) -> Problem:
    """The problem, after a check that its rules speak of something.

    Raises:
        RuleError: a rule's selector matches nothing.
    """
    check_rules(problem)
    return problem


def load_problem(gym_folder: Path, *, week: str | None = None, seed: int = 1) -> Problem:
    """Reads everything that a week is made from.

    Raises:
        DataError: a file cannot be used, or there is no such week.
    """
    setting = load_setting(gym_folder, week or next_week(datetime.now(tz=UTC).date()))
    return checked_problem(setting.problem(seed=seed))


def audit(week: Week, gym_folder: Path) -> tuple[RuleResult, ...]:
    """Every rule again, in plain Python, from the week alone.

    Raises:
        DataError: the week names what the catalogue does not have or the kit cannot do.
    """
    problem = load_setting(gym_folder, week.week).problem(seed=week.proof.seed)
    return audit_plan(problem, plan_of(week))


def sheet(week: Week) -> str:
    """The week's sheet as one HTML file."""
    from planner.render.html import week_html

    return week_html(week)


def digest(problem: Problem, seconds: float) -> str:
    """SHA-256 of everything that the week was made from."""
    parts = [
        problem.catalogue.model_dump_json(),
        problem.gym.model_dump_json(),
        json.dumps([r.model_dump(mode="json") for r in problem.rules]),
        json.dumps([w.model_dump(mode="json") for w in problem.history]),
        problem.requests.model_dump_json(),
        problem.base.model_dump_json() if problem.base else "",
        json.dumps([w.model_dump(mode="json") for w in problem.insisted]),
        json.dumps([problem.week, problem.seed, seconds, problem.stay_near]),
    ]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def _confirm(results: tuple[RuleResult, ...], proof: Proof) -> None:
    """No week passes that its own audit refuses, or whose price differs from the solver's."""
    broken = broken_musts(results)
    if broken:
        said = "; ".join(p.sentence for r in broken for p in r.places)
        raise SolverFault(f"The solved week breaks a must, which is a fault of ours: {said}")
    points = next(t.objective for t in proof.tiers if t.name == RULES_LAYER)
    if total_cost(results) != points:
        raise SolverFault(
            f"The audit measures {total_cost(results)} points and the solver {points}; please report this."
        )


__all__ = ["NoPlanError", "audit", "digest", "draft", "load_problem", "read_week", "sheet"]
