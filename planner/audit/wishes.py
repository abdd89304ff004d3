"""Which wishes a finished plan does not meet, in plain Python."""

from __future__ import annotations

from planner.audit.days import version_days
from planner.domain.plan import Plan
from planner.domain.requests import Wish
from planner.domain.timing import hardness_of
from planner.problem.problem import Problem
from planner.rules.base import AuditDay
from planner.rules.where import Where


def unmet_wishes(problem: Problem, plan: Plan) -> tuple[Wish, ...]:
    """Wishes of the week that its gym floor does not meet, in the order in which they were asked.

    Raises:
        DataError: the plan names what does not exist.
    """
    days = version_days(problem, plan, problem.gym.kits[0].id)
    return tuple(w for w in problem.requests.wishes if not any(_meets(w, d) for d in days))


def _meets(wish: Wish, d: AuditDay) -> bool:
    if wish.day not in (None, d.day):
        return False
    if wish.hardness:
        return hardness_of(d.rating) == wish.hardness
    where = Where(movement=(wish.movement,)) if wish.movement else Where(pattern=(wish.pattern,))
    return any(where.matches(x.facts) for x in d.lines)
