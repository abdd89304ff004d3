"""Musts that a session written by hand breaks by itself: they count as overruled there, by hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.audit.days import version_days
from planner.domain.plan import Plan, SessionPlan
from planner.domain.requests import Overrule
from planner.errors import DataError
from planner.problem.problem import Problem

BY_HAND = "written by hand"


def heeding_by_hand(problem: Problem) -> Problem:
    """The problem with every must overruled that a session by hand breaks by itself, whatever others have.

    The time of such a session is always its own: its kit versions keep to the time as near as they can.
    """
    more = tuple(x for session in problem.requests.by_hand for x in _overruled(problem, session))
    if not more:
        return problem
    overrules = (*problem.requests.overrules, *more)
    return replace(problem, requests=problem.requests.model_copy(update={"overrules": overrules}))


def _overruled(problem: Problem, session: SessionPlan) -> Iterator[Overrule]:
    day, said = session.day, {(o.rule, o.place) for o in problem.requests.overrules}
    if day not in problem.gym.days:
        return
    try:
        (written,) = version_days(
            problem, Plan(week=problem.week, sessions=(session,)), problem.gym.kits[0].id
        )
    except DataError:  # it asks for what the gym does not have; the draft says so
        return
    facts = replace(problem.facts, days=(day,))
    for rule in problem.rules:
        places: list[str] = [day] if rule.on_time else []
        places += [
            b.place for b in rule.audit((written,), facts).breaches if b.place.partition(":")[0] == day
        ]
        for place in dict.fromkeys(places if rule.must else []):
            if (rule.id, place) not in said:
                yield Overrule(rule=rule.id, place=place, reason=BY_HAND)
