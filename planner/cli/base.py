"""What all commands share: what arguments mean, where files are."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from planner import paths
from planner.domain.iso_week import monday_of, next_week
from planner.errors import DataError, Place

if TYPE_CHECKING:
    from planner.domain.catalogue import Catalogue
    from planner.domain.gym import Gym
    from planner.domain.week import Week
    from planner.store.store import Store
    from planner.weeks.setting import Setting

BROKEN = 1
"""Exit code beside those of the errors: a must is broken, or the catalogue has an error."""

GymOption = Annotated[
    str | None, typer.Option("--gym", metavar="GYM", help="Folder of a gym, or a shipped gym such as demo.")
]
GymName = Annotated[
    str, typer.Argument(metavar="GYM", help="Folder with gym.yaml, or a shipped gym such as demo.")
]
OwnGym = Annotated[str, typer.Argument(metavar="GYM", help="Folder with gym.yaml, in which weeks are kept.")]
WeekName = Annotated[str, typer.Argument(metavar="WEEK", help="ISO week, like 2026-W49.")]
DayName = Annotated[str, typer.Argument(metavar="DAY", help="mon, tue, wed, thu, fri, sat or sun.")]
DayOption = Annotated[str | None, typer.Option("--day", help="Only that day.")]
CandidateOption = Annotated[
    str | None, typer.Option("--candidate", help="Which; the chosen one, else the newest, unless given.")
]
OutOption = Annotated[Path | None, typer.Option("--out", help="Write its sheet, as HTML.")]
WeekFile = Annotated[Path, typer.Argument(metavar="WEEK.json", help="A week that draft has written.")]


def folder_of(word: str) -> Path:
    """The folder of a gym; a shipped gym goes by its name."""
    from planner.load.places import gym_folder

    return gym_folder(word, paths.home().shared / "gyms")


def shipped_catalogue() -> Catalogue:
    """Movements, schemes, formats."""
    from planner.load.catalogue import load_catalogue

    return load_catalogue(paths.home().shared / "catalogue")


def gym_in(folder: Path, catalogue: Catalogue) -> Gym:
    """The gym in a folder."""
    from planner.load.gym import load_gym

    return load_gym(folder, catalogue)


def check_known(word: str, words: tuple[str, ...], what: str) -> None:
    """Refuses a word that is not known and suggests the nearest."""
    from planner.load.yaml_file import nearest

    if word not in words:
        hint = nearest(word, words) or f" Known: {', '.join(words)}."
        raise DataError(f'there is no {what} "{word}".{hint}')


def iso_week(word: str | None) -> str:
    """Checks an ISO week; without one it is next week, by this computer's clock."""
    if word is None:
        return next_week(datetime.now().astimezone().date())
    try:
        monday_of(word)
    except ValueError as error:
        raise DataError(f"--week: {error}") from None
    return word


def write(path: Path, text: str) -> None:
    """Writes a text file whole or not at all."""
    from planner.load.writing import write_text_atomically

    write_text_atomically(path, text)


def week_named(word: str) -> str:
    """Checks an ISO week.

    Raises:
        DataError: there is no such week.
    """
    try:
        monday_of(word)
    except ValueError as error:
        raise DataError(str(error)) from None
    return word


def reason_not_kept(folder: Path) -> str:
    """Why weeks cannot be kept in a gym's folder; empty if they can."""
    place = folder.resolve()
    in_a_checkout = place.parent.name == "gyms" and (place.parent.parent / "catalogue").is_dir()
    if in_a_checkout or paths.home().shared.resolve() in place.parents:
        return (
            f"{folder.name} comes with the program. To keep weeks, make a copy: planner export {folder.name} "
            "gym.json, then planner import gym.json my-gym"
        )
    return "" if os.access(folder, os.W_OK) else f"the folder {folder} is read-only"


@contextmanager
def store_of(gym: str) -> Iterator[tuple[Path, Store]]:
    """The folder of a gym and its open store.

    Raises:
        DataError: no weeks are kept of this gym.
    """
    from planner.store.database import FILE_NAME
    from planner.store.store import open_store

    folder = folder_of(gym)
    reason = reason_not_kept(folder)
    if reason and not (folder / FILE_NAME).exists():  # what is there may be looked at
        raise DataError(f"no weeks are kept of this gym: {reason}")
    if not (folder / FILE_NAME).exists():
        raise DataError("no week is kept of this gym yet", Place(folder), f"Draft one: planner draft {gym}")
    with open_store(folder) as store:
        yield folder, store


@contextmanager
def weeks_setting(gym: str, week: str) -> Iterator[tuple[Store, Setting]]:
    """The open store of a gym, and the setting of one of its weeks."""
    from planner.weeks.setting import setting_of

    week_named(week)
    with store_of(gym) as (folder, store):
        yield store, setting_of(folder, week, store)


def write_sheet(path: Path, made: Week) -> None:
    """Writes a week's sheet as one HTML file, and says so."""
    from planner.weeks.sheets import sheet as week_sheet

    write(path, week_sheet(made))
    typer.echo(f"Wrote {path}")


@contextmanager
def progress() -> Iterator[Callable[[str, float], None]]:
    """Shows a progress bar on a terminal; shows nothing if the output goes to a file."""
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    console = Console(file=sys.stderr)
    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task("Reading", total=1.0)
        yield lambda label, fraction: bar.update(task, description=label, completed=fraction)
