"""What all commands share: what arguments mean, where files are."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from planner import paths
from planner.domain.iso_week import monday_of, next_week
from planner.domain.progress import quiet
from planner.domain.words import capital
from planner.errors import DataError, Place

if TYPE_CHECKING:
    from planner.domain.catalogue import Catalogue
    from planner.domain.gym import Gym
    from planner.domain.requests import Wish
    from planner.domain.week import Week
    from planner.store.store import Store
    from planner.weeks.setting import Setting

BROKEN = 1
"""Exit code beside those of the errors: a must is broken, or the catalogue has an error."""
SHOWN_AFTER_S = 1.0

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
ForceOption = Annotated[
    bool, typer.Option("--force", help="Replace files that the planner has not written, too.")
]
OutOption = Annotated[Path | None, typer.Option("--out", help="Write its sheet, as HTML.")]
WeekFile = Annotated[Path, typer.Argument(metavar="WEEK.json", help="A week that draft has written.")]


def folder_of(word: str) -> Path:
    """The folder of a gym; a shipped gym goes by its name."""
    from planner.load.places import gym_folder

    return gym_folder(word, paths.home().shared / "gyms")


def known_catalogue(gym_folder: Path | None = None) -> Catalogue:
    """Movements, schemes, formats; a gym's own among them."""
    from planner.load.catalogue import load_catalogue

    return load_catalogue(paths.home().shared / "catalogue", gym_folder)


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
    try:
        meant = next_week(datetime.now().astimezone().date()) if word is None else word
        monday_of(meant)
    except (ValueError, OverflowError) as error:
        if word is None:
            advice = "Set this computer's clock, or name the week with --week."
            raise DataError(f"next week cannot be told: {error}", advice=advice) from None
        raise DataError(f"--week: {error}") from None
    return meant


def check_targets(*paths: Path | None, force: bool = False, inputs: Iterable[Path] = ()) -> None:
    """Find out, before the work, whether each file could be written."""
    from planner.load.writing import check_writable

    for path in filter(None, paths):
        check_writable(path, force=force, inputs=inputs)


def write(path: Path, content: str, *, force: bool = False, inputs: Iterable[Path] = ()) -> None:
    """Write a text file whole or not at all, and say so."""
    from planner.load.writing import write_file

    replaced = write_file(path, content, force=force, inputs=inputs)
    typer.echo(f"Wrote {path}{', in place of what was there' if replaced else ''}")


def write_json(path: Path, made: Week, *, force: bool = False) -> None:
    """A week as JSON."""
    write(path, made.model_dump_json(indent=1) + "\n", force=force)


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
    if not os.access(folder, os.W_OK):
        return f"the folder {folder} is read-only. Make it writable, or copy it to where you may write"
    return ""


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
        raise DataError("no weeks are kept of this gym", Place(folder), f"{capital(reason)}.")
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


def write_sheet(path: Path, made: Week, *, force: bool = False) -> None:
    """A week's sheet as one HTML file."""
    from planner.weeks.sheets import sheet as week_sheet

    write(path, week_sheet(made), force=force)


def tell_unmet(before: str, made: Week, wishes: Iterable[Wish]) -> None:
    """Names the musts that do not count in a week, and the wishes that it does not meet, if there are any."""
    from planner.cli.tables.week import overruled_lines
    from planner.weeks.wishes import unmet

    for line in overruled_lines(made):
        typer.echo(f"{before}{line}")

    left = "; ".join(wish.words() for wish in unmet(made, wishes))
    if left:
        typer.echo(f"{before}Asked for and not met, because something more important was in the way: {left}.")


@contextmanager
def progress(label: str = "Reading") -> Iterator[Callable[[str, float], None]]:
    """A bar on the terminal once work has taken a moment; nothing where the output goes to a file."""
    if not sys.stderr.isatty():
        yield quiet
        return
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    bar = Progress(*columns, console=Console(file=sys.stderr), transient=True)
    task = bar.add_task(label, total=1.0)
    soon, over = threading.Lock(), threading.Event()

    def show() -> None:
        with soon:
            if not over.is_set():
                bar.start()

    timer = threading.Timer(SHOWN_AFTER_S, show)
    timer.daemon = True
    timer.start()
    try:
        yield lambda said, fraction: bar.update(task, description=said, completed=fraction)
    finally:
        timer.cancel()
        with soon:
            over.set()
            bar.stop()
