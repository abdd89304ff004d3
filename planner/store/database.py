"""Opens the store's file, refuses what is not one, and says in words what SQLite says in codes."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import Connection, NullPool, create_engine
from sqlalchemy.exc import DBAPIError

from planner.errors import DataError, Place, PlannerError
from planner.store.errors import NothingThereError, StoreConflict
from planner.store.migrations import Migration, migrate, refuse_newer, version_of

FILE_NAME = "planner.db"
APPLICATION_ID = 0x57504C4E
"""Written into the file's header: a file without it is somebody else's."""

BUSY_MS = 10_000
_MAGIC = b"SQLite format 3\0"
_ID_AT = slice(68, 72)
_HEADER_BYTES = 100

_CLOSED = {"SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_READONLY", "SQLITE_AUTH"}
_DAMAGED = {"SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_FORMAT", "SQLITE_SCHEMA"}


def connect(path: Path, migrations: Sequence[Migration]) -> Connection:
    """A connection to the store, made or brought up to date where needed.

    Raises:
        DataError: the file is no store, is newer than this planner, is damaged, or may not be used.
        StoreConflict: another program kept the file for itself all the time.
    """
    try:
        if not path.parent.is_dir():
            advice = "Name the folder with gym.yaml in it."
            raise DataError("there is no such folder", Place(path.parent), advice)
        _refuse_foreign(path)
    except OSError as error:
        raise _closed(path, error.strerror or str(error)) from None
    with spoken(path):
        connection = create_engine(
            "sqlite://",
            # Each transaction begins with an explicit BEGIN; the driver is not to add its own. A store is
            # used by one thread at a time, though not always by the same.
            creator=lambda: sqlite3.connect(
                path, timeout=BUSY_MS / 1000, isolation_level=None, check_same_thread=False
            ),
            poolclass=NullPool,
        ).connect()
        try:
            _prepare(connection, migrations)
        except BaseException:
            connection.close()
            raise
    return connection


def _refuse_foreign(path: Path) -> None:
    """Look at the header before SQLite touches the file.

    Our number is in it from the file's very first page on, so that no other file passes for ours, and none
    of ours for another's.
    """
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER_BYTES)
    except FileNotFoundError:
        return
    if not header:
        return
    advice = "Move it out of the gym's folder, or restore it from a copy. Nothing in it was changed."
    if not header.startswith(_MAGIC) or len(header) < _HEADER_BYTES:
        raise DataError("this file is not a planner's store, or it is damaged", Place(path), advice)
    if header[_ID_AT] != APPLICATION_ID.to_bytes(4, "big"):
        raise DataError("this file is another program's database, not a planner's store", Place(path), advice)


def _prepare(connection: Connection, migrations: Sequence[Migration]) -> None:
    def pragma(text: str) -> object:
        result = connection.exec_driver_sql(f"PRAGMA {text}")
        return result.scalar() if result.returns_rows else None

    pragma(f"busy_timeout = {BUSY_MS}")
    if pragma("application_id") != APPLICATION_ID:
        pragma(f"application_id = {APPLICATION_ID}")
    version = version_of(connection)
    refuse_newer(version, migrations)
    if pragma("journal_mode") != "wal":
        _write_ahead(connection)
    # What is committed outlives a power cut too, not only a killed process.
    pragma("synchronous = FULL")
    pragma("foreign_keys = ON")
    connection.rollback()
    if version < len(migrations):
        with writing(connection):
            migrate(connection, migrations)


def _write_ahead(connection: Connection) -> None:
    """Turn the write-ahead log on; SQLite does not wait by itself while another process does the same."""
    deadline = time.monotonic() + BUSY_MS / 1000
    while True:
        try:
            mode = connection.exec_driver_sql("PRAGMA journal_mode = WAL").scalar()
        except DBAPIError as error:
            if _code(error.orig) != "SQLITE_BUSY" or time.monotonic() > deadline:
                raise
        else:
            if mode == "wal" or time.monotonic() > deadline:
                return
        time.sleep(0.01)


@contextmanager
def writing(connection: Connection) -> Iterator[None]:
    """A transaction that has the write lock from its start, so that what it reads stays true."""
    with connection.begin():
        connection.exec_driver_sql("BEGIN IMMEDIATE")
        yield


@contextmanager
def reading(connection: Connection) -> Iterator[None]:
    """A transaction in which everything read is of one moment."""
    with connection.begin():
        connection.exec_driver_sql("BEGIN")
        yield


@contextmanager
def spoken(path: Path) -> Iterator[None]:
    """Turn SQLite's errors into words, and name the file in ours."""
    try:
        yield
    except DBAPIError as error:
        raise _in_words(path, error.orig) from error
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


def _code(error: BaseException | None) -> str:
    """SQLite's name of a fault without its finer distinctions: SQLITE_IOERR for SQLITE_IOERR_WRITE."""
    return "_".join(str(getattr(error, "sqlite_errorname", "")).split("_")[:2])


def _in_words(path: Path, error: BaseException | None) -> PlannerError:
    code = _code(error)
    if code in ("SQLITE_BUSY", "SQLITE_LOCKED"):
        return StoreConflict(
            f"{path}: another program has been writing to this store for {BUSY_MS // 1000} s; nothing was "
            "changed\nTry again when it is done."
        )
    if code in _CLOSED:
        return _closed(path, str(error))
    if code in _DAMAGED:
        return DataError(
            f"this store is damaged ({error})",
            Place(path),
            "Restore it from a copy; nothing in it was changed.",
        )
    if code in ("SQLITE_FULL", "SQLITE_IOERR"):
        return DataError(
            f"the store cannot be written ({error}); the change was not kept, all others were",
            Place(path),
            "Check the space left on the disk.",
        )
    return DataError(f"the store cannot be used: {error}", Place(path))


def _closed(path: Path, why: str) -> DataError:
    return DataError(
        f"the store may not be opened or written ({why})",
        Place(path),
        "Check the permissions of the file and of its folder: the planner writes to both.",
    )
