"""The published tables, row by row, and identities that hold whatever the rows say."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.prescribe.estimators import ESTIMATORS, brzycki, epley, estimates_kg, oconner, spread_kg
from planner.prescribe.percent import percent_for, percent_of_1rm

from .builders import table


def test_every_row_of_the_load_chart() -> None:
    for row in table("percent_by_reps.csv"):
        assert percent_of_1rm(int(row["reps"])) == pytest.approx(float(row["pct_1rm"]), abs=0.5), row


def test_rows_one_to_ten_and_twelve_are_exact() -> None:
    assert [percent_of_1rm(r) for r in range(1, 11)] == [100, 95, 93, 90, 87, 85, 83, 80, 77, 75]
    assert percent_of_1rm(12) == 70


def test_between_rows_on_the_straight_line() -> None:
    assert percent_of_1rm(11) == 72.5
    assert percent_of_1rm(13) == 68.3
    assert percent_of_1rm(20) == 60


def test_reserve_reads_further_down() -> None:
    assert percent_for(8, 2) == percent_of_1rm(10) == 75
    assert percent_for(5) == 87


@given(st.integers(1, 60))
def test_more_reps_never_mean_more_load(reps: int) -> None:
    assert percent_of_1rm(reps + 1) <= percent_of_1rm(reps)


@pytest.mark.parametrize("reps", [0, -1])
def test_no_reps_no_percent(reps: int) -> None:
    with pytest.raises(ValueError, match="from 1 rep on"):
        percent_of_1rm(reps)


def test_no_negative_reserve() -> None:
    with pytest.raises(ValueError, match="reserve"):
        percent_for(5, -1)


def test_worked_examples() -> None:
    checked = 0
    for row in table("estimator_examples.csv"):
        name, reps = row["estimator"], int(row["reps"])
        if name not in ESTIMATORS or (name, reps) == ("Epley", 1):
            continue
        got = ESTIMATORS[name](float(row["load"]), reps)
        assert got == pytest.approx(float(row["estimated_1rm"]), abs=0.002), row
        checked += 1
    assert checked == 7 * 7 - 1


def test_identities() -> None:
    assert epley(100, 10) == pytest.approx(brzycki(100, 10))
    assert oconner(100, 5) == pytest.approx(brzycki(100, 5))
    assert all(epley(100, r) > brzycki(100, r) for r in range(2, 10))
    assert all(epley(100, r) < brzycki(100, r) for r in range(11, 37))


def test_a_single_is_the_1rm_itself() -> None:
    """The formula alone would say 103.3 kg for a single at 100 kg."""
    assert epley(100, 1) == brzycki(100, 1) == 100


def test_spread() -> None:
    low, middle, high = spread_kg(50, 8)
    assert (low, high) == (pytest.approx(60), pytest.approx(63.836, abs=0.001))
    assert low < middle < high
    with pytest.raises(ValueError, match="1 to 12"):
        estimates_kg(100, 13)
