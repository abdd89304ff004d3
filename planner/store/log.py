"""How sessions went: entering it, and the planned load of the week beside what the class rated.

A session's rated load is its rating times the minutes of the whole class, as its planned load is; what was
skipped is nought. A session without a rating has no rated load, and is left out of both sums that are
compared.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.domain.record import LogEntry, WeekState
from planner.domain.week import Week
from planner.errors import DataError


@dataclass(frozen=True)
class DayLoad:
    """One session, planned and rated.

    Attributes:
        day: of the week.
        planned_rating: expected, 0 to 10.
        planned_au: planned load.
        status: as logged; None where nothing was.
        rating: that the class gave it; None where nobody asked, or where it was skipped.
        rated_au: rated load, nought where it was skipped; None where it is not known.
    """

    day: Day
    planned_rating: int
    planned_au: int
    status: Literal["done", "skipped", "changed"] | None
    rating: float | None
    rated_au: int | None


@dataclass(frozen=True)
class LoadTable:
    """A week, planned and rated.

    Attributes:
        days: its sessions, in day order.
        planned_au: of all sessions.
        compared_au: planned load of those sessions whose rated load is known.
        rated_au: rated load of the same ones.
        difference_percent: rated against planned, of the same ones; None where there is nothing to compare.
    """

    days: tuple[DayLoad, ...]
    planned_au: int
    compared_au: int
    rated_au: int
    difference_percent: int | None


def chosen_week(state: WeekState) -> Week | None:
    """The week that is published, if one is."""
    return next((c.week for c in state.candidates if c.name == state.chosen), None)


def logged(state: WeekState, day: Day, entry: LogEntry) -> WeekState:
    """The state with one day's entry in place of what was logged of that day.

    Raises:
        DataError: nothing is chosen yet, or the chosen week has no session on that day.
    """
    week = chosen_week(state)
    if week is None:
        raise DataError(
            f"no candidate of {state.week} is chosen yet",
            advice="Choose the one that is trained, then log it.",
        )
    held = [session.day for session in week.sessions]
    if day not in held:
        days = ", ".join(DAY_NAMES[d] for d in held) or "none"
        raise DataError(f"{state.week} has no session on {DAY_NAMES[day]}", advice=f"It has: {days}.")
    log = {**state.log, day: entry}
    return state.model_copy(update={"log": {d: log[d] for d in DAYS if d in log}})


def planned_against_rated(state: WeekState) -> LoadTable:
    """The chosen week's planned load beside the rated one; an empty table where nothing is chosen."""
    week = chosen_week(state)
    rows: list[DayLoad] = []
    for session in week.sessions if week else ():
        entry = state.log.get(session.day)
        skipped = entry is not None and entry.status == "skipped"
        rating = None if entry is None or skipped else entry.rating
        rated = 0 if skipped else None
        if week is not None and rating is not None:
            rated = round(rating * week.class_minutes)
        status = entry.status if entry else None
        rows.append(DayLoad(session.day, session.rating, session.load_au, status, rating, rated))
    known = [row for row in rows if row.rated_au is not None]
    compared = sum(row.planned_au for row in known)
    total = sum(row.rated_au or 0 for row in known)
    return LoadTable(
        days=tuple(rows),
        planned_au=sum(row.planned_au for row in rows),
        compared_au=compared,
        rated_au=total,
        difference_percent=round(100 * (total / compared - 1)) if compared else None,
    )
