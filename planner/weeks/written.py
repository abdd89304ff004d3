"""From a problem to a week: checked, solved, audited and written out, with a digest of its inputs."""

from __future__ import annotations

import hashlib
import json

from planner.audit.audit import audit_plan, broken_musts, total_cost
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.week import RULES_LAYER, Proof, RuleResult, Week
from planner.errors import SolverFault
from planner.prescribe.write_out import write_out
from planner.problem.checks import check_rules
from planner.problem.problem import Problem
from planner.version import program_version
from planner.weeks.keepable import solved


def checked_problem(problem: Problem) -> Problem:
    """The problem, after a check that its rules speak of something.

    Raises:
        RuleError: a rule's selector matches nothing.
    """
    check_rules(problem)
    return problem


def solved_week(problem: Problem, seconds: float, progress: Progress = quiet) -> Week:
    """Solves a problem, audits the plan and writes it out.

    Raises:
        NoPlanError: the musts cannot all hold, or no week was found in the time.
        SolverFault: a fault of ours.
    """
    return solved_and_written(problem, seconds, progress)[1]


def solved_and_written(problem: Problem, seconds: float, progress: Progress = quiet) -> tuple[Problem, Week]:
    """The same, with the problem in which what the gym cannot keep is overruled."""
    from planner.solve.explain.no_week import explain_no_week

    here, drafted = solved(problem, seconds, progress)
    if drafted.plan is None or drafted.proof is None:
        raise explain_no_week(here, drafted)
    return here, written_week(here, drafted.plan, drafted.proof, seconds)


def written_week(problem: Problem, plan: Plan, proof: Proof, seconds: float) -> Week:
    """Audits a plan and writes it out.

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
        program=program_version(),
        basis_digest=basis_digest(problem),
    )


def digest(problem: Problem, seconds: float) -> str:
    """SHA-256 of everything that the week was made from."""
    parts = [
        basis_digest(problem),
        problem.requests.model_dump_json(),
        problem.base.model_dump_json() if problem.base else "",
        json.dumps([w.model_dump(mode="json") for w in problem.insisted]),
        json.dumps([problem.week, problem.seed, seconds, problem.stay_near]),
    ]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def basis_digest(problem: Problem) -> str:
    """SHA-256 of what a plan is written out from: catalogue, gym, rules and history."""
    parts = [
        problem.catalogue.model_dump_json(),
        problem.gym.model_dump_json(),
        json.dumps([r.model_dump(mode="json") for r in problem.rules]),
        json.dumps([w.model_dump(mode="json") for w in problem.history]),
    ]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def _confirm(results: tuple[RuleResult, ...], proof: Proof) -> None:
    """Refuses a plan that breaks a must, or that the audit prices otherwise than the solver."""
    broken = broken_musts(results)
    if broken:
        said = "; ".join(p.sentence for r in broken for p in r.places)
        raise SolverFault(f"The solved week breaks a must, which is a fault of ours: {said}")
    points = next(t.objective for t in proof.tiers if t.name == RULES_LAYER)
    if total_cost(results) != points:
        raise SolverFault(
            f"The audit measures {total_cost(results)} points and the solver {points}; please report this."
        )
