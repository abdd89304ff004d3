"""A locked piece in the kit versions: another stand-in is told of, and none at all is explained."""

from __future__ import annotations

from functools import cache

import pytest

from planner.audit.reading import plan_of
from planner.cli.tables.life import version_lines
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.requests import Ban, Lock, Requests
from planner.domain.words import spoken
from planner.errors import NoPlanError
from planner.solve.explain.no_week import MOST_BANS
from planner.weeks.redraft import redraft
from tests.weeks import small

KIT = "no_kit"


def test_a_banned_stand_in_of_a_locked_day_is_told_of() -> None:
    session = plan_of(small.week()).sessions[0]
    floor = {x.movement for x in session.versions["floor"].conditioning}
    gone = next(x.movement for x in session.versions[KIT].conditioning if x.movement not in floor)
    requests = Requests(
        locks=(Lock(day=session.day, part="day"),), bans=(Ban(movement=gone, day=session.day),)
    )
    made = redraft(small.setting().asking(requests), small.week(), seconds=small.SECONDS)

    assert not made.changes
    (told,) = [x for x in made.versions if gone in x.gone]
    new = next(s for s in plan_of(made.week).sessions if s.day == session.day)
    now = {x.movement for x in new.versions[KIT].conditioning}
    assert (told.day, told.piece, told.kit) == (session.day, "conditioning", KIT)
    assert set(told.new) == now - {x.movement for x in session.versions[KIT].conditioning}
    assert gone not in now
    assert new.versions["floor"] == session.versions["floor"]
    said = " ".join(version_lines(made.week, made))
    assert gone.replace("_", " ") in said
    assert "conditioning stays" in said


EASY = ("burpee", "sit_up", "reverse_lunge", "inchworm", "plank")
"""Movements that take no equipment and suit almost any conditioning."""


def crowded() -> tuple[Day, Requests]:
    """The longest conditioning is locked, and one movement too few is left to stand in for all its lines."""
    sessions = plan_of(small.week()).sessions
    session = max(sessions, key=lambda s: len(s.versions["floor"].conditioning))
    floor = {x.movement for x in session.versions["floor"].conditioning}
    bare = {
        m.id
        for m in small.setting().catalogue.movements.values()
        if "conditioning" in m.all_roles and any(not s.needs for s in m.setups)
    }
    spare = len(floor) - 1 - len(floor & bare)
    left = floor | set([m for m in EASY if m in bare - floor][:spare])
    bans = tuple(Ban(movement=m, day=session.day) for m in sorted(bare - left))
    assert len(bans) > MOST_BANS
    return session.day, Requests(locks=(Lock(day=session.day, part="conditioning"),), bans=bans)


def drafted(requests: Requests) -> None:
    redraft(small.setting().asking(requests), small.week(), seconds=small.SECONDS)


@cache
def refused() -> NoPlanError:
    """What is said of it."""
    with pytest.raises(NoPlanError) as caught:
        drafted(crowded()[1])
    return caught.value


@pytest.mark.slow
def test_a_locked_day_without_enough_stand_ins_says_with_which_kit_and_how_many_bans() -> None:
    (day, requests), (clash,) = crowded(), refused().clashes
    lock, bans = clash
    assert lock.startswith(f"{DAY_NAMES[day]}'s conditioning is locked")
    assert "No kit" in lock
    assert "Gym floor" not in lock
    assert bans.startswith("no ")
    assert bans.endswith(f"on {DAY_NAMES[day]}: {len(requests.bans)} bans")
    assert sum(spoken(b.movement) in bans for b in requests.bans) < len(requests.bans)


def test_a_day_with_too_few_stand_ins_gets_fewer_lines_or_others() -> None:
    """What fails is no line's own fault: a week is found in the time, and of its stand-ins none is twice."""
    day, requests = crowded()
    made = redraft(
        small.setting().asking(requests.model_copy(update={"locks": ()})), small.week(), seconds=small.SECONDS
    )
    after = next(s for s in plan_of(made.week).sessions if s.day == day)
    at_home = [x.movement for x in after.versions[KIT].conditioning]
    assert [(c.day, c.piece) for c in made.changes] == [(day, "conditioning")]
    assert len(set(at_home)) == len(at_home) == len(after.versions["floor"].conditioning)
    assert not {b.movement for b in requests.bans} & set(at_home)
    assert made.proved


@pytest.mark.slow
def test_of_dozens_of_bans_one_is_enough_to_allow_and_to_unlock_the_day_is_another_way_out() -> None:
    day, requests = crowded()
    allowed = {f"allow {spoken(b.movement)}": b for b in requests.bans}
    named = [allowed[way] for way in refused().remedies if way in allowed]
    assert named
    assert f"unlock {DAY_NAMES[day]}'s conditioning" in refused().remedies
    drafted(requests.model_copy(update={"locks": ()}))
    for ban in named:
        drafted(requests.model_copy(update={"bans": tuple(b for b in requests.bans if b != ban)}))
