"""Musts that a session written by hand breaks by itself: they count as overruled there, by hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.audit.days import version_days
from planner.domain.plan import Plan, SessionPlan
from planner.domain.requests import Overrule
from planner.problem.problem import Problem
from planner.problem.requirements import overruling
from planner.rules.base import Rule

BY_HAND = "written by hand"


def heeding_by_hand(problem: Problem) -> Problem:
    """The problem with every must overruled that a session by hand breaks by itself, whatever others have.

    The time of such a session is always its own: its kit versions keep to the time as near as they can.
    """
    given = problem.options.given.values()
    return overruling(problem, [o for day in given for o in _overruled(problem, day.session)])


def minded(problem: Problem, session: SessionPlan) -> tuple[str, ...]:
    """What rules would mind about a session by itself, in sentences, the musts first."""
    found = [x for x in _breaches(problem, session) if x[0].level != "watch"]
    found.sort(key=lambda x: not x[0].must)
    return tuple(f"{rule.sentence(place, n)} {rule.statement()}" for rule, place, n in found)


def _overruled(problem: Problem, session: SessionPlan) -> Iterator[Overrule]:
    timed = [(r.id, session.day) for r in problem.rules if r.on_time and r.must]
    broken = [(rule.id, place) for rule, place, _ in _breaches(problem, session) if rule.must]
    for rule, place in dict.fromkeys((*timed, *broken)):
        yield Overrule(rule=rule, place=place, reason=BY_HAND)


def _breaches(problem: Problem, session: SessionPlan) -> Iterator[tuple[Rule, str, int]]:
    """Rules that the session breaks whatever other days have: the rule, the place, and by how much."""
    (written,) = version_days(problem, Plan(week=problem.week, sessions=(session,)), problem.gym.kits[0].id)
    facts = replace(problem.facts, days=(session.day,))
    for rule in problem.rules:
        for breach in rule.audit((written,), facts).breaches:
            if rule.forbids or breach.place.partition(":")[0] == session.day:
                yield rule, breach.place, breach.measure
