"""What a line taxes, on lines that no coach would doubt."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import Tier
from planner.domain.lifting import TYPICAL, load_in_hands_kg
from planner.domain.limiter import limiter_of
from planner.domain.work import effort_of
from planner.load.catalogue import load_catalogue
from planner.paths import home

CATALOGUE = load_catalogue(home().shared / "catalogue")


@pytest.mark.parametrize(
    ("movement", "dose", "tier", "taxes"),
    [
        ("row_erg", 500, "open", "lungs"),
        ("run", 400, "open", "lungs"),
        ("burpee", 15, "open", "lungs"),
        ("thruster", 15, "light", "lungs"),
        ("front_squat", 5, "heavy", "legs"),
        ("deadlift", 5, "heavy", "legs"),
        ("dumbbell_walking_lunge", 20, "moderate", "legs"),
        ("push_up", 15, "open", "pushing"),
        ("push_press", 10, "moderate", "pushing"),
        ("pull_up", 10, "open", "pulling"),
        ("ring_row", 12, "open", "pulling"),
        ("kettlebell_farmer_carry", 80, "moderate", "grip"),
        ("sit_up", 20, "open", "trunk"),
        ("plank", 60, "open", "trunk"),
        ("muscle_up", 5, "open", "skill"),
        ("skip_double", 60, "open", "skill"),
    ],
)
def test_what_gives_first(movement: str, dose: int, tier: Tier, taxes: str) -> None:
    one = CATALOGUE.movements[movement]
    effort = effort_of(one, load_in_hands_kg(one, tier, TYPICAL), TYPICAL.body, tier)
    assert limiter_of(one, dose, tier, effort) == taxes


def test_a_short_set_of_much_power_is_not_yet_the_lungs() -> None:
    """Three heavy squats tax the legs; a dozen light ones the lungs."""
    one = CATALOGUE.movements["front_squat"]
    tiers: tuple[Tier, ...] = ("heavy", "light")
    heavy, light = (effort_of(one, load_in_hands_kg(one, t, TYPICAL), TYPICAL.body, t) for t in tiers)
    assert limiter_of(one, 3, "heavy", heavy) == "legs"
    assert limiter_of(one, 12, "light", light) == "lungs"
