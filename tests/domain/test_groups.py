"""Groups of patterns: what they hold, and how days are named after them."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from planner.domain.catalogue import PATTERNS
from planner.domain.groups import GROUPS, PATTERNS_AND_GROUPS, day_words, is_group, patterns_of, work_words
from planner.domain.requests import Lock, Requests, Wish
from planner.rules.where import Where
from tests.domain.test_substitution import movement


def test_groups_hold_patterns_and_share_no_name_with_one() -> None:
    for name, patterns in GROUPS.items():
        assert is_group(name)
        assert name not in PATTERNS
        assert set(patterns) < set(PATTERNS)
    assert len(set(PATTERNS_AND_GROUPS)) == len(PATTERNS) + len(GROUPS)


def test_push_and_pull_make_the_upper_body_and_are_apart_from_the_legs() -> None:
    push, pull, legs = (set(patterns_of(g)) for g in ("push", "pull", "legs"))
    assert push | pull == set(patterns_of("upper"))
    assert legs == set(patterns_of("lower"))
    assert not push & pull
    assert not legs & (push | pull)
    assert patterns_of("squat") == ("squat",)


@pytest.mark.parametrize(
    ("lock", "said"),
    [
        (Lock(day="tue", part="property", pattern="pull"), "Tuesday stays a pull day"),
        (Lock(day="tue", part="property", pattern="legs"), "Tuesday stays a leg day"),
        (Lock(day="tue", part="property", pattern="upper"), "Tuesday stays an upper-body day"),
        (Lock(day="tue", part="property", pattern="vertical_pull"), "Tuesday keeps vertical pull work"),
        (Lock(day="tue", part="property", domain="long"), "Tuesday stays long in the conditioning"),
        (Lock(day="tue", part="property", hardness="hard"), "Tuesday stays hard"),
    ],
)
def test_a_locked_property_in_words(lock: Lock, said: str) -> None:
    assert lock.words() == said


def test_words_for_days_and_work() -> None:
    assert (day_words("lower"), work_words("lower")) == ("a lower-body day", "lower-body work")
    assert (day_words("hinge"), work_words("hinge")) == ("a hinge day", "hinge work")


def test_a_group_is_read_again_as_it_was_written() -> None:
    asked = Requests(
        locks=(Lock(day="tue", part="property", pattern="pull"),), wishes=(Wish(pattern="upper", day="fri"),)
    )
    assert Requests.model_validate_json(asked.model_dump_json()) == asked
    with pytest.raises(ValidationError, match="'legs', 'upper' or 'lower'"):
        Wish.model_validate({"pattern": "pulls"})


def test_a_selector_takes_a_group_for_its_patterns() -> None:
    assert Where.model_validate({"pattern": ["pull", "vertical_pull", "carry"]}).pattern == (
        "horizontal_pull",
        "vertical_pull",
        "carry",
    )
    assert Where.model_validate({"main_pattern": "push"}) == Where(
        main_pattern=("horizontal_push", "vertical_push")
    )


def test_share_of_a_pattern() -> None:
    swing = movement("swing", patterns={"hinge": 85, "trunk": 15})
    assert [swing.share_of(p) for p in ("hinge", "trunk", "squat")] == [85, 15, 0]
