"""How sessions went, and the planned load beside the rated one."""

from __future__ import annotations

import pytest

from planner.domain.record import LogEntry, WeekState
from planner.errors import DataError
from planner.store.log import logged, planned_against_rated
from tests.store.small import state_of

WEEK = "2026-W49"
CHOSEN = state_of(WEEK, 1, 2, chosen="B")


def test_the_log_is_in_day_order_and_the_later_entry_counts() -> None:
    state = logged(CHOSEN, "thu", LogEntry(status="done"))
    state = logged(state, "mon", LogEntry(status="skipped"))
    state = logged(state, "thu", LogEntry(status="changed", rating=8, note="no rower"))
    assert list(state.log) == ["mon", "thu"]
    assert state.log["thu"].status == "changed"
    assert CHOSEN.log == {}


def test_only_a_session_of_a_chosen_week_can_be_logged() -> None:
    with pytest.raises(DataError, match="no candidate of 2026-W49 is chosen"):
        logged(state_of(WEEK, 1), "mon", LogEntry(status="done"))
    with pytest.raises(DataError, match="no session on Sunday") as caught:
        logged(CHOSEN, "sun", LogEntry(status="done"))
    assert "Monday, Tuesday, Thursday" in str(caught.value)


def test_planned_against_rated_worked_by_hand() -> None:
    # Sixty-minute classes, expected ratings 5, 6 and 7: 300 + 360 + 420 planned.
    state = logged(CHOSEN, "mon", LogEntry(status="done", rating=6.5))
    state = logged(state, "tue", LogEntry(status="skipped", rating=3))
    state = logged(state, "thu", LogEntry(status="done"))
    table = planned_against_rated(state)
    rows = [(d.day, d.planned_au, d.status, d.rating, d.rated_au) for d in table.days]
    assert rows == [
        ("mon", 300, "done", 6.5, 390),
        ("tue", 360, "skipped", None, 0),
        ("thu", 420, "done", None, None),
    ]
    # Thursday's load is not known: 390 + 0 rated is set against 300 + 360, not against the whole week.
    assert (table.planned_au, table.compared_au, table.rated_au) == (1080, 660, 390)
    assert table.difference_percent == -41


def test_nothing_chosen_and_nothing_logged() -> None:
    assert planned_against_rated(WeekState(week=WEEK)).days == ()
    table = planned_against_rated(CHOSEN)
    assert [day.status for day in table.days] == [None, None, None]
    assert (table.planned_au, table.rated_au, table.difference_percent) == (1080, 0, None)
