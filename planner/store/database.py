"""Opens the store's file, waits for its turn to write, and says in words what SQLite says in codes.

The file is only ever touched through SQLite: where a process opens and closes a file by itself, the system
drops all of that process's locks on it, those of an open store too.
"""

from __future__ import annotations

import logging
import os
import random
import sqlite3
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import TypeVar

from planner.errors import DataError, Place, PlannerError
from planner.store.errors import NothingThereError, StoreConflict
from planner.store.migrations import Migration, keep_copy, migrate, refuse_newer, version_of
from planner.store.synchronised import RISK, is_synchronised

FILE_NAME = "planner.db"
APPLICATION_ID = 0x57504C4E
"""Written into the file's header: a file without it is somebody else's."""

WAIT_S, SILENT_S = 30.0, 1.0
"""How long a turn is waited for, and how long without a word."""
_PAUSE_S, _LEAST_PAUSE_S = 0.04, 0.002
"""Between two tries. Who has waited longer tries more often, so that nobody is left to the end: SQLite's own
waiting has it the other way about."""

_LOG = logging.getLogger(__name__)
_T = TypeVar("_T")

_BUSY = {"SQLITE_BUSY", "SQLITE_LOCKED"}
_NOT_KEPT = "the store cannot be written ({}); the change was not kept, all others were"
_CLOSED = (
    "the store may not be opened or written ({}); nothing was changed",
    "Check the permissions of the file and of its folder, both of which are written, and the disk's space.",
)
_DAMAGED = ("this store is damaged, or only a part of it was copied ({})", "Restore it from a copy.")
_SAID: dict[str, tuple[str, str]] = {
    "SQLITE_READONLY_DBMOVED": (
        "the store was moved, removed or replaced while it was open; the change was not kept",
        "Look whether the file is the right one, then repeat the change.",
    ),
    "SQLITE_NOTADB": ("this file is not a planner's store, or it is damaged", "Restore it from a copy."),
    **dict.fromkeys(("SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_READONLY", "SQLITE_AUTH"), _CLOSED),
    **dict.fromkeys(("SQLITE_CORRUPT", "SQLITE_FORMAT", "SQLITE_SCHEMA"), _DAMAGED),
    **dict.fromkeys(("SQLITE_FULL", "SQLITE_IOERR"), (_NOT_KEPT, "Check the space left on the disk.")),
}
"""By SQLite's name of a fault: what is wrong, and what would help."""


def connect(path: Path, migrations: Sequence[Migration]) -> sqlite3.Connection:
    """A connection to the store, made or brought up to date where needed.

    Raises:
        DataError: the file is no store, is newer than this planner, is damaged, or may not be used.
        StoreConflict: another program kept the file for itself all the time.
    """
    with spoken(path):
        if not os.path.isdir(path.parent):  # noqa: PTH112  (it says no where it may not look)
            raise DataError(
                "there is no such folder", Place(path.parent), "Name the folder with gym.yaml in it."
            )
        # Each transaction begins with an explicit BEGIN; the driver is not to add its own. A store is used by
        # one thread at a time, though not always by the same.
        connection = sqlite3.connect(path, timeout=0, isolation_level=None, check_same_thread=False)
        try:
            _prepare(path, connection, migrations)
        except BaseException:
            connection.close()
            raise
    return connection


def _prepare(path: Path, connection: sqlite3.Connection, migrations: Sequence[Migration]) -> None:
    # In this order: the first page that a file of ours ever has carries our number.
    pages, number = (pragma(path, connection, name) for name in ("page_count", "application_id"))
    if pages and number != APPLICATION_ID:
        advice = "Move it out of the gym's folder, or restore it from a copy. Nothing in it was changed."
        raise DataError("this file is another program's database, not a planner's store", Place(path), advice)
    if pragma(path, connection, "journal_mode") == "wal":
        # Stores used to be like this. It fails where another process has the file open, and can wait then.
        with suppress(sqlite3.OperationalError):
            connection.execute("PRAGMA journal_mode = DELETE")
    # What is committed outlives a power cut too, not only a killed process.
    connection.execute("PRAGMA synchronous = EXTRA")
    connection.execute("PRAGMA foreign_keys = ON")
    version = patiently(path, lambda: version_of(connection))
    refuse_newer(version, migrations)
    if version < len(migrations):
        with writing(path, connection):
            if pages:
                keep_copy(path, connection, migrations)
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            migrate(connection, migrations)
    if is_synchronised(path.parent) and not pragma(path, connection, "user_version"):
        with suppress(sqlite3.OperationalError):  # another time, where another writes just now or nobody may
            connection.execute("PRAGMA user_version = 1")
            _LOG.warning("%s: %s", path.parent, RISK)


def pragma(path: Path, connection: sqlite3.Connection, name: str) -> object:
    """What SQLite says of the file."""
    return patiently(path, lambda: connection.execute(f"PRAGMA {name}").fetchone()[0])


def patiently(path: Path, deed: Callable[[], _T]) -> _T:
    """Do something as soon as no other process has the file for itself.

    Raises:
        StoreConflict: one still had after ``WAIT_S`` seconds.
        DataError: something else is wrong with the file.
    """
    begun, said = time.monotonic(), False
    with spoken(path):
        while True:
            try:
                return deed()
            except sqlite3.OperationalError as error:
                waited = time.monotonic() - begun
                if _code(error) not in _BUSY or waited > WAIT_S:
                    raise
            if waited > SILENT_S and not said:
                said = True
                _LOG.warning("%s: another program is writing here; waiting %g s at most", path, WAIT_S)
            pause = max(_LEAST_PAUSE_S, _PAUSE_S / (1 + waited))
            time.sleep(pause * random.uniform(0.5, 1.5))  # noqa: S311  (nothing secret)


@contextmanager
def writing(path: Path, connection: sqlite3.Connection) -> Iterator[None]:
    """A transaction that has the write lock from its start, so that what it reads stays true."""
    patiently(path, lambda: connection.execute("BEGIN IMMEDIATE"))
    try:
        yield
        patiently(path, lambda: connection.execute("COMMIT"))
    except BaseException:
        with suppress(sqlite3.Error):  # some faults have ended it already
            connection.execute("ROLLBACK")
        raise


@contextmanager
def reading(path: Path, connection: sqlite3.Connection) -> Iterator[None]:
    """A transaction in which everything read is of one moment; nobody writes meanwhile."""
    connection.execute("BEGIN")
    try:
        pragma(path, connection, "schema_version")  # only a first read takes the lock
        yield
    finally:
        connection.execute("ROLLBACK")


@contextmanager
def spoken(path: Path) -> Iterator[None]:
    """Turn SQLite's errors into words, and name the file in ours."""
    try:
        yield
    except sqlite3.Error as error:
        raise _in_words(path, error) from error
    except DataError as error:
        if error.place is not None or isinstance(error, NothingThereError):
            raise
        raise DataError(error.what, Place(path), error.advice) from None


def problems(path: Path) -> tuple[str, ...]:
    """What SQLite's own check finds wrong in a file; nothing where all is well."""
    with spoken(path), closing(sqlite3.connect(path)) as connection:
        rows = connection.execute("PRAGMA integrity_check").fetchall()
        rows += connection.execute("PRAGMA foreign_key_check").fetchall()
    return tuple(str(row[0]) for row in rows if row[0] != "ok")


def _code(error: sqlite3.Error) -> str:
    """SQLite's name of a fault without its finer distinctions: SQLITE_IOERR for SQLITE_IOERR_WRITE."""
    return "_".join(str(getattr(error, "sqlite_errorname", "")).split("_")[:2])


def _in_words(path: Path, error: sqlite3.Error) -> PlannerError:
    code, name = _code(error), str(getattr(error, "sqlite_errorname", ""))
    if code in _BUSY:
        return StoreConflict(
            f"{path}: another program has been writing to this store for {WAIT_S:g} s; nothing was "
            "changed\nTry again when it is done."
        )
    what, advice = _SAID.get(name) or _SAID.get(code) or ("the store cannot be used: {}", "")
    return DataError(what.format(error), Place(path), advice)
