"""One week from two: days taken from each stay to the letter, and the rest is solved."""

from __future__ import annotations

from planner.audit.reading import plan_of
from planner.domain.gym import Day
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.requests import Lock, Requests
from planner.domain.week import Week
from planner.pipeline import solved_week
from planner.setting import Setting


def merge(
    setting: Setting,
    taken: dict[Day, Week],
    *,
    requests: Requests | None = None,
    seed: int = 1,
    seconds: float = 10.0,
    progress: Progress = quiet,
) -> Week:
    """Locks each taken day as it is in its week, and solves the others.

    Args:
        setting: gym, catalogue, rules, past.
        taken: by day, the week it is taken from.
        requests: other locks, bans and wishes.
        seed: of the search.
        seconds: deterministic budget.
        progress: called with a label and a fraction done.

    Raises:
        NoPlanError: the days taken cannot stand in one week; says what clashes.
    """
    sessions = [s for day, week in taken.items() for s in plan_of(week).sessions if s.day == day]
    base = Plan(
        week=setting.week, sessions=tuple(s for d in setting.gym.days for s in sessions if s.day == d)
    )
    asked = requests or Requests()
    locks = (*asked.locks, *(Lock(day=s.day, part="day", made_by="merge") for s in base.sessions))
    problem = setting.problem(seed=seed, requests=asked.model_copy(update={"locks": locks}), base=base)
    return solved_week(problem, seconds, progress)
