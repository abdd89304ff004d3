"""Adds entries to a gym's own ``movements.yaml``; not a character of what is there is changed.

A library that writes YAML anew moves comments and breaks lines; so the new entries are put where the list
ends, and the whole is read and checked before it takes the old file's place.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import yaml

from planner.errors import DataError
from planner.load.catalogue import OWN_FORMATS, OWN_MOVEMENTS, OWN_SCHEMES, load_catalogue
from planner.load.writing import write_text_atomically

KEY = "movements"
HEAD = f"# The gym's own movements, beside those of the catalogue.\n{KEY}:\n"
MARK = (
    "# Asked were name, pattern, unit, items and seconds; all else is a default, not checked.\n"
    "# With roles, such as [conditioning], drafts may choose it too.\n"
)
INDENT = 2


def add_movements(gym_folder: Path, shared: Path, entries: Sequence[Mapping[str, object]]) -> Path:
    """Adds entries to a gym's own movements, whole or not at all.

    Args:
        gym_folder: with ``gym.yaml`` in it; its own movements can be read.
        shared: folder of the catalogue, with which they are checked.
        entries: as in the file.

    Returns:
        The file.

    Raises:
        DataError: an entry is not right, or the file cannot be written; it is then as it was.
    """
    path = gym_folder / OWN_MOVEMENTS
    before = path.read_bytes().decode() if path.exists() else HEAD
    text = with_entries(before, entries)
    with tempfile.TemporaryDirectory() as aside:
        for name in (OWN_SCHEMES, OWN_FORMATS):
            if (gym_folder / name).is_file():
                shutil.copy(gym_folder / name, aside)
        write_text_atomically(Path(aside) / OWN_MOVEMENTS, text, told=False)
        try:
            load_catalogue(shared, Path(aside))
        except DataError as wrong:
            said = str(wrong).replace(aside, str(gym_folder))
            raise DataError(f"what was answered makes no movement: {said}") from None
    write_text_atomically(path, text)
    return path


def with_entries(text: str, entries: Sequence[Mapping[str, object]]) -> str:
    """A file's text with entries at the end of its list."""
    end = "\r\n" if "\r\n" in text else "\n"
    top: Any = yaml.compose(text, Loader=yaml.SafeLoader)
    found = next(value for key, value in top.value if key.value == KEY)
    if found.value and found.flow_style:
        added = "".join(f",{end}{' ' * INDENT}{_flow(entry)}" for entry in entries)
        at = found.end_mark.index - 1
        return text[:at].rstrip() + added + text[at:]
    if not found.value:  # nothing, or an empty list: the entries go below
        text = text[: found.start_mark.index].rstrip(" ") + text[found.end_mark.index :]
    column = found.start_mark.column if found.value else INDENT
    text = text if text.endswith("\n") else text + end
    return text + "".join(_block(entry, column, end) for entry in entries)


def _block(entry: Mapping[str, object], column: int, end: str) -> str:
    """An entry in the catalogue's way of writing: a line for each key."""
    keys = [f"{key}: {_flow(value)}" for key, value in entry.items()]
    lines = ["", *MARK.splitlines(), f"- {keys[0]}", *(f"  {key}" for key in keys[1:])]
    return "".join(f"{' ' * column}{line}".rstrip() + end for line in lines)


def _flow(value: object) -> str:
    """A value on one line."""
    said = yaml.safe_dump(
        value, default_flow_style=True, sort_keys=False, width=float("inf"), allow_unicode=True
    )
    return said.removesuffix("...\n").strip()
