"""Numbers, dates and loads as they are written."""

from __future__ import annotations

import pytest

from planner.domain.week import Load
from planner.domain.words import clock, listed
from planner.render import notation, pictures


def _pair(man: str, woman: str, man_side=(), woman_side=(), percent=(None, None)):
    return (
        Load(athlete="man", kg=1, text=man, per_side_kg=man_side, percent_1rm=percent[0]),
        Load(athlete="woman", kg=1, text=woman, per_side_kg=woman_side, percent_1rm=percent[1]),
    )


@pytest.mark.parametrize(
    ("man", "woman", "written"),
    [
        ("42.5 kg", "30 kg", "42.5 / 30 kg"),
        ("20 kg plate", "10 kg plate", "20 / 10 kg plate"),
        ("20 kg plate", "20 kg plate", "20 kg plate"),
        ("2 x 16 kg", "2 x 12 kg", "2 × 16 / 2 × 12 kg"),
        ("24 kg bell", "15 kg plate", "24 kg bell / 15 kg plate"),
        ("empty bar", "30 kg", "empty bar / 30 kg"),
    ],
)
def test_loads_share_a_line(man, woman, written):
    assert notation.loads(_pair(man, woman)) == written


def test_plates_name_an_empty_bar_beside_a_loaded_one():
    assert notation.plates(_pair("22.5 kg", "15 kg", (1.25,), ())) == ("1.25", "empty bar")
    assert notation.plates(_pair("20 kg plate", "10 kg plate")) == ()


def test_percent_is_said_once_where_both_are_alike():
    assert notation.percent(_pair("1 kg", "1 kg", percent=(70, 70))) == "70 % of 1RM"
    assert notation.percent(_pair("1 kg", "1 kg", percent=(70, 72))) == "70 / 72 % of 1RM"
    assert notation.percent(_pair("1 kg", "1 kg")) == ""


@pytest.mark.parametrize(
    ("first", "last", "written"),
    [
        ("2025-12-01", "2025-12-07", "1 to 7 December 2025"),
        ("2025-11-24", "2025-12-07", "24 November to 7 December 2025"),
        ("2025-12-29", "2026-01-04", "29 December 2025 to 4 January 2026"),
        ("2025-12-01", "2025-12-01", "1 December 2025"),
    ],
)
def test_dates_say_month_and_year_once(first, last, written):
    assert notation.date_range(first, last) == written


def test_small_words():
    assert notation.iso_week("2026-W01") == "Week 1 of 2026"
    assert [notation.number(n) for n in (42.5, 30.0, 0, 1240, 1.25)] == ["42.5", "30", "0", "1,240", "1.25"]
    assert clock(545) == "9:05"
    assert [notation.span(s) for s in (45, 120, 150, 0)] == ["45 s", "2 min", "2 min 30 s", "0 s"]
    assert [notation.amount(n, "days") for n in (0, 1, 2)] == ["0 days", "1 day", "2 days"]
    assert notation.sentence("from the rack") == "From the rack."
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert listed([]) == ""


@pytest.mark.parametrize("amount", range(1, pictures.PIPS_AT_MOST + 1))
def test_there_are_as_many_dots_as_exposures_and_they_fit(amount):
    dots = pictures.pips(amount)

    assert len(set(dots)) == amount
    assert all(3.3 <= v <= pictures.CELL - 3.3 for dot in dots for v in (dot.x, dot.y))


def test_pictures_keep_their_scale():
    assert pictures.pips(0) == pictures.pips(pictures.PIPS_AT_MOST + 1) == ()
    assert pictures.column(480, 480, "solid").size == pictures.BAR_HEIGHT
    assert pictures.column(0, 0, "open").size == 0
    left, right = pictures.facing(8, 4)
    assert (left.start, left.size, right.start, right.size) == (0, 50, 50, 25)
    assert pictures.facing(0, 0)[0].size == 0
    bars = pictures.stacked([1, 1, 2], ["solid", "half", "open"])
    assert [bar.size for bar in bars] == [25, 25, 50]
    assert pictures.stacked([0], ["open"]) == ()
