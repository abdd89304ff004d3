"""Merge: days taken stay to the letter; where they cannot stand in one week, what clashes is said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.audit.audit import audit_plan, broken_musts
from planner.audit.reading import plan_of
from planner.domain.gym import Day
from planner.domain.requests import Lock, Requests
from planner.domain.week import Week
from planner.errors import NoPlanError
from planner.weeks.keepable import solved
from planner.weeks.merge import merge
from planner.weeks.redraft import redraft
from planner.weeks.setting import Setting
from planner.weeks.written import solved_week
from tests.weeks import small


@pytest.mark.parametrize(
    "days", [(("mon", 3), ("wed", 5)), (("wed", 2),), (("mon", 2), ("wed", 2), ("fri", 2))]
)
def test_days_taken_stay_to_the_letter(days: tuple[tuple[str, int], ...]) -> None:
    taken = {day: small.week(seed) for day, seed in days}
    merged = plan_of(merge(small.setting(), taken, seconds=small.SECONDS))

    by_day = {s.day: s for s in merged.sessions}
    assert tuple(by_day) == small.DAYS
    for day, week in taken.items():
        assert by_day[day] == next(s for s in plan_of(week).sessions if s.day == day)
    assert not broken_musts(audit_plan(small.setting().problem(), merged))


def test_days_that_cannot_stand_together_clash() -> None:
    """Monday's conditioning movement is on Friday as well in the other week; it may come once."""
    first = small.week()
    monday = plan_of(first).sessions[0].versions["floor"].conditioning[0].movement
    lock = Lock(day="fri", part="movement", movement=monday, piece="conditioning")
    here = small.setting().asking(Requests(locks=(lock,)))
    second = redraft(here, first, seconds=small.SECONDS).week

    with pytest.raises(NoPlanError) as refused:
        merge(small.setting(), {"mon": first, "fri": second}, seconds=small.SECONDS)
    said = str(refused.value)
    assert "Monday's conditioning is taken as it is" in said
    assert "Friday's conditioning is taken as it is" in said
    assert "conditioning-once" in said
    assert {"do not take Monday", "do not take Friday"} <= set(refused.value.remedies)
    assert "lock" not in said


def test_a_lock_is_the_coachs_wherever_the_coach_made_one() -> None:
    """What is said of a day that is taken and locked: the coach can only unlock it."""
    taken = Lock(day="mon", part="day", made_by="merge")
    own = Lock(day="mon", part="strength")
    problem = small.setting().asking(Requests(locks=(taken, own)), plan_of(small.week())).problem()

    assert problem.lock_of("mon", "strength").give_up() == "unlock Monday's strength"
    assert problem.lock_of("mon", "conditioning").words() == "Monday's conditioning is taken as it is"
    assert problem.lock_of("mon", "conditioning").give_up() == "do not take Monday"
    assert Lock(day="mon", part="movement", movement="air_squat", made_by="question").give_up() == ""


LIFTS = {"heavy-squat": "front_squat", "heavy-hinge": "sumo_deadlift", "heavy-press": "split_jerk"}
TWO_DAYS: tuple[Day, ...] = ("mon", "fri")
"""Room for two of the three heavy lifts: one of three shipped musts has to go, and any will do."""


def on_two_days(*locks: Lock) -> Setting:
    gym = small.setting().gym.model_copy(update={"days": TWO_DAYS})
    return replace(small.setting(), gym=gym).asking(Requests(locks=locks))


@pytest.mark.parametrize("gone", LIFTS)
def test_of_musts_that_a_gym_cannot_all_keep_the_one_goes_that_nothing_fixed_asks_for(gone: str) -> None:
    first, second = (lift for rule, lift in LIFTS.items() if rule != gone)
    locks = [
        Lock(day=day, part="movement", movement=lift, piece="strength")
        for day, lift in zip(TWO_DAYS, (first, second), strict=True)
    ]
    here, found = solved(on_two_days(*locks).problem(), small.SECONDS)

    assert found.plan is not None
    lifts = [s.versions["floor"].strength[0].movement for s in found.plan.sessions]
    assert lifts == [first, second]
    assert {o.rule for o in here.requests.overrules} == {gone, "strengthening-days"}
    assert {o.most for o in here.requests.overrules} == {1}


@pytest.mark.slow
def test_two_weeks_that_gave_up_another_must_each_make_one() -> None:
    made = {seed: solved_week(on_two_days().problem(seed=seed), small.SECONDS) for seed in (1, 2, 5, 7)}

    def gone(week: Week) -> set[str]:
        return {r.id for r in week.rules if any(p.overruled for p in r.places)}

    assert len({frozenset(gone(week)) for week in made.values()}) > 1
    for one, other in ((1, 5), (1, 7), (2, 5), (2, 7)):
        week = merge(on_two_days(), {"mon": made[one], "fri": made[other]}, seconds=small.SECONDS)
        assert len(gone(week)) == 2
        assert not broken_musts(week.rules)
