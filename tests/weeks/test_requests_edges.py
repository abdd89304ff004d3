"""What is asked of a week, where two things are near each other: only the one that is meant changes."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from planner.domain.plan import SessionPlan, StrengthLine, VersionPlan
from planner.domain.requests import Ban, Lock, Requests
from planner.domain.week import RulePlace, Week
from planner.errors import DataError
from planner.problem.problem import assemble_problem
from planner.store.store import Store, open_store
from planner.weeks import keeping, names, requests
from planner.weeks.offered import why_never
from planner.weeks.setting import Setting
from tests.measured.weeks import Pool, data_of, gym_of, written
from tests.solve.demo import WEEK, shipped
from tests.weeks import small

LONG, HARD = (
    Lock(day="fri", part="property", domain="long"),
    Lock(day="fri", part="property", hardness="hard"),
)
MONDAY = Lock(day="mon", part="strength")


@cache
def setting() -> Setting:
    catalogue, _, rules = shipped()
    return Setting(catalogue, gym_of(12, 3), rules, (), WEEK)


@cache
def week() -> Week:
    """Any week; two rules give way on Monday in places of their own, one of them in two."""
    catalogue, _, rules = shipped()
    problem = assemble_problem(catalogue, gym_of(12, 3), rules, (), WEEK, 1)
    made = written(problem, Pool(data_of(12, 3), random.Random(2)).plan(WEEK))
    places = {"one-pattern-once": ("mon: squat", "mon: hinge", "tue: trunk"), "grip-once": ("mon: grip",)}
    changed = tuple(
        r.model_copy(
            update={
                "places": tuple(RulePlace(place=p, measure=1, sentence="So.") for p in places.get(r.id, ()))
            }
        )
        for r in made.rules
    )
    return made.model_copy(update={"rules": changed})


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store(small.gym_folder(tmp_path)) as opened:
        keeping.keep(opened, WEEK, [("drafted", week())], "drafted")
        yield opened


def asked(store: Store) -> Requests:
    return store.state(WEEK).requests


def by_hand(movement: str) -> SessionPlan:
    floor = VersionPlan(strength=(StrengthLine(movement=movement, scheme="five_by_five"),), conditioning=())
    return SessionPlan(day="fri", shape="any", versions={"floor": floor})


def test_unlocking_one_thing_leaves_all_the_others_locked(store: Store) -> None:
    for wanted in (LONG, HARD, MONDAY):
        requests.lock(store, setting(), wanted)

    requests.unlock(store, setting(), LONG)

    assert asked(store).locks == (HARD, MONDAY)


def test_a_ban_of_the_week_and_one_of_a_day_are_two(store: Store) -> None:
    whole, monday = Ban(movement="burpee"), Ban(movement="burpee", day="mon")
    for wanted in (whole, monday):
        requests.ban(store, setting(), wanted)
        with pytest.raises(DataError, match="so already"):
            requests.ban(store, setting(), wanted)

    requests.allow(store, setting(), monday)

    assert asked(store).bans == (whole,)


def test_a_day_is_place_enough_where_the_rule_gives_way_there_once(store: Store) -> None:
    requests.overrule(store, setting(), "grip-once", "mon", "it is meant so")
    requests.overrule(store, setting(), "one-pattern-once", "tue", "it is meant so")
    with pytest.raises(DataError, match="several places") as found:
        requests.overrule(store, setting(), "one-pattern-once", "mon", "it is meant so")

    assert "mon: squat; mon: hinge" in str(found.value)
    assert [(o.rule, o.place) for o in asked(store).overrules] == [
        ("grip-once", "mon: grip"),
        ("one-pattern-once", "tue: trunk"),
    ]


def test_a_session_by_hand_takes_the_place_of_its_days_pieces_and_of_one_written_before(store: Store) -> None:
    for wanted in (MONDAY, Lock(day="fri", part="conditioning"), HARD):
        requests.lock(store, setting(), wanted)

    for movement in ("back_squat", "front_squat"):
        requests.write(store, setting(), by_hand(movement))

    assert asked(store).by_hand == (by_hand("front_squat"),)
    assert asked(store).locks == (MONDAY, HARD)


def test_what_the_catalogue_knows_is_not_yet_in_the_gym() -> None:
    assert "sled" in setting().catalogue.items
    with pytest.raises(DataError, match="in this gym"):
        names.item_named(setting(), "sled")


def test_a_rule_that_is_off_is_not_in_force() -> None:
    rules = tuple(r.model_copy(update={"off": r.id == "grip-once"}) for r in setting().rules)
    changed = Setting(setting().catalogue, setting().gym, rules, (), WEEK)

    assert names.rule_named(changed, "back-once") == "back-once"
    with pytest.raises(DataError, match='no rule "grip-once" in force'):
        names.rule_named(changed, "grip-once")


@pytest.mark.parametrize("skill", [1, 2, 3])
def test_what_asks_for_more_skill_than_the_class_has_never_comes(skill: int) -> None:
    gym = setting().gym
    class_ = gym.class_.model_copy(update={"skill": skill})
    here = Setting(setting().catalogue, gym.model_copy(update={"class_": class_}), setting().rules, (), WEEK)
    for needed in (1, 2, 3):
        m = next(
            m for m in here.catalogue.movements.values() if m.skill == needed and "conditioning" in m.roles
        )
        assert ("asks for skill" in why_never(here, m.id)) == (needed > skill)
