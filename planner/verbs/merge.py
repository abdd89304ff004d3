"""One week from two: days taken from each stay to the letter, and the rest is solved."""

from __future__ import annotations

import re

from planner.audit.reading import plan_of
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.requests import Lock, Requests
from planner.domain.week import Week
from planner.errors import NoPlanError
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
    locks = (*asked.locks, *(Lock(day=s.day, part="day") for s in base.sessions))
    problem = setting.problem(seed=seed, requests=asked.model_copy(update={"locks": locks}), base=base)
    try:
        return solved_week(problem, seconds, progress)
    except NoPlanError as error:
        locked = {lock.day for lock in asked.locks} | {s.day for s in asked.by_hand}
        raise _in_words_of_a_merge(error, [d for d in taken if d not in locked]) from None


def _in_words_of_a_merge(error: NoPlanError, days: list[Day]) -> NoPlanError:
    """The error with days that are taken instead of pieces that are locked; the coach locked none of them."""
    names = "|".join(DAY_NAMES[day] for day in days)
    piece = rf"({names})'s (strength|conditioning)"

    def way(text: str) -> str:
        ways = re.sub(f"unlock {piece}", r"do not take \1", text)
        return re.sub(r"(do not take \w+)( and \1)+", r"\1", ways)

    clashes = (re.sub(f"{piece} is locked", r"\1's \2 is taken as it is", c) for c in error.clashes)
    remedies = dict.fromkeys(way(remedy) for remedy in error.remedies)
    return NoPlanError(error.what, tuple(clashes), tuple(remedies)) if days else error
