"""Candidates: their names, which one is meant, and verbs that keep what they made."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.audit.reading import plan_of
from planner.domain.changes import GymChanges
from planner.domain.record import LogEntry
from planner.domain.requests import Ban, Lock, Requests
from planner.domain.week import Week
from planner.errors import DataError, NoPlanError
from planner.store.store import Store, open_store
from planner.weeks import keeping, requests
from planner.weeks import merge as merging
from planner.weeks import redraft as again
from planner.weeks.choose import choose_candidate
from planner.weeks.compare import compare_kept
from planner.weeks.log import log_session
from planner.weeks.merge import merge_kept, take_from
from planner.weeks.redraft import redraft_kept
from planner.weeks.setting import Setting
from planner.weeks.why import why_kept
from planner.weeks.why_not import why_not_kept
from tests.solve.demo import WEEK
from tests.weeks import small


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An open store with nothing in it."""
    with open_store(small.gym_folder(tmp_path)) as opened:
        yield opened


def test_names_count_on_after_z() -> None:
    names = [keeping.next_name(n) for n in range(800)]
    assert names[:2] + names[25:28] == ["A", "B", "Z", "AA", "AB"]
    assert names[701:703] == ["ZZ", "AAA"]
    assert len(set(names)) == 800


def test_which_candidate_is_meant(store: Store) -> None:
    with pytest.raises(DataError, match="no candidate"):
        keeping.meant(store.state(WEEK))
    with pytest.raises(DataError, match="no week is kept"):
        keeping.latest_week(store)
    keeping.keep(store, WEEK, [("one", small.week()), ("two", small.week())], "drafted")
    assert keeping.meant(store.state(WEEK)).name == "B"
    assert choose_candidate(store, WEEK, "a").chosen == "A"
    assert keeping.meant(store.state(WEEK)).name == "A"
    assert keeping.meant(store.state(WEEK), "b").name == "B"
    with pytest.raises(DataError, match="It has A, B"):
        keeping.meant(store.state(WEEK), "Q7")
    assert keeping.latest_week(store) == WEEK
    assert [r.verb for r in store.history(WEEK)] == ["A, B: drafted", "chose A"]


def test_a_solved_week_is_kept_beside_a_change_that_came_between(store: Store, tmp_path: Path) -> None:
    store.state(WEEK)
    with open_store(tmp_path / "gym") as other:
        requests.ban(other, small.setting(), Ban(movement="burpee"))
    keeping.keep(store, WEEK, [("drafted", small.week())], "drafted")
    state = store.state(WEEK)
    assert [c.name for c in state.candidates] == ["A"]
    assert state.requests.bans


def test_redraft_heeds_requests_and_is_kept_with_its_certificate(store: Store) -> None:
    keeping.keep(store, WEEK, [("drafted", small.week())], "drafted")
    requests.lock(store, small.setting(), Lock(day="fri", part="day"))
    gone = next(i for i in ("rower", "bike", "rig") if i in small.setting().gym.inventory)
    changes = GymChanges(without=(gone,))
    old, new, made = redraft_kept(store, small.setting(), changes=changes, seconds=small.SECONDS)
    assert (old.name, new.name, new.label) == ("A", "B", f"without {gone}")
    before, after = ({s.day: s for s in plan_of(c.week).sessions} for c in (old, new))
    assert before["fri"] == after["fri"]
    assert store.history(WEEK)[-1].verb == f"B: redrafted from A, without {gone}: {made.certificate}"
    assert store.state(WEEK).candidates == (old, new)


def test_where_there_is_no_week_nothing_is_kept(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    keeping.keep(store, WEEK, [("drafted", small.week())], "drafted")

    def fail(*_: object, **__: object) -> None:
        raise NoPlanError("no week", (("a", "b"),), ("unlock",))

    monkeypatch.setattr(again, "redraft", fail)
    head = store.head(WEEK)
    with pytest.raises(NoPlanError):
        redraft_kept(store, small.setting())
    assert store.head(WEEK) == head


def test_take_from() -> None:
    assert take_from(("mon,thu=a", "tue=B")) == {"mon": "A", "thu": "A", "tue": "B"}
    for wrong in (("mon",), ("=A",), ("mon=",), ("mon=A", "mon=B")):
        with pytest.raises(DataError):
            take_from(wrong)


@pytest.mark.slow
def test_merge_takes_days_and_leaves_their_locks(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    keeping.keep(store, WEEK, [("one", small.week(1)), ("two", small.week(2))], "drafted")
    requests.lock(store, small.setting(), Lock(day="fri", part="day"))
    asked: dict[str, object] = {}

    def solve(setting: Setting, taken: dict[str, Week], **_: object) -> Week:
        asked.update(taken=taken, requests=setting.requests)
        return small.week(2)

    monkeypatch.setattr(merging, "merge", solve)
    with pytest.raises(DataError, match="no candidate is named"):
        merge_kept(store, small.setting(), ("A", "B"), {"mon": "A"})
    kept = merge_kept(store, small.setting(), ("A", "B"), {"fri": "B", "mon": "A"})
    assert (kept.name, kept.label) == ("C", "Monday from A, Friday from B")
    assert asked == {"taken": {"mon": small.week(1), "fri": small.week(2)}, "requests": Requests()}
    with pytest.raises(DataError, match="no session on Thursday"):
        merge_kept(store, small.setting(), ("A", "B"), {"thu": "A"})


def test_a_setting_puts_the_requests_into_every_problem() -> None:
    requests = Requests(bans=(Ban(movement="burpee"),))
    here = small.setting().asking(requests, plan_of(small.week()))
    assert here.problem().requests == requests
    assert here.changed(GymChanges(class_size=8)).problem().requests == requests
    assert here.problem().base == plan_of(small.week())


def test_why_not_says_what_never_comes_without_a_search(store: Store) -> None:
    keeping.keep(store, WEEK, [("drafted", small.week())], "drafted")
    known = small.setting().catalogue.movements
    stand_in = next(m.id for m in known.values() if not m.roles and m.skill == 1)
    _, answer = why_not_kept(store, small.setting(), "mon", stand_in)
    assert not answer.possible
    assert "stand-in" in answer.clashes[0][0]
    with pytest.raises(DataError, match="no session on Thursday"):
        why_not_kept(store, small.setting(), "thu", stand_in)


def test_why_and_compare_speak_of_the_candidates(store: Store) -> None:
    keeping.keep(store, WEEK, [("one", small.week()), ("two", small.week())], "drafted")
    reasons = why_kept(store, small.setting(), "mon", "strength", candidate="A")
    floor = next(s for s in plan_of(small.week(1)).sessions if s.day == "mon").versions["floor"]
    assert [r.movement for r in reasons] == [x.movement for x in floor.strength]
    made = compare_kept(store, small.setting(), "A", "B")
    assert made.names == ("A", "B")


def test_log_needs_a_chosen_week(store: Store) -> None:
    keeping.keep(store, WEEK, [("drafted", small.week())], "drafted")
    entry = LogEntry(status="done", rating=7)
    with pytest.raises(DataError, match="chosen yet"):
        log_session(store, WEEK, "mon", entry)
    choose_candidate(store, WEEK, "A")
    loads = log_session(store, WEEK, "mon", entry)
    assert loads.rated_au == 7 * small.week().class_minutes
    assert store.state(WEEK).log == {"mon": entry}
