"""Writes a week's sheets."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day, Gym
from planner.domain.progress import Progress, quiet
from planner.domain.week import Week
from planner.errors import DataError, Place, of_system
from planner.floor.lanes import PieceRun
from planner.load.writing import carries_mark, check_writable, write_file
from planner.weeks.known import catalogue_and_gym

MOST_BYTES = 5_000_000
"""A larger calendar of a week is none of ours."""


def sheet(week: Week) -> str:
    """The week's sheet as one HTML file."""
    from planner.render.html import week_html

    return week_html(week)


def write_sheets(
    week: Week,
    to: Path,
    *,
    source: Path | None = None,
    gym_folder: Path | None = None,
    only: Iterable[str] = (),
    day: Day | None = None,
    formats: Iterable[str] = ("html",),
    force: bool = False,
    progress: Progress = quiet,
) -> tuple[Path, ...]:
    """Writes every sheet of a week into a folder, each file whole or not at all.

    All are made before the first is written, so that an error leaves the folder as it was.

    Args:
        week: as drafted.
        to: the folder; it is made if there is none.
        source: the file that the week was read from; it is never replaced.
        gym_folder: for the loads card, and for the calendar's identifiers.
        only: kinds of sheet; all if empty.
        day: sheets of this day alone, and only those that can be of one day.
        formats: html, pdf or both.
        force: replace files that are not the program's.
        progress: called with a label and a fraction done.

    Returns:
        The files, the index first.

    Raises:
        DataError: a file cannot be read or written, or a kind or format is not known.
    """
    from planner.render.sheets import sheets

    catalogue, gym = catalogue_and_gym(gym_folder) if gym_folder else (None, None)
    if to.exists() and not to.is_dir():
        raise DataError("this is a file", Place(to), "Name a folder with --to.")
    files = sheets(
        week,
        _folder_id(week, gym_folder),
        gym=gym,
        catalogue=catalogue,
        only=only,
        day=day,
        formats=formats,
        progress=progress,
        before=lambda name: _before(to / name),
        runs=_runs(week, catalogue, gym),
    )
    targets = {to / name: content for name, content in files.items()}
    inputs = () if source is None else (source,)
    for path in targets:
        check_writable(path, force=force, inputs=inputs)
    # The index last: it never leads to a file that is not there yet.
    for path, content in reversed(targets.items()):
        write_file(path, content, force=force, inputs=inputs)
    return tuple(targets)


def _runs(
    week: Week, catalogue: Catalogue | None, gym: Gym | None
) -> Callable[[Day], Sequence[PieceRun]] | None:
    """A day's pieces on the floor; None where the gym is not known, or is not the one of the week."""
    from planner.weeks.run import run_week

    if catalogue is None or gym is None:
        return None

    def runs(day: Day) -> Sequence[PieceRun]:
        try:
            return run_week(week, catalogue, gym, day=day)[0].pieces
        except (DataError, ValueError):  # of another gym or catalogue, or no plan: its sheets are written
            return ()

    return runs


def _before(path: Path) -> bytes | None:
    """What the planner wrote there before; None where there is nothing of it."""
    try:
        if not path.is_file() or path.stat().st_size > MOST_BYTES:
            return None
        content = path.read_bytes()
    except OSError as error:
        raise of_system(error, "what was written before cannot be read", path) from None
    return content if carries_mark(content) else None


def _folder_id(week: Week, folder: Path | None) -> str:
    """The name of the gym's folder, or the gym's own name with hyphens if the folder is not known."""
    if folder is not None:
        return folder.resolve().name
    return re.sub(r"[^a-z0-9]+", "-", week.gym.casefold()).strip("-")
