"""Tables for the terminal: the class on the floor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

from rich.table import Table

from planner.cli.tables.week import table
from planner.domain.gym import DAY_NAMES
from planner.domain.week import Week
from planner.domain.words import clock, spoken
from planner.floor.lanes import PieceRun
from planner.weeks.run import DayRun


def floor_table(week: Week, days: Sequence[DayRun]) -> Table:
    """One row for each piece on the clock."""
    made = table(
        f"{week.gym}, {week.week}: a class of {days[0].size}, run 200 times",
        "Day", "Quick", "Typical", "Slow", "Waits", "Of time", "At cap", "Missed",
        right=(1, 2, 3, 4, 5, 6, 7),
    )  # fmt: skip
    for day in days:
        for run in day.pieces:
            made.add_row(DAY_NAMES[day.day], *_figures(run))
    return made


def floor_lines(days: Iterable[DayRun]) -> Iterator[str]:
    """What the figures are, then each piece: how it is run, and how much its scarce items are in use."""
    yield (
        "Quick, typical, slow: one, five, nine in ten are done. Waits: nine in ten wait no longer at once, "
        "nor more of their time. At cap: of the class, done. Missed: of slots on the clock."
    )
    for day in days:
        for run in day.pieces:
            used = ", ".join(
                f"{spoken(item)}{f' {kg:g} kg' if kg is not None else ''} {percent} %"
                for (item, kg), percent in run.outcome.use
            )
            yield f"{DAY_NAMES[day.day]}, {run.title}: {run.words}{f' In use: {used}.' if used else ''}"


def _figures(run: PieceRun) -> Iterator[str]:
    o = run.outcome
    if o.finish_s:
        yield from map(clock, o.finish_s)
    elif o.rounds_tenths:
        yield from (f"{n / 10:g} rounds" for n in reversed(o.rounds_tenths))
    else:
        yield from ("", "", "")
    yield f"{o.longest_wait_s} s"
    yield f"{o.waited_percent:g} %"
    yield "" if o.done_at_cap_percent is None else f"{o.done_at_cap_percent} %"
    yield "" if o.missed_percent is None else f"{o.missed_percent:g} %"


def run_as_data(days: Iterable[DayRun]) -> list[dict[str, Any]]:
    """The same as plain values, with the lanes of the picture."""
    return [asdict(day) for day in days]
