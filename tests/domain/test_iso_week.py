"""Weeks by their ISO names: the year's ends, where week and date disagree about the year."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from planner.domain.iso_week import monday_of, next_week, week_of


@pytest.mark.parametrize(
    ("day", "week"),
    [
        (date(2026, 11, 30), "2026-W49"),
        (date(2027, 1, 1), "2026-W53"),
        (date(2027, 1, 4), "2027-W01"),
        (date(2024, 12, 30), "2025-W01"),
        (date(2022, 1, 2), "2021-W52"),
    ],
)
def test_a_date_lies_in_the_week_of_its_thursday(day: date, week: str) -> None:
    assert week_of(day) == week
    assert monday_of(week) <= day < monday_of(week) + timedelta(days=7)


def test_the_next_week_is_the_one_after_whatever_the_day() -> None:
    for days in range(14):
        today = date(2026, 12, 21) + timedelta(days=days)
        assert monday_of(next_week(today)) == today + timedelta(days=7 - today.weekday())


@pytest.mark.parametrize("week", ["2025-W53", "2026-W54", "2026-W00", "0000-W01", "2026-49", "2026-W9", ""])
def test_a_week_that_there_is_not_is_refused(week: str) -> None:
    with pytest.raises(ValueError, match=r"week"):
        monday_of(week)


def test_a_short_year_says_how_many_it_has() -> None:
    with pytest.raises(ValueError, match="2025 has 52 weeks, 2025-W01 to 2025-W52"):
        monday_of("2025-W53")


def test_long_years_have_fifty_three() -> None:
    assert monday_of("2026-W53") == date(2026, 12, 28)
    assert monday_of("2020-W53") == date(2020, 12, 28)
