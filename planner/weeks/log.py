"""Writes down how a session of the chosen week went."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.domain.gym import DAY_NAMES, Day
from planner.domain.record import LogEntry
from planner.store.log import LoadTable, logged, planned_against_rated

if TYPE_CHECKING:
    from planner.store.store import Store


def log_session(store: Store, week: str, day: Day, entry: LogEntry) -> LoadTable:
    """Writes down how a session of the chosen week went.

    Returns:
        The week's planned load beside the rated one.

    Raises:
        DataError: nothing is chosen yet, or the week has no session that day.
    """
    verb = f"{DAY_NAMES[day]} {entry.status}"
    return planned_against_rated(store.change(week, lambda state: (logged(state, day, entry), verb)))
