"""Finds the folder of a gym."""

from __future__ import annotations

import errno
from pathlib import Path

from planner.errors import DataError, Place, of_system, shortened
from planner.load.yaml_file import nearest

GYM_FILE = "gym.yaml"


def gym_folder(word: str, shipped: Path) -> Path:
    """The folder that a coach means.

    Args:
        word: path of a folder, or of the ``gym.yaml`` in it, or the name of a shipped gym.
        shipped: folder of the gyms that come with the program.

    Raises:
        DataError: there is no such folder, or no ``gym.yaml`` in it.
    """
    try:
        return _folder(word, shipped)
    except (OSError, RuntimeError) as error:  # too long a path, no permission, a home that nobody has
        known = error if isinstance(error, OSError) else OSError(errno.ENOENT, str(error))
        raise of_system(known, "this folder cannot be looked into", Path(word)) from None


def _folder(word: str, shipped: Path) -> Path:
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
        f"there is no gym folder {shortened(word)}.{hint}",
        advice=f"Name a folder with {GYM_FILE} in it, or a gym that comes with the program: "
        f"{', '.join(names)}. planner init DIR writes a new one.",
    )
