"""Writes a new gym's folder: commented files that draft a week as they are."""

from __future__ import annotations

from pathlib import Path

from planner.errors import DataError, Place, of_system
from planner.load.writing import write_text_atomically
from planner.load.yaml_file import read_text

FILES = ("gym.yaml", "rules.yaml", "README.txt")


def copy_starter(starter: Path, target: Path) -> tuple[Path, ...]:
    """Copy the starter into a new or empty folder.

    Args:
        starter: folder that comes with the program.
        target: folder to be made; may be there, if there is nothing in it.

    Returns:
        The files written.

    Raises:
        DataError: the folder has something in it, or cannot be written; nothing has been overwritten.
    """
    try:
        if target.exists() and not target.is_dir():
            raise DataError("this is a file", Place(target), "Name a new folder.")
        if target.is_dir() and any(target.iterdir()):
            raise DataError(
                "this folder has something in it already; nothing was written",
                Place(target),
                "Name a new folder, or an empty one.",
            )
    except OSError as error:
        raise of_system(error, "the folder cannot be read", target) from None
    texts = {name: read_text(starter / name) for name in FILES}
    for name, text in texts.items():
        write_text_atomically(target / name, text)
    return tuple(target / name for name in FILES)
