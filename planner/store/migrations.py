"""How the store's tables came about, step by step: a step that has been released is never edited.

Each step runs once per file, all of them in one transaction, so that a file has all of a version or nothing
of it. Steps are written in SQL of their own: ``tables.py`` says what is true now, these say what was done.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from sqlite3 import Connection

from planner.errors import DataError
from planner.load.writing import write_bytes_atomically

Migration = Callable[[Connection], None]


def revisions_moves_and_weeks(connection: Connection) -> None:
    """Version 1: revisions of a week's state, moves between them, and the weeks that states refer to."""
    for statement in (
        """
        CREATE TABLE weeks_json (
            sha256 TEXT PRIMARY KEY NOT NULL,
            packed BLOB NOT NULL
        ) WITHOUT ROWID
        """,
        """
        CREATE TABLE revisions (
            id INTEGER PRIMARY KEY NOT NULL,
            week TEXT NOT NULL,
            parent INTEGER REFERENCES revisions (id),
            created TEXT NOT NULL,
            verb TEXT NOT NULL,
            state BLOB NOT NULL,
            sha256 TEXT NOT NULL
        )
        """,
        "CREATE INDEX revisions_of_week ON revisions (week, id)",
        """
        CREATE TABLE moves (
            id INTEGER PRIMARY KEY NOT NULL,
            week TEXT NOT NULL,
            revision INTEGER REFERENCES revisions (id),
            kind TEXT NOT NULL CHECK (kind IN ('commit', 'undo', 'redo')),
            CHECK (revision IS NOT NULL OR kind = 'undo')
        )
        """,
        "CREATE INDEX moves_of_week ON moves (week, id)",
    ):
        connection.execute(statement)
    for table in ("weeks_json", "revisions", "moves"):
        for deed in ("UPDATE", "DELETE"):
            connection.execute(
                f"CREATE TRIGGER {table}_no_{deed.lower()} BEFORE {deed} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
            )


MIGRATIONS: tuple[Migration, ...] = (revisions_moves_and_weeks,)


def version_of(connection: Connection) -> int:
    """The file's version; 0 where it has no tables yet."""
    tables = "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = 'schema_migrations'"
    if not connection.execute(tables).fetchone()[0]:
        return 0
    newest = connection.execute("SELECT max(version) FROM schema_migrations").fetchone()[0]
    return int(newest or 0)


def refuse_newer(version: int, migrations: Sequence[Migration]) -> None:
    """Refuse a file that a later planner wrote: its tables may mean something else.

    Raises:
        DataError: it is newer.
    """
    if version > len(migrations):
        raise DataError(
            f"this store was written by a newer planner: it is of version {version}, and this planner reads "
            f"up to version {len(migrations)}",
            advice="Update the planner on this computer. Nothing in the file was changed.",
        )


def keep_copy(path: Path, connection: Connection, migrations: Sequence[Migration]) -> None:
    """Before a migration: a copy of the store beside it, ``planner-version-1.db``.

    The caller holds the write lock.

    Raises:
        DataError: the copy cannot be written.
    """
    version = version_of(connection)
    if 0 < version < len(migrations):
        content = connection.serialize()
        for n in count(1):
            copy = path.with_name(f"{path.stem}-version-{version}{f'-{n}' if n > 1 else ''}{path.suffix}")
            if not copy.exists():
                return write_bytes_atomically(copy, content)
            if copy.read_bytes() == content:  # of a migration that failed
                return None
    return None


def migrate(connection: Connection, migrations: Sequence[Migration]) -> None:
    """Run the steps that the file lacks; the caller holds the write lock and commits.

    Raises:
        DataError: the file is newer than this planner.
    """
    version = version_of(connection)
    refuse_newer(version, migrations)
    connection.execute(
        "CREATE TABLE IF NOT EXISTS schema_migrations "
        "(version INTEGER PRIMARY KEY NOT NULL, name TEXT NOT NULL, applied TEXT NOT NULL)"
    )
    for number, step in enumerate(migrations[version:], version + 1):
        step(connection)
        connection.execute(
            "INSERT INTO schema_migrations (version, name, applied) VALUES (?, ?, ?)",
            (number, step.__name__, now()),
        )


def now() -> str:
    """This moment, UTC, ISO 8601."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
