"""The page of a run: each day's class on the floor, in pictures."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import count

from planner.domain.gym import DAY_NAMES, Day
from planner.domain.week import Week
from planner.floor.lanes import PieceRun
from planner.render.floor_view import FloorPicture, floor_picture
from planner.render.page import Frame, frame, render


@dataclass(frozen=True)
class DayPictures:
    """A day's name, with a picture for each of its pieces on the clock."""

    name: str
    pictures: tuple[FloorPicture, ...]


@dataclass(frozen=True)
class RunPage:
    """The page: heading, people in the class, days."""

    frame: Frame
    size: int
    days: tuple[DayPictures, ...]


def run_html(week: Week, size: int, days: Iterable[tuple[Day, Sequence[PieceRun]]]) -> str:
    """The page of a week's classes.

    Args:
        week: as written.
        size: of the class.
        days: each with its pieces on the floor.
    """
    number = count(1)
    shown = tuple(
        DayPictures(DAY_NAMES[day], tuple(floor_picture(run, next(number)) for run in runs))
        for day, runs in days
    )
    return render("pages/run.html", RunPage(frame(week, "The class on the floor"), size, shown))
