"""Strength without the load: reps from how hard a rep is, two of them left; sets and rests to match."""

from __future__ import annotations

from typing import Any

import pytest

from planner.domain.week import Load
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.paths import home
from planner.prescribe.percent import percent_for
from planner.prescribe.without_load import LEFT, MOST_REPS, WithoutLoad, without_load

SHARED = home().shared
CATALOGUE = load_catalogue(SHARED / "catalogue")
ATHLETES = load_gym(SHARED / "gyms" / "demo", CATALOGUE).athletes


def asked(stand_in: str, original: str, scheme: str = "five_by_five", kg: Any = None) -> WithoutLoad | None:
    movements = CATALOGUE.movements
    loads = [kg and Load(athlete=a.id, kg=x, text="") for a, x in zip(ATHLETES, kg or (0, 0), strict=True)]
    return without_load(movements[stand_in], movements[original], CATALOGUE.schemes[scheme], loads, ATHLETES)


@pytest.mark.parametrize("percent", [65, 75, 85, 90])
def test_a_bar_that_is_held_down_goes_by_the_table(percent: int) -> None:
    movement = CATALOGUE.movements["front_squat"]
    loads = [Load(athlete=a.id, kg=50, text="", percent_1rm=percent) for a in ATHLETES]
    made = without_load(movement, movement, CATALOGUE.schemes["five_by_five"], loads, ATHLETES)
    assert made is not None
    can = max(n for n in range(1, 40) if percent_for(n) >= percent)
    assert made.reps <= max(3, can - LEFT)
    assert made.reps >= min(12, can - LEFT) - 1


def test_one_leg_is_harder_than_two_and_a_heavier_plate_than_a_lighter() -> None:
    two, one = asked("air_squat", "back_squat"), asked("single_leg_squat", "back_squat")
    assert two is not None
    assert one is not None
    assert one.reps * one.seconds <= two.reps * two.seconds
    light = asked("plate_floor_press", "bench_press", kg=(10, 5))
    heavy = asked("plate_floor_press", "bench_press", kg=(60, 40))
    assert light is not None
    assert heavy is not None
    assert light.reps > heavy.reps


def test_light_sets_are_long_few_and_rested_shortly() -> None:
    made = asked("push_up", "bench_press")
    assert made is not None
    assert 12 <= made.reps <= MOST_REPS
    assert (made.sets, made.rest_s) == (4, 75)
    assert made.title.startswith("Four")
    assert made.title.endswith("two short of failure")
    assert made.how.count("seconds down") <= 1


def test_a_slow_movement_has_its_own_tempo_and_shorter_sets() -> None:
    made = asked("tempo_push_up", "bench_press")
    assert made is not None
    assert "seconds down" not in made.how
    assert made.reps * made.seconds <= 75
    assert "slow" in made.title


@pytest.mark.parametrize("scheme", ["power_six_by_three", "skill_practice", "beside_3x8"])
def test_speed_skill_and_assistance_keep_their_own_form(scheme: str) -> None:
    assert asked("push_up", "bench_press", scheme) is None
