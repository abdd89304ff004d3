"""What a coach fixes, rules out, asks for or overrules: kept as changes, each undone in one step."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.domain.plan import SessionPlan, StrengthLine, VersionPlan
from planner.domain.requests import Ban, Lock, Overrule, Requests, Wish
from planner.errors import DataError
from planner.store.store import Store, open_store
from planner.weeks import keeping, requests
from tests.solve.demo import WEEK
from tests.weeks import small

FRIDAY = Lock(day="fri", part="day")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """A store with one candidate of the week."""
    with open_store(small.gym_folder(tmp_path)) as opened:
        keeping.keep(opened, WEEK, [("drafted", small.week())], "drafted")
        yield opened


def requests_of(store: Store) -> Requests:
    return store.state(WEEK).requests


def by_hand() -> SessionPlan:
    floor = VersionPlan(
        strength=(StrengthLine(movement="back_squat", scheme="five_by_five"),), conditioning=()
    )
    return SessionPlan(day="fri", shape="any", versions={"floor": floor})


def test_lock_and_unlock_a_day(store: Store) -> None:
    requests.lock(store, small.setting(), FRIDAY)
    assert requests_of(store).locks == (FRIDAY,)
    with pytest.raises(DataError, match="already"):
        requests.lock(store, small.setting(), FRIDAY)
    requests.unlock(store, small.setting(), FRIDAY)
    assert requests_of(store) == Requests()
    with pytest.raises(DataError, match="has no lock"):
        requests.unlock(store, small.setting(), FRIDAY)
    assert [r.verb for r in store.history(WEEK)][1:] == ["Friday is locked", "unlocked Friday"]


def test_unlocking_a_piece_of_a_locked_day_keeps_the_other(store: Store) -> None:
    requests.lock(store, small.setting(), FRIDAY)
    requests.unlock(store, small.setting(), Lock(day="fri", part="strength"))
    assert requests_of(store).locks == (Lock(day="fri", part="conditioning"),)


def test_what_cannot_be_locked(store: Store) -> None:
    with pytest.raises(DataError, match="closed on Thursday"):
        requests.lock(store, small.setting(), Lock(day="thu", part="day"))
    with pytest.raises(DataError, match="no such lock"):
        requests.unlock(store, small.setting(), Lock(day="fri", part="strength"))


def test_a_day_cannot_be_locked_before_there_is_one(tmp_path: Path) -> None:
    with open_store(small.gym_folder(tmp_path)) as empty:
        with pytest.raises(DataError, match="no candidate"):
            requests.lock(empty, small.setting(), FRIDAY)
        long = Lock(day="fri", part="property", domain="long")
        assert requests.lock(empty, small.setting(), long).requests.locks == (long,)


def test_ban_and_allow(store: Store) -> None:
    burpee = Ban(movement="burpee", day="mon")
    requests.ban(store, small.setting(), burpee)
    with pytest.raises(DataError, match="so already"):
        requests.ban(store, small.setting(), burpee)
    with pytest.raises(DataError, match="no burpee on Monday"):
        requests.allow(store, small.setting(), Ban(movement="burpee"))
    requests.allow(store, small.setting(), burpee)
    assert not requests_of(store).bans


def test_ask_and_withdraw(store: Store) -> None:
    wish = Wish(pattern="carry")
    requests.ask(store, small.setting(), wish)
    with pytest.raises(DataError, match="asked for already"):
        requests.ask(store, small.setting(), wish)
    assert requests.withdraw(store, small.setting(), wish).requests == Requests()
    with pytest.raises(DataError, match="nothing is asked for"):
        requests.withdraw(store, small.setting(), wish)


def test_overrule_needs_a_rule_a_place_and_a_reason(store: Store) -> None:
    rule = small.setting().rules[0].id
    with pytest.raises(DataError, match="Did you mean"):
        requests.overrule(store, small.setting(), rule[:-1], "fri", "a competition")
    with pytest.raises(DataError, match="is no place"):
        requests.overrule(store, small.setting(), rule, "someday", "a competition")
    with pytest.raises(DataError, match="say why"):
        requests.overrule(store, small.setting(), rule, "fri", " ")
    requests.overrule(store, small.setting(), rule, "fri", "a competition")
    requests.overrule(store, small.setting(), rule, "fri", "a party")
    assert requests_of(store).overrules == (Overrule(rule=rule, place="fri", reason="a party"),)
    assert not requests.withdraw(store, small.setting(), (rule, "fri")).requests.overrules


def test_a_place_as_the_report_has_it(store: Store) -> None:
    found = [(r.id, p.place) for r in small.week().rules if r.level == "weight" for p in r.places]
    rule, place = found[0]
    state = requests.overrule(store, small.setting(), rule, place, "because I say so")
    assert state.requests.overrules[0].place == place


def test_a_session_by_hand_replaces_its_days_locks(store: Store) -> None:
    requests.lock(store, small.setting(), FRIDAY)
    state = requests.write(store, small.setting(), by_hand())
    assert state.requests.locks == ()
    assert state.requests.by_hand == (by_hand(),)
    with pytest.raises(DataError, match="written by hand"):
        requests.unlock(store, small.setting(), Lock(day="fri", part="strength"))
    assert requests.unlock(store, small.setting(), FRIDAY).requests == Requests()


def test_each_change_is_undone_in_one_step(store: Store) -> None:
    requests.lock(store, small.setting(), FRIDAY)
    requests.ban(store, small.setting(), Ban(movement="burpee"))
    store.undo(WEEK)
    assert requests_of(store) == Requests(locks=(FRIDAY,))
    store.redo(WEEK)
    assert requests_of(store).bans
