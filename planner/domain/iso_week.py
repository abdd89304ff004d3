"""Weeks by their ISO name: ``2026-W49`` begins on Monday 30 November 2026."""

from __future__ import annotations

import re
from datetime import date, timedelta

FIRST_YEAR, LAST_YEAR = 1900, 2999
"""Calendars and clocks are at home in these."""
_WEEK = re.compile(r"([0-9]{4})-W([0-9]{2})")


def monday_of(week: str) -> date:
    """The Monday on which a week begins.

    Args:
        week: ``2026-W49``.

    Raises:
        ValueError: no such week, in words for a coach.
    """
    match = _WEEK.fullmatch(week)
    if not match:
        raise ValueError(f'"{week}" is not a week; write the year and the number, like 2026-W49')
    year, number = int(match[1]), int(match[2])
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"{week} is no week of ours: years from {FIRST_YEAR} to {LAST_YEAR} are planned")
    last = date(year, 12, 28).isocalendar().week  # 28 December is always in its year's last week
    if not 1 <= number <= last:
        raise ValueError(f"there is no {week}: {year} has {last} weeks, {year}-W01 to {year}-W{last}")
    return date.fromisocalendar(year, number, 1)


def week_of(day: date) -> str:
    """The week that a date lies in; around New Year its year can differ from the date's."""
    year, number, _ = day.isocalendar()
    return f"{year:04d}-W{number:02d}"


def next_week(today: date) -> str:
    """The week after the one that today lies in."""
    return week_of(today + timedelta(days=7))
