"""Finds the folder of a gym, and says before the work whether its result can be written."""

from __future__ import annotations

import tempfile
from pathlib import Path

from planner.errors import DataError, Place
from planner.load.yaml_file import nearest

GYM_FILE = "gym.yaml"
INPUT_SUFFIXES = (".yaml", ".yml")


def gym_folder(word: str, shipped: Path) -> Path:
    """The folder that a coach means.

    Args:
        word: path of a folder, or of the ``gym.yaml`` in it, or the name of a shipped gym.
        shipped: folder of the gyms that come with the program.

    Raises:
        DataError: there is no such folder, or no ``gym.yaml`` in it.
    """
    path = Path(word).expanduser()
    if path.name == GYM_FILE and path.is_file():
        return path.parent
    if path.is_dir():
        if not (path / GYM_FILE).exists():
            raise DataError(
                f"there is no {GYM_FILE} in this folder",
                Place(path),
                "planner init DIR writes one to start from.",
            )
        return path
    names = sorted(p.parent.name for p in shipped.glob(f"*/{GYM_FILE}"))
    if word in names:
        return shipped / word
    hint = nearest(word, names)
    raise DataError(
        f"there is no gym folder {word}.{hint}",
        advice=f"Name a folder with {GYM_FILE} in it, or a gym that comes with the program: "
        f"{', '.join(names)}. planner init DIR writes a new one.",
    )


def check_writable(path: Path) -> None:
    """Find out whether a file could be written, and leave everything as it was.

    A search takes seconds; to learn only afterwards that its result has nowhere to go would waste them.

    Raises:
        DataError: the file could not be written; nothing has been changed.
    """
    if path.is_dir():
        raise DataError("this is a folder", Place(path), "Name a file in it.")
    if path.suffix.lower() in INPUT_SUFFIXES:
        raise DataError(
            f"weeks are not written to {path.suffix} files, which hold what a coach has written",
            Place(path),
            "Name a file that ends in .html or .json.",
        )
    folder = path.absolute().parent
    while not folder.exists() and folder != folder.parent:
        folder = folder.parent
    try:
        if path.exists():
            with path.open("r+b"):
                pass
        # Only a try tells: permissions do not know of read-only disks. This file is gone at once.
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        raise DataError(
            f"the file cannot be written: {error.strerror or error}",
            Place(path),
            "Check the permissions, or name another place with --out or --json.",
        ) from None
