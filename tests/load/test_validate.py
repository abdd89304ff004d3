"""Many faults at once are cut short, and the coach is told how many were left out."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import DataError, Place
from planner.load.validate import MAX_PROBLEMS, Mistake, refuse


@pytest.mark.parametrize("more", [0, 1, 7])
def test_a_long_list_of_faults_says_how_many_are_left_out(more: int) -> None:
    mistakes = [Mistake(Place(Path("a.yaml"), n), f"fault {n}") for n in range(MAX_PROBLEMS + more)]

    with pytest.raises(DataError) as found:
        refuse(mistakes)

    said = str(found.value)
    assert f"fault {MAX_PROBLEMS - 1}" in said
    assert f"fault {MAX_PROBLEMS}" not in said
    assert (f"{more} more" in said) == bool(more)


def test_long_faults_are_cut_short_sooner() -> None:
    mistakes = [Mistake(Place(Path("a.yaml"), n), "fault " * 80) for n in range(5)]

    with pytest.raises(DataError) as found:
        refuse(mistakes)

    assert len(str(found.value)) < 1500
    assert str(found.value).endswith("... and 3 more.")
