"""What is in the file, as values: its revisions, the moves between them, and the weeks that they name."""

from __future__ import annotations

from pathlib import Path
from sqlite3 import Connection
from typing import Any, Literal

from planner.domain.record import WeekState
from planner.domain.week import Week
from planner.errors import DataError
from planner.store.database import patiently, spoken
from planner.store.errors import NothingThereError
from planner.store.migrations import now
from planner.store.packing import (
    Json,
    packed,
    parsed,
    put_together,
    sha256_of,
    taken_apart,
    unpacked,
    week_from,
)

Kind = Literal["commit", "undo", "redo"]


class Rows:
    """Reads and adds rows. None is ever changed, so that what was read once stays true.

    Attributes:
        weeks: by hash, those that were read.
    """

    def __init__(self, path: Path, connection: Connection) -> None:
        self.path, self.connection = path, connection
        self.weeks: dict[str, Week] = {}

    def select(self, sql: str, *values: object) -> list[Any]:
        """All rows, as soon as nobody has the file for itself."""
        return patiently(self.path, lambda: self.connection.execute(sql, values).fetchall())

    def head(self, week: str, up_to_move: int = 2**62) -> int | None:
        """The revision at which a week stands, or stood after a move; None before the first."""
        query = "SELECT revision FROM moves WHERE week = ? AND id <= ? ORDER BY id DESC LIMIT 1"
        rows = self.select(query, week, up_to_move)
        return rows[0][0] if rows else None

    def state_at(self, week: str, revision: int | None) -> WeekState:
        """A week at one revision; an empty state before the first."""
        data = self.raw_state(week, revision)
        if data is None:
            return WeekState(week=week)
        with spoken(self.path):
            return put_together(data, self.week_called, f"revision {revision} of {week}")

    def raw_state(self, week: str, revision: int | None) -> Json | None:
        """The same as plain JSON that only names its weeks."""
        if revision is None:
            return None
        rows = self.select("SELECT state, sha256 FROM revisions WHERE id = ? AND week = ?", revision, week)
        if not rows:
            raise NothingThereError(f"{week} has no revision {revision}")
        blob, sha256 = rows[0]
        with spoken(self.path):
            return parsed(unpacked(blob, sha256, f"revision {revision} of {week}"))

    def week_called(self, name: str) -> Week:
        """A stored week by its hash."""
        if name in self.weeks:
            return self.weeks[name]
        rows = self.select("SELECT packed FROM weeks_json WHERE sha256 = ?", name)
        with spoken(self.path):
            if not rows:
                what = "this store is damaged: a week that a revision names is missing"
                raise DataError(what, advice="Restore it from a copy.")
            self.weeks[name] = week_from(parsed(unpacked(rows[0][0], name, "a stored week")), "the store")
        return self.weeks[name]

    def before(self, week: str, head: int | None) -> int | None:
        """The revision that one changed."""
        if head is None:
            raise NothingThereError(f"there is nothing to undo in {week}")
        parent: int | None = self.select("SELECT parent FROM revisions WHERE id = ?", head)[0][0]
        return parent

    def after(self, week: str, head: int | None) -> int:
        """What stood before the last undo that led here.

        This is never out of date. To come back here after a newer change was made from here, that change
        had to be undone first, and then it is the one that this finds.
        """
        query = (
            "SELECT revision FROM moves WHERE week = ? AND id < (SELECT max(id) FROM moves "
            "WHERE week = ? AND kind = 'undo' AND revision IS ?) ORDER BY id DESC LIMIT 1"
        )
        rows = self.select(query, week, week, head)
        if not rows:
            raise NothingThereError(f"there is nothing to redo in {week}")
        return int(rows[0][0])

    def add(self, state: WeekState, verb: str, parent: int | None) -> int:
        """A new revision, and the move to it."""
        text, weeks = taken_apart(state, {id(week): name for name, week in self.weeks.items()})
        for name, week_text in weeks.items():
            known = "INSERT INTO weeks_json (sha256, packed) VALUES (?, ?) ON CONFLICT DO NOTHING"
            self.select(known, name, packed(week_text))
        values = (state.week, parent, now(), verb, packed(text), sha256_of(text))
        query = (
            "INSERT INTO revisions (week, parent, created, verb, state, sha256) "
            "VALUES (?, ?, ?, ?, ?, ?) RETURNING id"
        )
        made = int(self.select(query, *values)[0][0])
        self.move(state.week, made, "commit")
        return made

    def move(self, week: str, revision: int | None, kind: Kind) -> None:
        """A week stands elsewhere from now on."""
        self.select("INSERT INTO moves (week, revision, kind) VALUES (?, ?, ?)", week, revision, kind)
