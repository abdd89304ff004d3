"""The verbs of the store: look at a week, change it, undo, redo, and what came before.

Nothing is overwritten. A change adds a revision whose parent is the one that it changed; undo and redo only
add a move, and the last move of a week says where it stands. So a change made after an undo begins a branch
of its own, and the branch left behind is still there.

A change is a function of the week's state. It is made on the newest one, by one process at a time; what came
since the caller looked stays, and where the two contradict each other, the later is refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Literal, Self

from planner.domain.iso_week import monday_of
from planner.domain.record import WeekState
from planner.domain.week import Week
from planner.errors import DataError
from planner.stopping import keeping
from planner.store.database import FILE_NAME, connect, spoken, writing
from planner.store.errors import StoreConflict
from planner.store.meaning import contradictions
from planner.store.migrations import MIGRATIONS, Migration, refuse_newer, version_of
from planner.store.rows import Rows

Change = tuple[WeekState, str]
"""The state as it is to be, and what was done, for the coach: "drafted", "locked Thursday"."""

LAST_LOOK = -1
"""In place of a revision's id: the one at which this store last saw the week."""


@dataclass(frozen=True)
class Revision:
    """One change of one week.

    Attributes:
        id: counts up over all weeks.
        week: ISO week.
        parent: id of the revision that was changed; None where there was none.
        created: UTC, ISO 8601, by the clock of the computer; what came first is told by the id alone.
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
    """The open store of one gym, with the one connection to its file; a context manager.

    For one thread at a time.

    Args:
        path: of the file.
        migrations: steps that make its tables.

    Raises:
        DataError: the file is no store, is newer than this planner, is damaged, or may not be used.
        StoreConflict: another program kept the file for itself all the time.
    """

    def __init__(self, path: Path, migrations: tuple[Migration, ...] = MIGRATIONS) -> None:
        self.path = path
        self.migrations = migrations
        self.connection = connect(path, migrations)
        self._looks: dict[str, int | None] = {}
        self._rows = Rows(path, self.connection)
        self._opened_at = self._rows.select("SELECT coalesce(max(id), 0) FROM moves")[0][0]

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
        head = self._rows.head(week)
        state = self._rows.state_at(week, head)
        self._looks[week] = head
        return state

    def state_at(self, week: str, revision: int) -> WeekState:
        """The week as it was at one revision, on whatever branch.

        Raises:
            DataError: the week has no such revision, or it cannot be read.
        """
        return self._rows.state_at(week, revision)

    def head(self, week: str) -> int | None:
        """The id of the revision at which the week stands; None before the first."""
        return self._rows.head(week)

    def seen(self, week: str) -> int | None:
        """The id of the revision at which this store last saw the week: looked, changed it, or was opened."""
        return self._looks[week] if week in self._looks else self._rows.head(week, self._opened_at)

    def change(
        self, week: str, deed: Callable[[WeekState], Change], *, seen: int | None = LAST_LOOK
    ) -> WeekState:
        """Change a week as it stands by now; a change that changes nothing is not kept.

        Args:
            week: ISO week.
            deed: makes the new state of an old one, and may refuse to; it is called more than once.
            seen: the revision that the caller looked at; unless given, the one that ``self.seen`` gives.

        Returns:
            The new state.

        Raises:
            StoreConflict: what came since the caller looked contradicts the change.
            DataError: there is no such week, or the file cannot be written; or whatever the deed raises.
            ValueError: the state is another week's, its candidates' names are not unlike, or none is of the
                name that is chosen.
        """
        known_week(week)
        looked = self.seen(week) if seen == LAST_LOOK else seen
        self._rows.state_at(week, self._rows.head(week))  # its weeks are read here, not while others wait
        with self._writing() as step:
            head = self._rows.head(week)
            state = self._rows.state_at(week, head)
            new, verb = deed(state) if head == looked else self._agreed(week, deed, looked, state)
            _check(week, new)
            if new != state:
                head = self._rows.add(new, verb, head)
                step.hold(f"{week}, {verb}")
        self._looks[week] = head
        return new

    def undo(self, week: str, *, seen: int | None = LAST_LOOK) -> WeekState:
        """Step back to the revision before; from the first one to the empty week.

        Args:
            week: ISO week.
            seen: as in ``change``.

        Raises:
            DataError: there is nothing to undo.
            StoreConflict: the last change is not the one that the caller saw.
        """
        return self._step(week, "undo", seen)

    def redo(self, week: str, *, seen: int | None = LAST_LOOK) -> WeekState:
        """Step forward again, along the branch that was undone last.

        Args:
            week: ISO week.
            seen: as in ``change``.

        Raises:
            DataError: there is nothing to redo.
            StoreConflict: the last change is not the one that the caller saw.
        """
        return self._step(week, "redo", seen)

    def history(self, week: str) -> tuple[Revision, ...]:
        """Every revision of the week on every branch, the oldest first."""
        query = "SELECT id, week, parent, created, verb, sha256 FROM revisions WHERE week = ? ORDER BY id"
        return tuple(Revision(*row) for row in self._rows.select(query, week))

    def weeks(self) -> tuple[str, ...]:
        """The weeks of which anything is kept, in order."""
        return tuple(row[0] for row in self._rows.select("SELECT DISTINCT week FROM revisions ORDER BY week"))

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
        query = "SELECT DISTINCT week FROM moves WHERE week < ? ORDER BY week DESC"
        found: list[Week] = []
        for (name,) in self._rows.select(query, week):
            if len(found) >= limit:
                break
            data = self._rows.raw_state(name, self._rows.head(name))
            named = {c["name"]: c["week"] for c in data["candidates"]} if data else {}
            if data and data["chosen"] in named:
                found.append(self._rows.week_called(named[data["chosen"]]))
        return tuple(found)

    @contextmanager
    def _writing(self) -> Iterator[keeping]:
        """The one writer's turn, on a file that no newer planner has taken over meanwhile."""
        with keeping() as step, writing(self.path, self.connection):
            with spoken(self.path):
                refuse_newer(version_of(self.connection), self.migrations)
            yield step

    def _agreed(
        self, week: str, deed: Callable[[WeekState], Change], looked: int | None, state: WeekState
    ) -> Change:
        """The change made on a newer state than the caller saw, if it still means the same there."""
        base = self._rows.state_at(week, looked)
        try:
            wanted, verb = deed(base)
        except DataError:  # it cannot have been meant for what was there; the newer state may be right for it
            wanted, verb = None, ""
        try:
            made, verb = deed(state)
            against = contradictions(base, wanted, state, made)
        except DataError as error:
            if wanted is None:
                raise
            against = contradictions(base, wanted, state, state) and (error.what,)
            made = state
        if against:
            raise self._moved(week, verb, "; ".join(against))
        return made, verb

    def _step(self, week: str, kind: Literal["undo", "redo"], seen: int | None) -> WeekState:
        known_week(week)
        looked = self.seen(week) if seen == LAST_LOOK else seen
        with self._writing() as step:
            head = self._rows.head(week)
            if head != looked:
                named = {r.id: f"{r.verb} (change {r.id})" for r in self.history(week)}
                last, stands = (named.get(at or 0, "the empty week") for at in (looked, head))
                raise self._moved(week, f"to {kind} from: {last}", stands)
            target = self._rows.before(week, head) if kind == "undo" else self._rows.after(week, head)
            state = self._rows.state_at(week, target)
            self._rows.move(week, target, kind)
            step.hold(f"{week}, {kind}")
        self._looks[week] = target
        return state

    def _moved(self, week: str, wanted: str, stands: str) -> StoreConflict:
        return StoreConflict(
            f"{self.path}: {week} was changed elsewhere since it was looked at, and this contradicts it. "
            f"Wanted: {wanted}. Now there stands: {stands}. Nothing was lost: that is kept, and this was not "
            "made\nLook at the week again, then repeat the change."
        )


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


def _check(week: str, state: WeekState) -> None:
    """Whether a state can be kept as this week's."""
    if state.week != week:
        raise ValueError(f"this state is of {state.week}, not of {week}")
    names = [candidate.name for candidate in state.candidates]
    if len(set(names)) < len(names):
        raise ValueError(f"{week} has two candidates of one name")
    if state.chosen is not None and state.chosen not in names:
        raise ValueError(f"{week} has no candidate {state.chosen}")
