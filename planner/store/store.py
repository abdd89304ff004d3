"""The verbs of the store: look at a week, commit a change, undo, redo, and what came before.

Nothing is overwritten. A commit adds a revision whose parent is the one that it changed; undo and redo only
add a move, and the last move of a week says where it stands. So a change made after an undo begins a branch
of its own, and the branch left behind is still there.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from types import TracebackType
from typing import Literal, Self

from sqlalchemy import func, insert, select

from planner.domain.iso_week import monday_of
from planner.domain.record import WeekState
from planner.domain.week import Week
from planner.errors import DataError
from planner.stopping import keeping
from planner.store.database import FILE_NAME, connect, reading, spoken, writing
from planner.store.errors import NothingThereError, StoreConflict
from planner.store.migrations import MIGRATIONS, Migration, now
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
from planner.store.tables import moves, revisions, weeks_json

Kind = Literal["commit", "undo", "redo"]

LAST_LOOK = -1
"""In place of a revision's id: the one at which this store last saw the week."""


@dataclass(frozen=True)
class Revision:
    """One change of one week.

    Attributes:
        id: counts up over all weeks.
        week: ISO week.
        parent: id of the revision that was changed; None where there was none.
        created: UTC, ISO 8601.
        verb: what was done, for the coach: "drafted", "locked Thursday".
        sha256: of the state's JSON text, hexadecimal.
    """

    id: int
    week: str
    parent: int | None
    created: str
    verb: str
    sha256: str


class Store:
    """The open store of one gym; a context manager. For one thread at a time.

    Args:
        path: of the file.
        migrations: steps that make its tables.

    Raises:
        DataError: the file is no store, is newer than this planner, is damaged, or may not be used.
        StoreConflict: another program kept the file for itself all the time.
    """

    def __init__(self, path: Path, migrations: tuple[Migration, ...] = MIGRATIONS) -> None:
        self.path = path
        self.connection = connect(path, migrations)
        self._seen: dict[str, int | None] = {}
        self._weeks: dict[str, Week] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self.connection.close()

    def state(self, week: str) -> WeekState:
        """The week as it stands; an empty state where nothing is kept of it.

        Raises:
            DataError: there is no such week, or what is stored cannot be read.
        """
        known_week(week)
        with spoken(self.path), reading(self.connection):
            head = self._head(week)
            state = self._state_at(week, head)
        self._seen[week] = head
        return state

    def state_at(self, week: str, revision: int) -> WeekState:
        """The week as it was at one revision, on whatever branch; commit it to go back there.

        Raises:
            DataError: the week has no such revision, or it cannot be read.
        """
        with spoken(self.path), reading(self.connection):
            return self._state_at(week, revision)

    def head(self, week: str) -> int | None:
        """The id of the revision at which the week stands; None before the first."""
        with spoken(self.path), reading(self.connection):
            return self._head(week)

    def commit(self, week: str, new_state: WeekState, verb: str, *, seen: int | None = LAST_LOOK) -> Revision:
        """Keep a change.

        Args:
            week: ISO week.
            new_state: all of it.
            verb: what was done, for the coach.
            seen: the revision that was changed; unless given, the one at which this store last saw the week.

        Raises:
            StoreConflict: the week has moved on since.
            DataError: there is no such week, or the file cannot be written.
            ValueError: the state is another week's, its candidates' names are not unlike, or none is of the
                name that is chosen.
        """
        known_week(week)
        if new_state.week != week:
            raise ValueError(f"this state is of {new_state.week}, not of {week}")
        names = [candidate.name for candidate in new_state.candidates]
        if len(set(names)) < len(names):
            raise ValueError(f"{week} has two candidates of one name")
        if new_state.chosen is not None and new_state.chosen not in names:
            raise ValueError(f"{week} has no candidate {new_state.chosen}")
        text, weeks = taken_apart(new_state)
        expected = self._seen.get(week) if seen == LAST_LOOK else seen
        with spoken(self.path), keeping(f"{week}, {verb}") as step:
            with writing(self.connection):
                head = self._head(week)
                if head != expected:
                    raise self._moved(week, head)
                for name, week_text in weeks.items():
                    self._keep_week(name, week_text)
                made = Revision(self._next_id(), week, head, now(), verb, sha256_of(text))
                self.connection.execute(insert(revisions).values(**asdict(made), state=packed(text)))
                self._move(week, made.id, "commit")
                step.hold()
            self._seen[week] = made.id
        return made

    def undo(self, week: str, *, seen: int | None = LAST_LOOK) -> WeekState:
        """Step back to the revision before; from the first one to the empty week.

        Args:
            week: ISO week.
            seen: as in ``commit``; a week that this store has not looked at yet is taken as it stands.

        Raises:
            DataError: there is nothing to undo.
            StoreConflict: the week has moved on since.
        """
        return self._step(week, "undo", seen)

    def redo(self, week: str, *, seen: int | None = LAST_LOOK) -> WeekState:
        """Step forward again, along the branch that was undone last.

        Args:
            week: ISO week.
            seen: as in ``undo``.

        Raises:
            DataError: there is nothing to redo.
            StoreConflict: the week has moved on since.
        """
        return self._step(week, "redo", seen)

    def history(self, week: str) -> tuple[Revision, ...]:
        """Every revision of the week on every branch, the oldest first."""
        columns = [column for column in revisions.c if column is not revisions.c.state]
        query = select(*columns).where(revisions.c.week == week).order_by(revisions.c.id)
        with spoken(self.path), reading(self.connection):
            return tuple(Revision(**row) for row in self.connection.execute(query).mappings())

    def weeks(self) -> tuple[str, ...]:
        """The weeks of which anything is kept, in order."""
        query = select(revisions.c.week).distinct().order_by(revisions.c.week)
        with spoken(self.path), reading(self.connection):
            return tuple(self.connection.execute(query).scalars())

    def chosen_before(self, week: str, limit: int = 4) -> tuple[Week, ...]:
        """The chosen candidates of the weeks before one, the newest first.

        Args:
            week: ISO week; this one and later ones are left out, and so are weeks with nothing chosen.
            limit: the most weeks that are given.

        Raises:
            DataError: there is no such week, or what is stored cannot be read.
        """
        known_week(week)
        # The name of a week sorts as its date does: the year has four digits, the number two.
        query = select(moves.c.week).distinct().where(moves.c.week < week).order_by(moves.c.week.desc())
        found: list[Week] = []
        with spoken(self.path), reading(self.connection):
            for name in self.connection.execute(query).scalars().all():
                if len(found) >= limit:
                    break
                data = self._raw_state(name, self._head(name))
                named = {c["name"]: c["week"] for c in data["candidates"]} if data else {}
                if data and data["chosen"] in named:
                    found.append(self._week_called(named[data["chosen"]]))
        return tuple(found)

    def _head(self, week: str) -> int | None:
        query = select(moves.c.revision).where(moves.c.week == week).order_by(moves.c.id.desc()).limit(1)
        head: int | None = self.connection.execute(query).scalar()
        return head

    def _next_id(self) -> int:
        return int(
            self.connection.execute(select(func.coalesce(func.max(revisions.c.id), 0) + 1)).scalar_one()
        )

    def _step(self, week: str, kind: Literal["undo", "redo"], seen: int | None) -> WeekState:
        known_week(week)
        with spoken(self.path), keeping(f"{week}, {kind}") as step:
            with writing(self.connection):
                head = self._head(week)
                expected = self._seen.get(week, head) if seen == LAST_LOOK else seen
                if head != expected:
                    raise self._moved(week, head)
                target = self._before(week, head) if kind == "undo" else self._after(week, head)
                state = self._state_at(week, target)
                self._move(week, target, kind)
                step.hold()
            self._seen[week] = target
        return state

    def _before(self, week: str, head: int | None) -> int | None:
        if head is None:
            raise NothingThereError(f"there is nothing to undo in {week}")
        query = select(revisions.c.parent).where(revisions.c.id == head)
        parent: int | None = self.connection.execute(query).scalar_one()
        return parent

    def _after(self, week: str, head: int | None) -> int:
        """What stood before the last undo that led here.

        This is never out of date. To come back here after a newer change was made from here, that change
        had to be undone first, and then it is the one that this finds.
        """
        of_week = select(moves.c.id, moves.c.revision).where(moves.c.week == week).order_by(moves.c.id.desc())
        led_here = of_week.where(moves.c.kind == "undo", moves.c.revision.is_not_distinct_from(head))
        undone = self.connection.execute(led_here.limit(1)).first()
        if undone is None:
            raise NothingThereError(f"there is nothing to redo in {week}")
        before = self.connection.execute(of_week.where(moves.c.id < undone.id).limit(1)).one()
        return int(before.revision)

    def _moved(self, week: str, head: int | None) -> StoreConflict:
        if head is None:
            what = "all changes to it were undone"
        else:
            verb = self.connection.execute(
                select(revisions.c.verb).where(revisions.c.id == head)
            ).scalar_one()
            what = f'it now stands at "{verb}" (revision {head})'
        return StoreConflict(
            f"{self.path}: {week} was changed elsewhere since it was read: {what}. Nothing was lost: that "
            "change is kept, and this one was not made\nLook at the week again, then repeat the change."
        )

    def _move(self, week: str, revision: int | None, kind: Kind) -> None:
        self.connection.execute(insert(moves).values(week=week, revision=revision, kind=kind))

    def _keep_week(self, name: str, text: str) -> None:
        known = select(weeks_json.c.sha256).where(weeks_json.c.sha256 == name)
        if self.connection.execute(known).first() is None:
            self.connection.execute(insert(weeks_json).values(sha256=name, packed=packed(text)))

    def _state_at(self, week: str, revision: int | None) -> WeekState:
        data = self._raw_state(week, revision)
        if data is None:
            return WeekState(week=week)
        return put_together(data, self._week_called, f"revision {revision} of {week}")

    def _raw_state(self, week: str, revision: int | None) -> Json | None:
        if revision is None:
            return None
        query = select(revisions.c.state, revisions.c.sha256)
        row = self.connection.execute(
            query.where(revisions.c.id == revision, revisions.c.week == week)
        ).first()
        if row is None:
            raise NothingThereError(f"{week} has no revision {revision}")
        return parsed(unpacked(row.state, row.sha256, f"revision {revision} of {week}"))

    def _week_called(self, name: str) -> Week:
        if name in self._weeks:
            return self._weeks[name]
        query = select(weeks_json.c.packed).where(weeks_json.c.sha256 == name)
        row = self.connection.execute(query).first()
        if row is None:
            raise DataError("a week that a revision names is missing", advice="Restore the file from a copy.")
        data = parsed(unpacked(row.packed, name, "a stored week"))
        self._weeks[name] = week_from(data, "the store")
        return self._weeks[name]


def open_store(gym_folder: Path) -> Store:
    """The store of a gym, ``planner.db`` in its folder; made where there is none.

    Args:
        gym_folder: with ``gym.yaml`` in it.

    Raises:
        DataError: the file is no store, is newer than this planner, is damaged, or may not be used.
        StoreConflict: another program kept the file for itself all the time.
    """
    return Store(gym_folder / FILE_NAME)


def known_week(week: str) -> None:
    """Refuse what is not a week.

    Raises:
        DataError: it is not.
    """
    try:
        monday_of(week)
    except ValueError as error:
        raise DataError(str(error)) from None
