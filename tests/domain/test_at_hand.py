"""Which way of doing a movement serves with what is at hand."""

from __future__ import annotations

import pytest

from planner.domain.at_hand import held_items, usable_setup
from planner.domain.line import near_at_hand
from tests.domain.test_substitution import SQUAT, movement
from tests.prescribe import builders

SETUPS = [{"needs": ["barbell", "rack"], "start": "rack"}, {"needs": ["barbell"], "start": "floor"}]


def test_the_first_setup_that_the_kit_allows() -> None:
    squat = movement(setups=SETUPS)
    assert usable_setup(squat, frozenset({"barbell", "rack", "box"})) == squat.setups[0]
    assert usable_setup(squat, frozenset({"barbell"})) == squat.setups[1]
    assert usable_setup(squat, frozenset({"rack"})) is None
    assert usable_setup(SQUAT, frozenset()) == SQUAT.setups[0]


def test_a_bar_comes_from_a_rack_in_the_strength_piece_only() -> None:
    squat, held = movement(setups=SETUPS), frozenset({"barbell", "rack"})
    assert usable_setup(squat, held, "main") == squat.setups[0]
    assert usable_setup(squat, held, "conditioning") == squat.setups[1]


def test_what_the_gym_has_none_of_is_not_at_hand() -> None:
    """An item that is listed with a count of nought is as good as not listed."""
    gym = builders.gym(inventory={"rack": 0, "barbell": {20: 0, 15: 0}, "rower": 1})

    assert held_items(gym, gym.kits[0]) == {"rower"}


@pytest.mark.parametrize(("kg", "near"), [(11.5, 0), (12, 1), (20, 1), (30, 1), (30.5, 0)])
def test_near_is_from_a_little_under_the_womens_to_a_little_over_the_mens_and_the_edges_count(
    kg: float, near: int
) -> None:
    swing = movement(
        modality="loaded",
        doses={"light": [10]},
        lift=None,
        kg={"light": (24, 20)},
        setups=[{"needs": ["bell"]}],
    )
    gym = builders.gym(inventory={"bell": {kg: 1}})

    assert near_at_hand(gym, swing, "light", "bell") == near
    assert near_at_hand(gym, swing, "heavy", "bell") == 1
