"""Measures every rule of a week's file again, in plain Python, and holds the file to the plan behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from planner.audit.as_written import file_results, marked
from planner.audit.audit import audit_plan, broken_musts
from planner.audit.reading import plan_of
from planner.domain.gym import DAY_NAMES
from planner.domain.plan import Plan
from planner.domain.requests import PIECES, Requests
from planner.domain.week import RuleResult, Week
from planner.errors import DataError, Place
from planner.load.yaml_file import nearest
from planner.problem.problem import Problem
from planner.problem.requirements import overruling
from planner.store.past import requests_kept
from planner.version import program_version
from planner.weeks.keepable import kept_so
from planner.weeks.setting import Setting, setting_of
from planner.weeks.written import basis_digest

_ADVICE = "Audit it with the gym and the catalogue that it was written for, or put it right in the file."


def audit(week: Week, gym_folder: Path, file: Path | None = None) -> tuple[RuleResult, ...]:
    """Every rule with its measure, then whether the file is what its plan comes to.

    What the coach overruled or wrote by hand counts as far as the gym's store knows of it.

    Args:
        week: as read.
        gym_folder: with ``gym.yaml``.
        file: that the week was read from, to be named in what is wrong with it.

    Raises:
        DataError: the week names what the catalogue does not have or the kit cannot do.
    """
    problem = _problem(week, gym_folder, file)
    with _fitting(file):
        return audit_file(week, problem)


def with_marks(week: Week, gym_folder: Path, file: Path | None = None) -> Week:
    """The week with every line marked as the coach's that is not what its plan comes to; as ``audit``.

    Raises:
        DataError: as ``audit``; or the file is of another version or from other inputs, or lacks lines, so
            that nobody knows what was changed in it.
    """
    problem = _problem(week, gym_folder, file)
    with _fitting(file):
        plan = plan_of(week)
        results, elsewhere = audit_plan(problem, plan), _elsewhere(week, problem)
        if elsewhere or broken_musts(results[:1]):
            what = elsewhere or "lines are missing or too many"
            raise DataError(f"no line can be marked: {what}", advice="Audit it without --mark.")
        return marked(week, plan, problem, results)


def _problem(week: Week, gym_folder: Path, file: Path | None) -> Problem:
    setting = setting_of(gym_folder, week.week)
    with _fitting(file):
        plan = plan_of(week)
        _check_names(plan, setting)
    asked = excused(requests_kept(gym_folder, week.week), plan)
    return overruling(setting.asking(asked).problem(seed=week.proof.seed), kept_so(week, setting.rules))


@contextmanager
def _fitting(file: Path | None) -> Iterator[None]:
    """Names the week's file, and what would be right, where a week does not fit its gym."""
    try:
        yield
    except DataError as error:
        raise DataError(error.what, Place(file) if file else None, error.advice or _ADVICE) from None


def _check_names(plan: Plan, setting: Setting) -> None:
    """Every shape, movement and scheme is in the catalogue, and every kit of the gym has a version."""
    catalogue, kits = setting.catalogue, [kit.id for kit in setting.gym.kits]

    def check(name: str, known: Iterable[str], what: str, where: str) -> None:
        if name not in known:
            near = nearest(name, tuple(known))
            raise DataError(f'{where}: {what} "{name}"', advice=f"{near.strip()} {_ADVICE}".strip())

    for session in plan.sessions:
        day = DAY_NAMES[session.day]
        check(session.shape, catalogue.shapes, "the catalogue has no shape", f"{day}, conditioning")
        for kit in kits:
            check(kit, session.versions, "the week has no version for the gym's kit", day)
        for kit, version in session.versions.items():
            for piece in PIECES:
                for line in getattr(version, piece):
                    where = f"{day}, {piece}, {kit}"
                    check(line.movement, catalogue.movements, "the catalogue has no movement", where)
            for line in version.strength:
                where = f"{day}, strength, {kit}"
                check(line.scheme, catalogue.schemes, "the catalogue has no scheme", where)


def excused(asked: Requests, plan: Plan) -> Requests:
    """What lets a plan break a must: overrules, and sessions by hand that it has, or composed."""
    there = {s.day: s for s in plan.sessions}
    by_hand = [s for s in asked.by_hand if s.day in there and there[s.day].holds(s)]
    known = {s.day for s in by_hand}
    composed = (s for s in plan.sessions if any(p.composition for p in s.pieces))
    by_hand += [s for s in composed if s.day not in known]
    return Requests(overrules=asked.overrules, by_hand=tuple(by_hand))


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
