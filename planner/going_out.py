"""What goes out once a week is drafted: its sheets on disk, and one member's loads."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from planner import paths
from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day, Gym
from planner.domain.week import Week
from planner.errors import DataError, Place
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.load.writing import check_writable, write_file
from planner.prescribe.loads import scheme_percent
from planner.prescribe.member_loads import (
    MemberLoad,
    find_lift,
    find_schemes,
    member_load,
    one_rm_kg,
    read_reps_max,
)


@dataclass(frozen=True)
class SchemeLoads:
    """What one scheme asks for.

    Attributes:
        name: of the scheme.
        percent: of the 1RM.
        loads: for each 1RM asked about: one as tested, or the lowest, the mean and the highest estimate.
    """

    name: str
    percent: float
    loads: tuple[MemberLoad, ...]


@dataclass(frozen=True)
class Answer:
    """One member's loads.

    Attributes:
        lift: name.
        spread: whether the 1RM was estimated, so that there are three.
        schemes: those that are meant.
    """

    lift: str
    spread: bool
    schemes: tuple[SchemeLoads, ...]


def member_answer(
    gym_folder: Path,
    lift: str,
    scheme: str,
    *,
    one_rm: float | None = None,
    reps_max: str | None = None,
    bar: float | None = None,
) -> Answer:
    """One member's loads on the gym's plates.

    Args:
        gym_folder: with ``gym.yaml``.
        lift: name or id of a lift on the bar.
        scheme: id, or sets and reps such as "3x8".
        one_rm: 1RM of that lift in kg.
        reps_max: a set to failure such as "5@80", instead of it.
        bar: mass of the bar in kg; all the gym's bars if None.

    Raises:
        DataError: something asked for is not there, or not exactly one of 1RM and rep max is given.
    """
    if (one_rm is None) == (reps_max is None):
        raise DataError(
            "a 1RM or a rep max is needed, one of the two", advice="--one-rm 72.5, or --reps-max 5@80."
        )
    catalogue = load_catalogue(paths.home().shared / "catalogue")
    gym = load_gym(gym_folder, catalogue)
    bests = (one_rm,) if one_rm is not None else one_rm_kg(*read_reps_max(reps_max or ""))
    bars = () if bar is None else (bar,)
    return Answer(
        lift=find_lift(lift, catalogue).name,
        spread=one_rm is None,
        schemes=tuple(
            SchemeLoads(
                found.name,
                scheme_percent(found),
                tuple(member_load(best, scheme_percent(found), gym, bars) for best in bests),
            )
            for found in find_schemes(scheme, catalogue)
        ),
    )


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
) -> tuple[Path, ...]:
    """Every sheet of a week in a folder, each file written whole or not at all.

    All are made before the first is written, so that a fault leaves the folder as it was.

    Args:
        week: as drafted.
        to: the folder; made where there is none.
        source: the file that the week was read from, which is not to be replaced.
        gym_folder: for the loads card, and for the calendar's identifiers.
        only: kinds of sheet; all if empty.
        day: sheets of this day alone, and only those that can be of one day.
        formats: html, pdf or both.
        force: replace files that are not the program's.

    Returns:
        The files, the index first.

    Raises:
        DataError: a file cannot be read or written, or a kind or format is not known.
    """
    from planner.render.sheets import CALENDAR_FILE, sheets

    gym, catalogue = _gym(gym_folder)
    if to.exists() and not to.is_dir():
        raise DataError("this is a file", Place(to), "Name a folder with --to.")
    calendar = to / CALENDAR_FILE
    files = sheets(
        week,
        _folder_id(week, gym_folder),
        gym=gym,
        catalogue=catalogue,
        only=only,
        day=day,
        formats=formats,
        calendar_before=calendar.read_bytes() if calendar.is_file() else None,
    )
    targets = {to / name: content for name, content in files.items()}
    inputs = () if source is None else (source,)
    for path in targets:
        check_writable(path, force=force, inputs=inputs)
    # The index last: it never leads to a file that is not there yet.
    for path, content in reversed(targets.items()):
        write_file(path, content, force=force, inputs=inputs)
    return tuple(targets)


def _gym(folder: Path | None) -> tuple[Gym | None, Catalogue | None]:
    if folder is None:
        return None, None
    catalogue = load_catalogue(paths.home().shared / "catalogue")
    return load_gym(folder, catalogue), catalogue


def _folder_id(week: Week, folder: Path | None) -> str:
    """The gym's folder; where it is not known, the gym's name with hyphens."""
    if folder is not None:
        return folder.resolve().name
    return re.sub(r"[^a-z0-9]+", "-", week.gym.casefold()).strip("-")
