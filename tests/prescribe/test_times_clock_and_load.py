"""Predictions, the class clock, and the week's planned load."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.clock import Turns, sets_seconds, strength_minutes
from planner.domain.timing import hardness_of
from planner.prescribe.clock import class_clock
from planner.prescribe.times import cap_minutes, predict, typical_seconds
from planner.prescribe.week_load import (
    change_percent,
    monotony,
    session_load_au,
    strain,
)
from tests.plans import session_minutes

from .builders import catalogue, movement, scheme, shape, table

DOMAIN = catalogue().domains["medium"]
SQUATS = [(movement("air_squat"), 15, "open")]
"""Fifteen at two seconds and a five-second change: 35 s a round, 37.8 s with fatigue."""


def test_for_time() -> None:
    got = predict(SQUATS, shape(), DOMAIN)
    assert (got.unit, got.quick, got.typical, got.slow) == ("seconds", 121, 152, 198)
    assert got.text == "about 2:32 (quick 2:01, slow 3:18)"


def test_the_clock_ends_it() -> None:
    got = predict(SQUATS, shape(fixed_minutes=6, cap_minutes=6), DOMAIN)
    assert (got.unit, got.quick, got.typical, got.slow) == ("tenths_of_rounds", 119, 94, 72)
    assert got.text == "about 9.4 rounds (quick 11.9, slow 7.2)"


def test_slots_are_all_done() -> None:
    every = predict(SQUATS, shape(fixed_minutes=8, every_s=120), DOMAIN)
    assert (every.quick, every.slow) == (40, 40)
    assert every.text == "about 0:38 of work in each 2:00 (quick 0:31, slow 0:50)"
    stations = predict(SQUATS, shape(fixed_minutes=12, station_s=(25, 45)), DOMAIN)
    assert stations.text == "about 30 seconds of work in each minute"


def test_a_ladder_is_done_once() -> None:
    rungs = shape(rounds=1, ladder=(15, 12, 9))
    assert typical_seconds([(movement("air_squat"), 36, "open")], rungs, DOMAIN) == 94  # 72 + 3 x 5, and 8 %


def test_cap_comes_from_the_slow_athlete() -> None:
    got = predict(SQUATS, shape(), DOMAIN)
    assert cap_minutes([got], shape()) == 4
    assert cap_minutes([got], shape(cap_minutes=3)) == 3
    assert cap_minutes([got], shape(cap_minutes=6, heats=2)) == 3
    assert cap_minutes([got], shape(fixed_minutes=12)) is None


@given(st.integers(1, 12), st.integers(1, 12), st.booleans(), st.integers(1, 40))
def test_clock_adds_up(sets: int, reps: int, beside: bool, cap: int) -> None:
    """Block by block from the figures of scheme and shape.

    Three seconds a rep, two minutes a rest, the build-up's nine reps and a minute after each of its sets.
    """
    seconds = 9 * 3 + 3 * 60 + sets * reps * 3 + (sets - 1) * 120
    strength = -(-seconds // 60) + 2 * beside
    both = {
        "Brief": 2,
        "Warm-up": 9,
        "Strength": strength,
        "Change over": 3,
        "Conditioning": cap,
        "Cool-down": 4,
    }
    no_strength = {k: n for k, n in both.items() if k not in {"Strength", "Change over"}}
    no_piece = {k: n for k, n in both.items() if k not in {"Conditioning", "Change over"}}
    main, form = scheme(sets=sets, reps=reps), shape(cap_minutes=cap)
    for chosen, run, wanted in ((main, form, both), (None, form, no_strength), (main, None, no_piece)):
        minutes = strength_minutes(chosen, beside), run.cap_minutes if run else 0
        entries = class_clock(zip(("strength", "conditioning"), minutes, strict=True))
        assert {e.label: e.minutes for e in entries} == wanted
        assert session_minutes(chosen, beside, run) == sum(wanted.values())
        starts = [e.start_minute for e in entries]
        assert starts == [sum([*wanted.values()][:i]) for i in range(len(wanted))]


def test_strength_minutes() -> None:
    """Build-up of 9 reps and 3 minutes, then 20 reps and three rests of 2 min: 627 s."""
    assert strength_minutes(scheme(), assistance=False) == 11
    assert strength_minutes(scheme(), assistance=True) == 13
    assert strength_minutes(None, assistance=True) == 0
    assert session_minutes(scheme(), assistance=True, shape=shape()) == 2 + 9 + 13 + 3 + 17 + 4


def test_turns_at_a_rack() -> None:
    """Three to a rack and 40 s for the plates: a set comes round after three turns, or after its own rest.

    The last three turns have two changes between them. Build-up goes round in turn, with no other rest.
    """
    own = scheme()
    each = own.set_seconds(own.reps)
    build = [reps * own.seconds_per_rep for _, reps in own.build_up]
    work = 3 * max(each + own.rest_s, 3 * (each + 40)) + 3 * each + 2 * 40
    assert sets_seconds(own, Turns(3, 40)) == round(sum(3 * (x + 40) for x in build) + work)
    assert sets_seconds(own, Turns(2, 40)) < sets_seconds(own, Turns(3, 40))
    twice = sets_seconds(own, Turns(1, 0, sides=2))
    assert twice == sets_seconds(own) + round(own.sets * each + sum(build))


def test_worked_example() -> None:
    rows = table("monotony_example.csv")
    daily = [session_load_au(int(r["rpe"]), int(r["minutes"])) for r in rows]
    assert daily == [int(r["load_au"]) for r in rows]
    want = {r["quantity"]: float(r["value"]) for r in table("monotony_results.csv")}
    assert sum(daily) == want["weekly_load_au"]
    assert monotony(daily) == pytest.approx(want["monotony_sample_sd"], abs=0.0001)
    assert strain(daily) == pytest.approx(want["strain_sample_sd"], abs=0.01)


def test_equal_days_have_no_monotony() -> None:
    assert monotony([300] * 7) is None
    assert strain([300] * 7) is None
    assert monotony([]) is None


@given(st.lists(st.integers(0, 600), min_size=7, max_size=7), st.integers(2, 5))
def test_monotony_does_not_depend_on_the_unit(daily: list[int], factor: int) -> None:
    before, after = monotony(daily), monotony([factor * au for au in daily])
    assert (before is None) == (after is None)
    if before is not None:
        assert after == pytest.approx(before)
        mean = Fraction(sum(daily), 7)
        assert before**2 == pytest.approx(float(mean**2 / (sum((x - mean) ** 2 for x in daily) / 6)))


def test_change() -> None:
    assert change_percent(2200, [2000, 2000, 2100, 1900]) == 10
    assert change_percent(2200, []) is None
    assert change_percent(2200, [0]) is None


def test_hardness() -> None:
    assert [hardness_of(r) for r in (1, 5, 6, 7, 8, 10)] == [
        "easy",
        "easy",
        "medium",
        "medium",
        "hard",
        "hard",
    ]
