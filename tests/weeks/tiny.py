"""Tiny weeks for the verbs: settings that brute force can write down in full, and changes counted by hand."""

from __future__ import annotations

import random
from functools import cache

from planner.domain.plan import Plan, SessionPlan
from planner.domain.week import Week
from planner.errors import NoPlanError
from planner.problem.problem import Problem
from planner.weeks.setting import Setting
from planner.weeks.written import solved_week
from tests import oracle
from tests.rules.universe import WEEK, universe
from tests.solve.random_problems import random_problem

MUST_SHARE = 0.6
SECONDS = 3.0


def setting_of(problem: Problem) -> Setting:
    """What a problem was made from."""
    return Setting(problem.catalogue, problem.gym, problem.rules, (), WEEK)


@cache
def drafted(number: int) -> tuple[Setting, Week] | None:
    """A random tiny setting with many musts, and a week of it; None where the musts leave none."""
    dice, made = random.Random(f"musts/{number}"), random_problem(number, late=False)
    rules = tuple(
        r.model_copy(update={"must": True, "weight": 0}) if dice.random() < MUST_SHARE else r
        for r in made.rules
    )
    problem = universe(rules, a_catalogue=made.catalogue, a_gym=made.gym, seed=number)
    try:
        return setting_of(problem), solved_week(problem, SECONDS)
    except NoPlanError:
        return None


def allowed_weeks(problem: Problem) -> list[tuple[tuple[oracle.Written, ...], int]]:
    """Every week that breaks no must, with the points of its weighted rules."""
    return [(week, points) for week, (points, _) in oracle.allowed_weeks(problem)]


def plan(week: tuple[oracle.Written, ...]) -> Plan:
    return Plan(week=WEEK, sessions=tuple(w.plan for w in week))


# Changes, counted without the planner's own code --------------------------------------------------------


def floor_piece(session: SessionPlan, piece: str) -> tuple[object, ...]:
    """All that makes a piece on the gym floor what it is, whatever the order."""
    lines = getattr(next(iter(session.versions.values())), piece)
    shape = session.shape if piece == "conditioning" else ""
    return shape, frozenset(tuple(sorted(x.model_dump().items())) for x in lines)


def changed_pieces(before: Plan, after: Plan) -> set[tuple[str, str]]:
    """Day and piece of everything that is not what it was."""
    new = {s.day: s for s in after.sessions}
    return {
        (s.day, piece)
        for s in before.sessions
        for piece in ("strength", "conditioning")
        if s.day in new and floor_piece(s, piece) != floor_piece(new[s.day], piece)
    }


def lines_of(session: SessionPlan) -> set[tuple[str, ...]]:
    """The floor's lines without their doses."""
    floor = next(iter(session.versions.values()))
    return {(x.movement, x.scheme, str(x.assistance)) for x in floor.strength} | {
        (x.movement, x.tier) for x in floor.conditioning
    }


def lines_gone(before: Plan, after: Plan) -> int:
    """How many lines are not there any more on their day."""
    new = {s.day: s for s in after.sessions}
    return sum(len(lines_of(s) - lines_of(new[s.day])) for s in before.sessions if s.day in new)


def used(plan_: Plan) -> set[tuple[str, str]]:
    """Movement and day of every line in every version."""
    return {
        (x.movement, s.day)
        for s in plan_.sessions
        for v in s.versions.values()
        for x in (*v.strength, *v.conditioning)
    }
