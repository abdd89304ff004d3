"""A whole gym as one JSON file, and back: exported, imported and exported again it is the same text."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

from pydantic import ConfigDict, Field, ValidationError

from planner.domain.base import Value
from planner.domain.mark import MARK
from planner.domain.week import Week
from planner.errors import DataError, Place
from planner.load.writing import write_text_atomically
from planner.stopping import keeping
from planner.store.database import FILE_NAME, reading, spoken, writing
from planner.store.packing import (
    Json,
    packed,
    parsed,
    put_together,
    sha256_of,
    text_of,
    unpacked,
    unreadable,
    week_from,
    week_names,
)
from planner.store.store import Store, known_week, open_store

FORMAT, FORMAT_VERSION = f"{MARK} gym", 1
_FILES = ("gym.yaml", "rules.yaml")


class _Text(Value):
    model_config = ConfigDict(str_strip_whitespace=False)


class _Revision(_Text):
    id: int = Field(ge=1, lt=2**62, strict=True)
    week: str
    parent: int | None
    created: str
    verb: str
    state: Json


class _Move(_Text):
    id: int = Field(ge=1, lt=2**62, strict=True)
    week: str
    revision: int | None
    kind: Literal["commit", "undo", "redo"]


class _Export(_Text):
    """The file.

    Attributes:
        format: says what it is.
        version: of this format.
        files: texts of the gym's own files by name: ``gym.yaml``, ``rules.yaml``, ``history/*.json``.
        weeks: weeks by the hash of their text, which states name.
        revisions: all of them, oldest first.
        moves: all of them, oldest first.
    """

    format: str
    version: int
    files: dict[str, str]
    weeks: dict[str, Json]
    revisions: tuple[_Revision, ...]
    moves: tuple[_Move, ...]


def export_gym(gym_folder: Path) -> str:
    """The gym's files, and all that its store has ever kept, as one JSON text.

    Raises:
        DataError: a file cannot be read.
        StoreConflict: another program kept the store for itself all the time.
    """
    files = {name: _text(gym_folder / name) for name in _FILES if (gym_folder / name).is_file()}
    for path in sorted((gym_folder / "history").glob("*.json")):
        files[f"history/{path.name}"] = _text(path)
    kept: Json = {"weeks": {}, "revisions": [], "moves": []}
    if (gym_folder / FILE_NAME).exists():
        with open_store(gym_folder) as store, spoken(store.path):
            kept = _kept(store)
    return text_of({"format": FORMAT, "version": FORMAT_VERSION, "files": files, **kept}) + "\n"


def import_gym(text: str, folder: Path, loads: Callable[[Path], object] = str) -> None:
    """Make a gym from an export. All of it is checked before anything is written.

    Args:
        text: that ``export_gym`` gave.
        folder: of the gym to be; made where there is none. Files in it are never replaced.
        loads: called with a folder that has the gym's files alone; raises DataError where they do not load.

    Raises:
        DataError: the text is no export, or does not hang together; the folder has a store that is not
            empty, or another gym's files; something cannot be written.
        StoreConflict: another program kept the store for itself all the time.
    """
    export = _read(text)
    _check(export)
    _refuse_other_files(export, folder)
    with TemporaryDirectory() as trial:
        for name, content in export.files.items():
            write_text_atomically(Path(trial, name), content, told=False)
        try:
            loads(Path(trial))
        except DataError as error:
            said = str(error).replace(f"{trial}/", "")
            raise DataError(f"the gym in this export does not load: {said}") from None
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise DataError(f"the folder cannot be made: {error.strerror or error}", Place(folder)) from None
    with open_store(folder) as store:
        _refuse_filled(store)
        # The files come first: where this is cut short, the store is still empty and it can be done again.
        for name, content in export.files.items():
            write_text_atomically(folder / name, content)
        with spoken(store.path), keeping() as step, writing(store.path, store.connection):
            _refuse_filled(store)
            _fill(store.connection, export)
            step.hold(f"the gym {folder}")


def _text(path: Path) -> str:
    """A file's text to the letter, line ends and all."""
    try:
        return path.read_bytes().decode()
    except OSError as error:
        raise DataError(f"the file cannot be read: {error.strerror or error}", Place(path)) from None
    except UnicodeDecodeError:
        raise DataError("the file is not UTF-8 text", Place(path)) from None


def _kept(store: Store) -> Json:
    """Everything in the store, as plain JSON."""
    # All of one moment; it is read through only afterwards, so that nobody waits for that.
    with reading(store.path, store.connection):
        weeks, revisions, moves = (
            _all_of(store.connection, name) for name in ("weeks_json", "revisions", "moves")
        )
    return {
        "weeks": {
            row["sha256"]: parsed(unpacked(row["packed"], row["sha256"], "a stored week")) for row in weeks
        },
        "revisions": [_exported(row) for row in revisions],
        "moves": moves,
    }


def _all_of(connection: sqlite3.Connection, table: str) -> list[dict[str, Any]]:
    cursor = connection.execute(f"SELECT * FROM {table} ORDER BY 1")  # noqa: S608  (a name of ours)
    names = [column[0] for column in cursor.description]
    return [dict(zip(names, row, strict=True)) for row in cursor]


def _exported(row: dict[str, Any]) -> Json:
    """A revision with its state as plain JSON; the checksum follows from that, and is made anew."""
    what = f"revision {row['id']} of {row['week']}"
    state = parsed(unpacked(row.pop("state"), row.pop("sha256"), what))
    return {**row, "state": state}


def _read(text: str) -> _Export:
    try:
        data = json.loads(text)
        text_of(data).encode()  # JSON may hold what UTF-8 and our own texts cannot
    except (ValueError, RecursionError):
        raise DataError("this is not an exported gym: it is not JSON, or was cut short") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise DataError("this is not an exported gym")
    if data.get("version") != FORMAT_VERSION:
        raise DataError(
            f"this export is of version {data.get('version')}; version {FORMAT_VERSION} is read",
            advice="Update the planner on this computer.",
        )
    try:
        return _Export.model_validate(data)
    except ValidationError as error:
        raise unreadable(error, "this export") from None


def _check(export: _Export) -> None:
    """Whether it hangs together: hashes, names, and a history that could have come about."""
    weeks: dict[str, Week] = {}
    for name, week in export.weeks.items():
        if sha256_of(text_of(week)) != name:
            raise DataError("this export is damaged: a week does not match its checksum")
        weeks[name] = week_from(week, "this export")
    for name in export.files:
        inside = name.removeprefix("history/")
        plain = inside not in ("", ".", "..") and not set(inside) & set("/\\:\0")
        if name not in _FILES and not (inside != name and plain and name.endswith(".json")):
            raise DataError(f'this export has a file "{name}", which is none of a gym')
    of: dict[int, str] = {}
    for revision in export.revisions:
        what = f"revision {revision.id} of {revision.week}"
        known_week(revision.week)
        if revision.id <= next(reversed(of), 0):
            raise DataError(f"this export is damaged: {what} is out of order")
        if revision.parent is not None and of.get(revision.parent) != revision.week:
            raise DataError(f"this export is damaged: {what} changes a revision that is not there")
        of[revision.id] = revision.week
        _check_state(revision, weeks, what)
    _check_moves(export)


def _check_moves(export: _Export) -> None:
    """Walk them: each must lead from where the one before left the week."""
    parents = {revision.id: revision.parent for revision in export.revisions}
    weeks = {revision.id: revision.week for revision in export.revisions}
    heads: dict[str, int | None] = {}
    last = 0
    for move in export.moves:
        head = heads.get(move.week)
        if move.kind == "undo":
            right = head is not None and parents[head] == move.revision
        else:
            right = weeks.get(move.revision or 0) == move.week and parents[move.revision or 0] == head
        if not right or move.id <= last:
            raise DataError(f"this export is damaged: move {move.id} cannot have been made")
        heads[move.week], last = move.revision, move.id


def _check_state(revision: _Revision, weeks: dict[str, Week], what: str) -> None:
    try:
        missing = set(week_names(revision.state)) - set(weeks)
    except (KeyError, TypeError):
        raise DataError(f"this export is damaged: {what} is not a week's state") from None
    if missing:
        raise DataError(f"this export is damaged: {what} names a week that is not there")
    if put_together(revision.state, weeks.__getitem__, what).week != revision.week:
        raise DataError(f"this export is damaged: {what} holds another week's state")


def _refuse_other_files(export: _Export, folder: Path) -> None:
    for name, content in export.files.items():
        path = folder / name
        if path.exists() and _text(path) != content:
            raise DataError(
                "there is a file here already, and it is not the one in the export",
                Place(path),
                "Import into a new folder.",
            )


def _refuse_filled(store: Store) -> None:
    if store.weeks():
        raise DataError(
            "this gym's store is not empty, and nothing in it is ever overwritten",
            Place(store.path),
            "Import into a new folder.",
        )


def _fill(connection: sqlite3.Connection, export: _Export) -> None:
    for name, week in export.weeks.items():
        connection.execute("INSERT INTO weeks_json VALUES (?, ?)", (name, packed(text_of(week))))
    for r in export.revisions:
        text = text_of(r.state)
        row = (r.id, r.week, r.parent, r.created, r.verb, packed(text), sha256_of(text))
        connection.execute("INSERT INTO revisions VALUES (?, ?, ?, ?, ?, ?, ?)", row)
    for move in export.moves:
        connection.execute("INSERT INTO moves VALUES (?, ?, ?, ?)", tuple(move.model_dump().values()))
