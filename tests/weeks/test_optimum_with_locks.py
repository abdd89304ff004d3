"""With something locked, the rest is as good as can be: brute force over the weeks that keep it."""

from __future__ import annotations

import random

import pytest

from planner.audit.audit import audit_plan, total_cost
from planner.audit.reading import plan_of
from planner.domain.groups import PatternOrGroup
from planner.domain.requests import Lock, Requests
from planner.solve.search.draft import draft_plan
from tests import oracle
from tests.weeks.tiny import SECONDS, allowed_weeks, changed_pieces, drafted, plan

PROPERTIES: tuple[PatternOrGroup, ...] = ("push", "legs", "upper", "vertical_push", "jump")
MAIN_LIFTS = {"push": {"press"}, "upper": {"press"}, "legs": {"squat"}}
WORK = {"vertical_push": {"press"}, "jump": {"hop"}}
"""Of the tiny catalogue, written down by hand."""
NUMBERS = range(14)


@pytest.mark.parametrize("number", NUMBERS)
def test_what_is_not_locked_is_no_worse_than_need_be(number: int) -> None:
    found = drafted(number)
    if found is None:
        return
    setting, week = found
    dice, before = random.Random(f"locks/{number}"), plan_of(week)
    day = dice.choice(before.sessions).day
    part = dice.choice(("day", "strength", "conditioning"))
    pieces = {part} if part != "day" else {"strength", "conditioning"}
    locked = Requests(locks=(Lock(day=day, part=part),))
    problem = setting.asking(locked, before).problem()

    made = draft_plan(problem, SECONDS)

    keeps = [
        points
        for written, points in allowed_weeks(setting.problem())
        if not {(day, piece) for piece in pieces} & changed_pieces(before, plan(written))
    ]
    assert made.plan is not None
    assert not {(day, piece) for piece in pieces} & changed_pieces(before, made.plan)
    assert total_cost(audit_plan(problem, made.plan)) == min(keeps)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_day_named_after_a_pattern_or_group_is_the_best_of_that_name(number: int) -> None:
    found = drafted(number)
    if found is None:
        return
    setting, week = found
    weeks = allowed_weeks(setting.problem())
    for name in PROPERTIES:
        day = random.Random(f"{number}/{name}").choice(setting.gym.days)
        lock = Lock(day=day, part="property", pattern=name)
        problem = setting.asking(Requests(locks=(lock,)), plan_of(week)).problem()

        keeps = [points for written, points in weeks if _is(name, written, day)]
        made = draft_plan(problem, SECONDS)

        if not keeps:
            assert made.plan is None
            continue
        assert made.plan is not None
        assert total_cost(audit_plan(problem, made.plan)) == min(keeps)


def _is(name: str, written: tuple[oracle.Written, ...], day: str) -> bool:
    """Whether the day's main lift, or for a single pattern any of its lines, is of that name."""
    (session,) = (w.plan for w in written if w.plan.day == day)
    floor = next(iter(session.versions.values()))
    (main,) = (x.movement for x in floor.strength if not x.assistance)
    if name in MAIN_LIFTS:
        return main in MAIN_LIFTS[name]
    movements = {x.movement for x in (*floor.strength, *floor.conditioning)}
    return bool(movements & WORK[name])
