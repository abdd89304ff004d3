"""Which locked days cannot be filled: their lines stand, but no doses or stand-ins suit with some kit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from planner.domain.gym import Day, Kit
from planner.errors import Clashing
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.rules.limit import Limit
from planner.rules.share import Share
from planner.solve.search import Budget
from planner.solve.versions import FloorDay, fill


def rules_of_days(problem: Problem) -> Problem:
    """The problem with those rules only that forbid of one day what they forbid of the week."""
    return replace(problem, rules=tuple(r for r in problem.rules if _speaks_of_days(r)))


def _speaks_of_days(rule: Rule) -> bool:
    """Not one that asks for more over the week."""
    asks_for_more = isinstance(rule, Limit) and rule.at_least is not None and rule.per != "day"
    return not asks_for_more and not isinstance(rule, Share)


def unfilled(
    problem: Problem, floor: Mapping[Day, FloorDay], days: Iterable[Day], budget: Budget
) -> dict[Day, tuple[str, ...]]:
    """Of some days those with a lock, each with the kits in which it cannot be done.

    Args:
        problem: the week to be planned.
        floor: the lines that stand.
        days: that could not be filled.
        budget: of each try.
    """
    by_day, kits = rules_of_days(problem), problem.gym.kits
    out: dict[Day, tuple[str, ...]] = {}

    def fails(day: Day, *some: Kit) -> bool:
        gym = by_day.gym.model_copy(update={"kits": some})
        return fill(replace(by_day, gym=gym), {day: floor[day]}, budget) is None

    for day in days:
        if not problem.locked_pieces(day) and not any(x.day == day for x in problem.requests.locks):
            continue
        # What the floor cannot do, no version of it can.
        if fails(day, kits[0]):
            out[day] = (kits[0].name,)
        else:
            out[day] = tuple(kit.name for kit in kits[1:] if fails(day, kits[0], kit))
    return out


def unfilled_words(problem: Problem, days: Mapping[Day, tuple[str, ...]]) -> tuple[Clashing, tuple[str, ...]]:
    """What cannot be done, and what would help, a sentence for each day."""
    what, help_ = [], []
    for day, kits in days.items():
        lock = problem.lock_of(day, "day")
        where = " and ".join(kits) or "all kit versions together"
        what.append((f"{lock.words()}, and for {where} no doses or stand-ins suit in the time that it has.",))
        help_.append(f"{lock.give_up()}, or allow what is banned for its stand-ins")
    return tuple(what), tuple(help_)
