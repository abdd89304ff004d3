"""Two values beside each other: what each declaration of a field does, on values made up for it."""

from __future__ import annotations

from typing import Annotated, Literal

import pytest

from planner.domain.base import Value
from planner.domain.difference import NEVER, NOTES, Compared, difference


class Leg(Value):
    to: str
    metres: int
    pace: Annotated[str, Compared("how fast")] = ""
    minutes: Annotated[int, Compared(after=("metres", "pace"))] = 0
    said: Annotated[str, NOTES] = ""


class Walk(Value):
    day: Literal["sat", "fri"]
    legs: Annotated[tuple[Leg, ...], Compared(by="to", in_turn=True)]
    packed: Annotated[tuple[Leg, ...], Compared("bag", by="to")] = ()
    told_by: Annotated[str, NEVER] = ""
    new_field: str = ""


class Log(Value):
    walks: Annotated[tuple[Walk, ...], Compared(by="day")]


LAKE, HILL, INN = Leg(to="lake", metres=900), Leg(to="hill", metres=300), Leg(to="inn", metres=50)


def places(a: Walk, b: Walk) -> set[tuple[str, ...]]:
    return set(difference(a, b).places())


def walk(*legs: Leg, **more: object) -> Walk:
    return Walk.model_validate({"day": "sat", "legs": legs} | more)


@pytest.mark.parametrize(
    ("update", "words"),
    [
        ({"metres": 800}, {"metres"}),
        ({"pace": "quick"}, {"how fast"}),
        ({"minutes": 9}, {"minutes"}),
        ({"minutes": 9, "metres": 800}, {"metres"}),  # it takes longer because it is longer
        ({"said": "flat"}, {"notes"}),
        ({"said": "flat", "minutes": 9}, {"minutes"}),
        ({"pace": "quick", "metres": 800}, {"metres", "how fast"}),
        ({}, set()),
    ],
)
def test_what_differs_in_a_value_is_named_by_its_fields(update: dict[str, object], words: set[str]) -> None:
    other = walk(LAKE.model_copy(update=update), HILL)

    assert places(walk(LAKE, HILL), other) == {("legs", "lake", word) for word in words}
    assert places(other, walk(LAKE, HILL)) == {("legs", "lake", word) for word in words}


def test_a_field_that_declares_nothing_is_compared() -> None:
    assert places(walk(), walk(new_field="x")) == {("new field",)}
    assert places(walk(), walk(told_by="x")) == set()


def test_those_without_a_counterpart_stand_beside_each_other_in_turn() -> None:
    pairs = difference(walk(LAKE, HILL), walk(HILL, INN)).parts["legs"]

    assert [(x.key, x.a, x.b) for x in pairs] == [("hill", HILL, HILL), ("inn / lake", LAKE, INN)]
    assert pairs[1].words == ("to", "metres")


def test_where_the_order_does_not_count_they_stand_alone_under_the_word_for_it() -> None:
    found = difference(walk(packed=(LAKE, HILL)), walk(packed=(HILL, INN)))

    assert [(x.key, x.alone, x.words) for x in found.parts["packed"]] == [
        ("hill", False, ()), ("lake", True, ("bag",)), ("inn", True, ("bag",)),
    ]  # fmt: skip
    assert found.words == ("bag",)


def test_another_order_is_a_difference_where_order_counts() -> None:
    assert places(walk(LAKE, HILL, INN), walk(INN, LAKE, HILL)) == {("order",)}
    assert places(walk(packed=(LAKE, HILL)), walk(packed=(HILL, LAKE))) == set()
    assert places(walk(LAKE, HILL), walk(INN, LAKE, HILL)) == {("legs", "inn", "only")}


def test_keys_with_an_order_of_their_own_keep_it() -> None:
    early, late = walk(), walk(day="fri")
    log = difference(Log(walks=(late,)), Log(walks=(early,)))

    assert [(x.key, x.alone, x.words) for x in log.parts["walks"]] == [
        ("sat", True, ("only",)), ("fri", True, ("only",)),
    ]  # fmt: skip
    assert set(log.places()) == {("walks", "sat", "only"), ("walks", "fri", "only")}


def test_what_is_inside_a_value_that_one_side_lacks_is_there_but_not_told_again() -> None:
    log = difference(Log(walks=(walk(LAKE),)), Log(walks=()))
    (saturday,) = log.parts["walks"]

    assert [x.key for x in saturday.parts["legs"]] == ["lake"]
    assert log.words == saturday.words == ("only",)
    assert list(log.places()) == [("walks", "sat", "only")]


def test_the_second_of_a_key_is_the_second_of_the_other_side() -> None:
    again = HILL.model_copy(update={"metres": 10})

    assert places(walk(HILL, LAKE, HILL), walk(HILL, LAKE, again)) == {("legs", "hill 2", "metres")}
