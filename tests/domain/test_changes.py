"""A gym with something changed: counts, masses, days, class, kit versions."""

from __future__ import annotations

import pytest

from planner.domain.changes import GymChanges, changed_gym, changes_from_words, kit_from_words
from planner.domain.gym import Gym
from tests.prescribe import builders

GYM = builders.gym(hard_days=("mon", "fri"), easy_days=("wed",))


def after(**changes: object) -> Gym:
    return changed_gym(GYM, GymChanges.model_validate(changes))


def test_what_is_lost_is_gone_and_the_rest_as_it_was() -> None:
    made = after(without=("rower",))
    assert "rower" not in made.inventory
    assert {**made.inventory, "rower": 4} == GYM.inventory


def test_a_new_count_cuts_all_masses_down_alike() -> None:
    """Of 14 bars, 8 and 6, seven are left: half of each."""
    assert after(counts={"barbell": 7}).inventory["barbell"] == {20: 4, 15: 3}
    assert after(counts={"rack": 1}).count("rack") == 1
    assert after(counts={"kettlebell": 0}).count("kettlebell") == 0


def test_a_new_count_of_one_mass_leaves_the_others() -> None:
    assert after(mass_counts={"barbell": {20: 2}}).inventory["barbell"] == {20: 2, 15: 6}
    with pytest.raises(ValueError, match="not counted by mass"):
        after(mass_counts={"rack": {20: 2}})


def test_hard_and_easy_days_go_with_the_days_that_close() -> None:
    made = after(days=("mon", "wed"))
    assert (made.days, made.hard_days, made.easy_days) == (("mon", "wed"), ("mon",), ("wed",))
    assert after(class_size=16).class_.size == 16
    assert after(class_size=16).class_.minutes == GYM.class_.minutes


def test_kit_versions_come_and_go() -> None:
    made = after(drop_kits=("no_kit",), add_kits=(kit_from_words("garage=barbell,rack").model_dump(),))
    assert [k.id for k in made.kits] == ["floor", "home_barbell", "one_plate", "garage"]
    with pytest.raises(ValueError, match='no kit version "none"'):
        after(drop_kits=("none",))


@pytest.mark.parametrize(
    ("word", "counts", "masses"),
    [
        ("rower=2", {"rower": 2}, {}),
        ("bar20=6", {}, {"barbell": {20: 6}}),
        ("barbell15=1", {}, {"barbell": {15: 1}}),
        ("dumbbell22.5=4", {}, {"dumbbell": {22.5: 4}}),
        ("barbell=3", {"barbell": 3}, {}),
        ("bar=3", {"barbell": 3}, {}),
    ],
)
def test_changes_as_written(word: str, counts: dict[str, int], masses: dict[str, dict[float, int]]) -> None:
    made = changes_from_words((), (word,), None, None)
    assert (made.counts, made.mass_counts, made.days) == (counts, masses, None)


def test_days_as_written_come_in_the_weeks_order() -> None:
    assert changes_from_words((), (), "thu, mon", None).days == ("mon", "thu")
    with pytest.raises(ValueError, match='"today" is not a day'):
        changes_from_words((), (), "mon,today", None)
