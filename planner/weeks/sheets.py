"""Writes a week's sheets."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from planner import paths
from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day, Gym
from planner.domain.week import Week
from planner.errors import DataError, Place
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.load.places import check_writable
from planner.load.writing import write_bytes_atomically


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

    Returns:
        The files, the index first.

    Raises:
        DataError: a file cannot be read or written, or a kind or format is not known.
    """
    from planner.render.sheets import sheets

    gym, catalogue = _gym(gym_folder)
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
        before=lambda name: (to / name).read_bytes() if (to / name).is_file() else None,
    )
    targets = {to / name: content for name, content in files.items()}
    for path in targets:
        check_writable(path)
        if source is not None and path.resolve() == source.resolve():
            raise DataError("a sheet would replace the week", Place(path), "Name another folder with --to.")
    # The index last: it never leads to a file that is not there yet.
    for path, content in reversed(targets.items()):
        write_bytes_atomically(path, content)
    return tuple(targets)


def _gym(folder: Path | None) -> tuple[Gym | None, Catalogue | None]:
    if folder is None:
        return None, None
    catalogue = load_catalogue(paths.home().shared / "catalogue")
    return load_gym(folder, catalogue), catalogue


def _folder_id(week: Week, folder: Path | None) -> str:
    """The name of the gym's folder, or the gym's own name with hyphens if the folder is not known."""
    if folder is not None:
        return folder.resolve().name
    return re.sub(r"[^a-z0-9]+", "-", week.gym.casefold()).strip("-")
