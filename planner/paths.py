"""Finds the folders that a coach may edit, in a checkout and in an install alike."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from planner.errors import DataError

HOME_VARIABLE = "PLANNER_HOME"
FOLDERS = ("constraints", "templates", "shared")


@dataclass(frozen=True)
class Home:
    """The three folders.

    Attributes:
        constraints: rule files.
        templates: of the sheets.
        shared: catalogue and demo gym.
    """

    constraints: Path
    templates: Path
    shared: Path


def home() -> Home:
    """Find the folders: where PLANNER_HOME says, else in the checkout, else inside the installed package.

    A checkout comes before the packaged copy, so that a stale copy can never win. Where PLANNER_HOME is
    set nothing else is tried: a coach who names a folder means it.

    Raises:
        DataError: no place has all three; every place tried is named, with what it lacks.
    """
    package = Path(__file__).resolve().parent
    named = os.environ.get(HOME_VARIABLE, "").strip()
    places = [Path(named).expanduser().resolve()] if named else [package.parent, package / "_data"]
    tried: list[str] = []
    for place in places:
        # Beside site-packages there could be folders of these names that are not ours.
        wanted = ("pyproject.toml", *FOLDERS) if place == package.parent and not named else FOLDERS
        missing = [name for name in wanted if not (place / name).exists()]
        if not missing:
            return Home(*(place / name for name in FOLDERS))
        tried.append(f"  - {place}: no {', no '.join(missing)}")
    by = f" ({HOME_VARIABLE} names it)" if named else ""
    raise DataError(
        f"The folders {', '.join(FOLDERS[:-1])} and {FOLDERS[-1]} were not found{by}. Tried:\n"
        + "\n".join(tried),
        advice=f"Set {HOME_VARIABLE} to the folder that contains all three.",
    )
