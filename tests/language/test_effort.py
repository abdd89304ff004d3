"""Reading takes as many steps as the text is long: counted, not timed."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Callable

import pytest

from planner.errors import DataError
from planner.language import read_sessions, write_sessions
from tests.language.names import shipped

PIECES = (
    "conditioning: 3 rounds for time, cap 14:00\n  15 kettlebell swing @ light\n  9 box jump (step down)\n"
)
GROWING: dict[str, Callable[[int], str]] = {
    "pieces": lambda n: "Monday\n" + PIECES * n,
    "lifts": lambda n: "Monday\n" + "strength: front squat 4x6 across, rest 2:00\n" * n,
    "drills": lambda n: "Monday\nwarm-up\n" + "  3 slow rounds of squats and hangs\n" * n,
    "notes": lambda n: "Monday\n" + "note: bring a jumper\n" * n,
    "a long line": lambda n: "Monday\nconditioning: for time, " + "10 burpee, 12 cal row, " * n,
    "words that are none": lambda n: "Monday\nconditioning: for time, " + "wibble wobble " * n,
    "brackets": lambda n: "Monday\nconditioning: for time, " + "10 burpee (slow), " * n,
}


def steps(work: Callable[[], object]) -> int:
    """How many functions are called."""
    count = 0

    def note(_frame: object, event: str, _arg: object) -> None:
        nonlocal count
        count += event in {"call", "c_call"}

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        with contextlib.suppress(DataError):
            work()
    finally:
        sys.setprofile(before)
    return count


@pytest.mark.parametrize("what", GROWING)
def test_twice_the_text_takes_twice_the_steps(what: str) -> None:
    text = GROWING[what]
    steps(lambda: read_sessions(text(5), shipped()))  # vocabulary and grammar are made, and what is near
    counts = [steps(lambda n=n: read_sessions(text(n), shipped())) for n in (10, 20, 40)]
    first, second = counts[1] - counts[0], counts[2] - counts[1]
    assert 0 < second <= 2.3 * first + 200, counts


def test_writing_too() -> None:
    (short,) = read_sessions("Monday\n" + PIECES * 10, shipped())
    long = short.model_copy(update={"pieces": short.pieces * 4})
    counts = [steps(lambda s=s: write_sessions([s], shipped())) for s in (short, long)]
    assert counts[1] <= 4.3 * counts[0], counts
