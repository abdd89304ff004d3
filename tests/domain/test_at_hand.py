"""Which way of doing a movement serves with what is at hand."""

from __future__ import annotations

from planner.domain.at_hand import usable_setup
from tests.domain.test_substitution import SQUAT, movement

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
