"""Two changes of one week, neither maker of which saw the other's: made where they agree, else refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from planner.domain.gym import DAYS, Day
from planner.domain.plan import SessionPlan, StrengthLine, VersionPlan
from planner.domain.record import LogEntry, WeekState
from planner.domain.requests import Ban, Lock, Wish
from planner.store.errors import StoreConflict
from planner.store.store import Store, open_store
from planner.weeks import requests
from planner.weeks.choose import choose_candidate
from planner.weeks.keeping import keep
from planner.weeks.log import log_session
from tests.store.small import session, small_week

WEEK = "2026-W49"


@pytest.fixture(autouse=True)
def _made_up_movements(monkeypatch: pytest.MonkeyPatch) -> None:
    """The catalogue has none of the movements here; whether they could come is not asked."""
    monkeypatch.setattr(requests, "refuse_never", lambda *_: None)


SETTING: Any = SimpleNamespace(week=WEEK, gym=SimpleNamespace(days=DAYS))
FRIDAY = Lock(day="fri", part="day")
Deed = Callable[[Store], object]


def choose(name: str) -> Deed:
    return lambda store: choose_candidate(store, WEEK, name)


def lock(**what: Any) -> Deed:
    return lambda store: requests.lock(store, SETTING, Lock(**{"day": "fri", **what}))


def unlock(store: Store) -> object:
    return requests.unlock(store, SETTING, Lock(day="mon", part="property", hardness="hard"))


def ban(movement: str, day: Day | None = None) -> Deed:
    return lambda store: requests.ban(store, SETTING, Ban(movement=movement, day=day))


def ask(**what: Any) -> Deed:
    return lambda store: requests.ask(store, SETTING, Wish(**what))


def write(movement: str, day: Day = "fri") -> Deed:
    floor = VersionPlan(strength=(StrengthLine(movement=movement, scheme="any"),), conditioning=())
    plan = SessionPlan(day=day, shape="any", versions={"floor": floor})
    return lambda store: requests.write(store, SETTING, plan)


def log(day: Day, note: str = "") -> Deed:
    return lambda store: log_session(store, WEEK, day, LogEntry(status="done", note=note))


def draft(store: Store) -> object:
    return keep(store, WEEK, [("late", small_week(WEEK, 4))], "drafted")


def undo(store: Store) -> object:
    return store.undo(WEEK)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three candidates: A and B have the same sessions, C others. A is chosen, and Monday is to stay hard."""
    with open_store(tmp_path) as store:
        for mark, rating in ((1, 5), (2, 5), (3, 9)):
            sessions = tuple(session(day, rating) for day in DAYS)
            week = small_week(WEEK, mark).model_copy(update={"sessions": sessions})
            keep(store, WEEK, [("drafted", week)], "drafted")
        choose_candidate(store, WEEK, "A")
        requests.lock(store, SETTING, Lock(day="mon", part="property", hardness="hard"))
    return tmp_path


def after_both(folder: Path, first: Deed, second: Deed) -> tuple[WeekState, WeekState, WeekState]:
    """The week before, after the first change, and after the second, whose maker saw the week before."""
    with open_store(folder) as theirs, open_store(folder) as mine:
        before = mine.state(WEEK)
        first(theirs)
        between = theirs.state(WEEK)
        second(mine)
        return before, between, theirs.state(WEEK)


AGREE = {
    "two bans": (ban("burpee"), ban("air_squat")),
    "a ban and a wish for another day": (ban("burpee", "mon"), ask(movement="burpee", day="tue")),
    "a ban of a day and a wish for some time": (ban("burpee", "mon"), ask(movement="burpee")),
    "two logs": (log("mon"), log("tue")),
    "two pieces of a day": (lock(part="strength"), lock(part="conditioning")),
    "a week was solved meanwhile": (draft, lock(part="day")),
    "a solved week and whatever came": (ban("burpee"), draft),
    "two solved weeks": (draft, draft),
    "a choice of the same sessions, and their lock": (choose("B"), lock(part="day")),
    "a lock, and a choice that has the same": (lock(part="day"), choose("B")),
    "two sessions by hand": (write("bench_press", "mon"), write("bench_press", "tue")),
    "an undo and something else": (undo, ban("burpee")),
    "a lock that is gone, and a wish": (unlock, ask(day="mon", hardness="easy")),
    "other properties": (lock(part="property", domain="short"), lock(part="property", hardness="hard")),
}


@pytest.mark.parametrize(("first", "second"), AGREE.values(), ids=AGREE)
def test_what_agrees_is_made(folder: Path, tmp_path: Path, first: Deed, second: Deed) -> None:
    before, between, after = after_both(folder, first, second)
    assert before != between != after
    with open_store(folder) as store:
        assert store.undo(WEEK) == between
        second(store)
        assert store.state(WEEK) == after, "it is the change that a person who saw everything would have made"


SAME = {
    "the same ban": ban("burpee"),
    "the same choice": choose("C"),
    "the same lock": lock(part="day"),
    "the same lock taken away": unlock,
}


@pytest.mark.parametrize("deed", SAME.values(), ids=SAME)
def test_what_another_has_made_already_is_no_fault(folder: Path, deed: Deed) -> None:
    _, between, after = after_both(folder, deed, deed)
    assert between == after
    with open_store(folder) as store:
        assert len(store.history(WEEK)) == 6


CONTRADICT = {
    "two choices": (choose("B"), choose("C"), "chose C", "B is chosen"),
    "a ban, then a lock": (
        ban("burpee"), lock(part="movement", movement="burpee"),
        "Friday is locked with burpee", "no burpee this week",
    ),
    "a wish, then a ban": (ask(movement="burpee"), ban("burpee"), "no burpee", "burpee some time"),
    "a session by hand, then a ban": (write("burpee"), ban("burpee"), "no burpee", "by hand, with burpee"),
    "a day's lock, then another week": (lock(part="day"), choose("C"), "chose C", "Friday is locked as in A"),
    "another week, then a day's lock": (choose("C"), lock(part="day"), "Friday is locked", "as in C"),
    "a log, then another week": (log("mon"), choose("C"), "chose C", "Monday of A is logged as done"),
    "another week, then a log": (choose("C"), log("mon"), "Monday done", "Monday of C"),
    "two logs of a day": (log("mon", "one"), log("mon", "two"), "Monday done", "Monday of A is logged"),
    "two sessions of a day": (write("bench_press"), write("deadlift"), "by hand", "with bench press"),
    "a lock, then a session by hand": (lock(part="strength"), write("bench_press"), "by hand", "as in A"),
    "a session by hand, then a lock": (write("bench_press"), lock(part="day"), "locked", "written by hand"),
    "hard, then easy": (
        lock(day="tue", part="property", hardness="hard"), ask(day="tue", hardness="easy"),
        "asked for Tuesday easy", "Tuesday stays hard",
    ),
    "short, then long": (
        lock(part="property", domain="short"), lock(part="property", domain="long"),
        "Friday stays long", "Friday stays short",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("first", "second", "wanted", "stands"), CONTRADICT.values(), ids=CONTRADICT)
def test_of_two_that_contradict_each_other_the_later_is_refused_by_name(
    folder: Path, first: Deed, second: Deed, wanted: str, stands: str
) -> None:
    with pytest.raises(StoreConflict) as caught:
        after_both(folder, first, second)
    said_wanted, said_stands = str(caught.value).split("Wanted: ")[1].split("Now there stands: ")
    assert wanted in said_wanted
    assert stands in said_stands
    with open_store(folder) as store:
        assert len(store.history(WEEK)) == 6, "the first was made, the second was not"
        second(store)  # whoever has seen the other change may make it nevertheless


def test_a_candidate_that_was_undone_cannot_be_chosen(folder: Path) -> None:
    with open_store(folder) as theirs, open_store(folder) as mine:
        draft(mine)
        theirs.undo(WEEK, seen=mine.seen(WEEK))
        with pytest.raises(StoreConflict, match=r'Wanted: chose D\. Now .* has no candidate "D"'):
            choose("D")(mine)
        assert theirs.state(WEEK).chosen == "A"


def test_what_could_not_be_done_at_the_time_of_the_look_is_done_if_it_can_be_now(folder: Path) -> None:
    before, _, after = after_both(folder, draft, choose("D"))
    assert (before.chosen, after.chosen) == ("A", "D")
    with open_store(folder) as store, pytest.raises(Exception, match='no candidate "X"'):
        choose("X")(store)


def test_an_undo_of_another_change_than_the_last_one_seen_is_refused(folder: Path) -> None:
    with pytest.raises(
        StoreConflict, match=r"Wanted: to undo from: Monday stays hard .*Now there stands: no burpee"
    ):
        after_both(folder, ban("burpee"), undo)
    after_both(folder, lambda _: None, undo)
