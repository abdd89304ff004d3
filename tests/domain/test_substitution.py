"""What a stand-in costs, and how much replaces how much."""

from __future__ import annotations

from math import log
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.catalogue import PATTERNS, Movement, Tier
from planner.domain.substitution import stand_in_dose, substitution_cost
from planner.domain.timing import dose_tenths


def movement(name: str = "air_squat", **changes: Any) -> Movement:
    values: dict[str, Any] = {
        "id": name,
        "name": name,
        "patterns": {"squat": 100},
        "modality": "bodyweight",
        "setups": [{}],
        "roles": ["conditioning"],
        "doses": {"open": [10, 15, 20]},
        "cap": 200,
        "pace": {"seconds": 2, "source": "common practice", "slower_percent": 0},
        "standard": "Hips below the knees.",
        "points": ["chest up"],
        "prepares": ["hips"],
    }
    return Movement.model_validate(values | changes)


LOADED = {"modality": "loaded", "doses": {"light": [10, 20], "heavy": [5, 8]}, "kg": {"light": [20, 15]}}
SQUAT = movement()
THRUSTER = movement("thruster", patterns={"squat": 50, "vertical_push": 50}, **LOADED)


@pytest.mark.parametrize(
    ("original", "stand_in", "cost"),
    [
        (SQUAT, SQUAT, 0),
        (SQUAT, movement("same_but_named"), 1),
        (SQUAT, movement("half", patterns={"squat": 60, "trunk": 40}), 10),
        (SQUAT, movement("kin", patterns={"squat": 60, "jump": 40}), 5),  # half of a squat's in a jump
        (SQUAT, movement("lunge", patterns={"lunge": 100}), 10),
        (SQUAT, movement("other", patterns={"hinge": 100}), 45),
        (SQUAT, movement("hold", unit="seconds"), 6),
        (SQUAT, movement("harder", skill=3), 12),
        (movement("hard", skill=3), movement("soft", skill=1), 2),
        (SQUAT, movement("gripped", takes={"grip": 2, "overhead": 1}), 3),
        (SQUAT, movement("sides", sides="per_side"), 2),
        (SQUAT, movement("with_load", **LOADED), 1),
        (THRUSTER, SQUAT, 12),
    ],
)
def test_cost(original: Movement, stand_in: Movement, cost: int) -> None:
    assert substitution_cost(original, stand_in) == cost


def test_a_cost_set_by_hand_wins_one_way_only() -> None:
    original, other = movement(substitutes={"other": 3}), movement("other", patterns={"hinge": 100})
    assert substitution_cost(original, other) == 3
    assert substitution_cost(other, original) == 45


def moving(name: str, seconds: float = 2, pace: str = "steady", **changes: Any) -> Movement:
    """A squat that is known to move: all legs and hips, 438 J for a man of 80 kg."""
    motion = {"path": ["stand", "deep_squat"], "pace": pace}
    return movement(name, motion=motion, pace={"seconds": seconds, "source": "none"}, **changes)


@pytest.mark.parametrize(
    ("seconds", "cost"),
    [
        (2.0, 1),
        (2.4, 1),  # a fifth slower costs nought
        (4.0, round(40 * (log(2) - log(1.2)))),
        (1.3, 1),  # up to 1.6 times the power costs nought
        (1.0, round(40 * (log(2) - log(1.6)))),
    ],
)
def test_power_lost_costs_and_surplus_only_when_large(seconds: float, cost: int) -> None:
    assert substitution_cost(moving("fast"), moving("other", seconds)) == cost


def test_power_counts_by_the_share_of_legs_hips_and_lungs() -> None:
    """A press of half the power is as good: arms are not what the piece was for."""
    press = {"path": ["stand rack", "stand overhead"]}
    strict = movement("press", motion=press, pace={"seconds": 2, "source": "none"}, **LOADED)
    slow = movement("slow", motion=press, pace={"seconds": 4, "source": "none"}, **LOADED)
    assert substitution_cost(strict, slow) == 1


def test_each_step_slower_in_kind_costs_four() -> None:
    fast = moving("fast", pace="ballistic")
    assert substitution_cost(fast, moving("steady")) == 4
    assert substitution_cost(fast, moving("slow", pace="slow")) == 8
    assert substitution_cost(moving("steady"), fast) == 1


def test_a_lift_goes_by_what_a_side_has_to_overcome() -> None:
    """On one leg it is twice as much, slow is as good, and a jump is no lift."""
    lift, slow = moving("lift"), moving("slow", 8, pace="slow")
    rack = {"path": ["stand rack", "deep_squat rack"]}
    heavy = movement("heavy", motion=rack, **LOADED | {"kg": {"light": [60, 40]}})
    assert substitution_cost(lift, slow, lift=True) == 1
    assert substitution_cost(lift, moving("jump", pace="ballistic"), lift=True) == 16
    two, one = moving("two"), moving("one", sides="per_side")
    assert substitution_cost(heavy, one, lift=True) < substitution_cost(heavy, two, lift=True)


SHARES = st.integers(1, 99).flatmap(
    lambda n: st.lists(st.sampled_from(PATTERNS), min_size=2, max_size=2, unique=True).map(
        lambda two: {two[0]: n, two[1]: 100 - n}
    )
)
MOVEMENTS = st.builds(
    lambda name, patterns, skill, grip, unit, sides: movement(
        name, patterns=patterns, skill=skill, takes={"grip": grip}, unit=unit, sides=sides
    ),
    st.sampled_from(["a", "b"]),
    SHARES,
    st.integers(1, 3),
    st.integers(0, 2),
    st.sampled_from(["reps", "metres", "calories", "seconds"]),
    st.sampled_from(["both", "alternating", "per_side"]),
)


@given(MOVEMENTS, MOVEMENTS)
def test_cost_is_nought_only_for_itself_and_never_above_100(one: Movement, other: Movement) -> None:
    cost = substitution_cost(one, other)
    assert isinstance(cost, int)
    assert (cost == 0) == (one.id == other.id)
    assert 0 <= cost <= 100


@pytest.mark.parametrize(
    ("dose", "changes", "tier", "offered"),
    [
        (15, {}, "open", (15, 10)),  # the number itself, then what takes about as long
        (12, {}, "open", (12, 10, 15)),  # not in its list, but between its least and its most
        (15, LOADED, "light", (15, 10, 20)),
        (15, LOADED, "heavy", (8, 5)),  # 30 s against 24 s and 15 s
        (8, LOADED, "open", (8, 5, 10)),
        (40, {}, "open", (20, 15)),
        (15, {"unit": "metres", "doses": {"open": [10, 20, 40]}}, "open", (10, 20)),
        (15, {"doses": {"open": [16]}, "cap": 16}, "open", (16,)),
        (
            15,
            {"modality": "loaded", "doses": {}, "roles": ["assistance"], "kg": {"light": [9, 6]}},
            "light",
            (),
        ),
    ],
)
def test_dose(dose: int, changes: dict[str, Any], tier: Tier, offered: tuple[int, ...]) -> None:
    assert stand_in_dose(SQUAT, dose, movement("stand_in", **changes), tier) == offered


def test_a_dose_of_its_own_stays() -> None:
    assert stand_in_dose(SQUAT, 99, SQUAT, "open") == (99,)


@given(st.integers(1, 60), st.lists(st.integers(2, 60), min_size=1, max_size=6, unique=True))
def test_doses_offered_are_its_own_and_none_nearer_is_left_out(dose: int, own: list[int]) -> None:
    stand_in = movement("stand_in", unit="calories", doses={"open": sorted(own)})
    offered = stand_in_dose(SQUAT, dose, stand_in, "open")
    wanted = dose_tenths(SQUAT, dose)
    off = {n: abs(dose_tenths(stand_in, n) - wanted) for n in own}
    assert set(offered) <= set(own)
    assert len(offered) == min(2, len(own))
    assert max(off[n] for n in offered) <= min((off[n] for n in own if n not in offered), default=10**9)
