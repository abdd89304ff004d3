"""With something locked, the rest is as good as can be: brute force over the weeks that keep it."""

from __future__ import annotations

import random

import pytest

from planner.audit.audit import audit_plan, total_cost
from planner.audit.reading import plan_of
from planner.domain.requests import Lock, Requests
from planner.solve.draft import draft_plan
from tests.verbs.tiny import SECONDS, allowed_weeks, changed_pieces, drafted, plan

NUMBERS = [n for n in range(14) if drafted(n) is not None]


@pytest.mark.parametrize("number", NUMBERS)
def test_what_is_not_locked_is_no_worse_than_need_be(number: int) -> None:
    found = drafted(number)
    assert found is not None
    setting, week = found
    dice, before = random.Random(f"locks/{number}"), plan_of(week)
    day = dice.choice(before.sessions).day
    part = dice.choice(("day", "strength", "conditioning"))
    pieces = {part} if part != "day" else {"strength", "conditioning"}
    locked = Requests(locks=(Lock(day=day, part=part),))
    problem = setting.problem(requests=locked, base=before)

    made = draft_plan(problem, SECONDS)

    keeps = [
        points
        for written, points in allowed_weeks(setting.problem())
        if not {(day, piece) for piece in pieces} & changed_pieces(before, plan(written))
    ]
    assert made.plan is not None
    assert not {(day, piece) for piece in pieces} & changed_pieces(before, made.plan)
    assert total_cost(audit_plan(problem, made.plan)) == min(keeps)
