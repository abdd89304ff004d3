"""The store's verbs one by one, and the files that it refuses."""

from __future__ import annotations

import hashlib
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from planner.domain.record import WeekState
from planner.errors import DataError
from planner.store import database
from planner.store.database import APPLICATION_ID, problems
from planner.store.errors import StoreConflict
from planner.store.migrations import MIGRATIONS
from planner.store.past import past_weeks
from planner.store.store import Store, open_store
from tests.store.small import put, small_week, state_of

WEEK = "2026-W49"
VERSION_1 = Path(__file__).parent / "version_1.sql"


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def filled(folder: Path, *marks: int) -> Path:
    """A closed store with one revision for each mark."""
    with open_store(folder) as store:
        for mark in marks:
            store.state(WEEK)
            put(store, state_of(WEEK, mark), f"mark {mark}")
    return folder / "planner.db"


def test_a_new_store_is_empty_and_does_not_need_a_gym(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        assert store.state(WEEK) == WeekState(week=WEEK)
        assert store.weeks() == ()
        assert store.history(WEEK) == ()
        assert store.head(WEEK) is None
    assert [path.name for path in tmp_path.iterdir()] == ["planner.db"]


def test_the_first_change_can_be_undone_and_a_new_one_begins_a_branch(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        put(store, state_of(WEEK, 1), "drafted")
        put(store, state_of(WEEK, 1, 2), "drafted another")
        assert store.undo(WEEK) == state_of(WEEK, 1)
        assert store.undo(WEEK) == WeekState(week=WEEK)
        assert store.redo(WEEK) == state_of(WEEK, 1)
        put(store, state_of(WEEK, 3), "drafted again")
        with pytest.raises(DataError, match=r"^there is nothing to redo in 2026-W49$"):
            store.redo(WEEK)
        first, second, branch = store.history(WEEK)
        assert (first.parent, second.parent, branch.parent) == (None, first.id, first.id)
        assert store.state_at(WEEK, second.id) == state_of(WEEK, 1, 2)
        with pytest.raises(DataError, match="2026-W50 has no revision"):
            store.state_at("2026-W50", second.id)
        store.undo(WEEK)
        store.undo(WEEK)
        store.redo(WEEK)
        assert store.redo(WEEK) == state_of(WEEK, 3)


def test_a_week_is_stored_once_and_a_revision_is_small(tmp_path: Path) -> None:
    path = filled(tmp_path, 7)
    with open_store(tmp_path) as store:
        for number in range(20):
            state = store.state(WEEK)
            put(store, state.model_copy(update={"chosen": "A" if number % 2 else None}), "chose")
    with closing(sqlite3.connect(path)) as raw:
        assert raw.execute("SELECT count(*) FROM weeks_json").fetchone() == (1,)
        assert raw.execute("SELECT max(length(state)) FROM revisions").fetchone()[0] < 400


@pytest.mark.parametrize("week", ["2026-W54", "next week", ""])
def test_a_week_that_is_none_is_refused(tmp_path: Path, week: str) -> None:
    with open_store(tmp_path) as store:
        deeds: tuple[Callable[[], object], ...] = (
            lambda: store.state(week),
            lambda: put(store, WeekState(week=week), "x"),
            lambda: store.undo(week),
            lambda: store.chosen_before(week),
        )
        for deed in deeds:
            with pytest.raises(DataError, match="week"):
                deed()


def test_a_state_that_does_not_hang_together_is_not_kept(tmp_path: Path) -> None:
    twice = state_of(WEEK, 1)
    with open_store(tmp_path) as store:
        for state in (
            state_of("2026-W50", 1),
            WeekState(week=WEEK, chosen="A"),
            twice.model_copy(update={"candidates": twice.candidates * 2}),
        ):
            with pytest.raises(ValueError):
                store.change(WEEK, lambda _, state=state: (state, "wrong"))
        assert store.weeks() == ()


class TestConflict:
    def test_other_weeks_are_no_conflict(self, tmp_path: Path) -> None:
        with open_store(tmp_path) as mine, open_store(tmp_path) as theirs:
            mine.state(WEEK)
            put(theirs, state_of("2026-W50", 1), "drafted")
            put(mine, state_of(WEEK, 2), "drafted")

    def test_a_page_may_name_the_revision_that_it_showed(self, tmp_path: Path) -> None:
        filled(tmp_path, 1, 2)
        with open_store(tmp_path) as store:
            first, second = (revision.id for revision in store.history(WEEK))
            with pytest.raises(StoreConflict, match="mark 2"):
                store.undo(WEEK, seen=first)
            store.undo(WEEK, seen=second)
            store.undo(WEEK, seen=first)
            assert store.head(WEEK) is None

    def test_a_writer_waits_for_another(self, tmp_path: Path) -> None:
        path = filled(tmp_path, 1)
        with open_store(tmp_path) as store, closing(_writer(path)) as other:
            store.state(WEEK)
            release = threading.Timer(0.2, other.rollback)
            release.start()
            put(store, state_of(WEEK, 2), "patient")
            release.join()

    def test_a_writer_that_never_ends_is_named(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        path = filled(tmp_path, 1)
        monkeypatch.setattr(database, "WAIT_S", 0.02)
        with open_store(tmp_path) as store, closing(_writer(path)):
            store.state(WEEK)
            with pytest.raises(StoreConflict, match="another program"):
                put(store, state_of(WEEK, 2), "impatient")
            assert store.state(WEEK) == state_of(WEEK, 1)


def _writer(path: Path) -> sqlite3.Connection:
    other = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
    other.execute("BEGIN IMMEDIATE")
    return other


class TestRefused:
    @pytest.mark.parametrize("content", [b"week: 2026-W49\n", b"\0" * 8192, b"SQLite format 3\0"])
    def test_a_file_that_is_no_database_is_left_alone(self, tmp_path: Path, content: bytes) -> None:
        path = tmp_path / "planner.db"
        path.write_bytes(content)
        with pytest.raises(DataError, match="not a planner's store") as caught:
            open_store(tmp_path)
        assert str(path) in str(caught.value)
        assert path.read_bytes() == content
        assert list(tmp_path.iterdir()) == [path]

    @pytest.mark.parametrize("journal", ["wal", "delete"])
    def test_another_programs_database_is_left_alone(self, tmp_path: Path, journal: str) -> None:
        path = tmp_path / "planner.db"
        with closing(sqlite3.connect(path)) as other:
            other.execute(f"PRAGMA journal_mode = {journal}")
            other.execute("CREATE TABLE revisions (id)")
            other.commit()
        before = digest(path)
        with pytest.raises(DataError, match="another program's database"):
            open_store(tmp_path)
        assert digest(path) == before
        assert list(tmp_path.iterdir()) == [path]

    def test_a_damaged_store_is_left_alone_and_said_to_be_damaged(self, tmp_path: Path) -> None:
        path = filled(tmp_path, 1, 2, 3)
        whole = path.read_bytes()
        for start, stop in ((100, len(whole)), (100, 4096), (4096, len(whole))):
            path.write_bytes(whole[:start] + b"\xa5" * (stop - start) + whole[stop:])
            before = digest(path)
            with pytest.raises(DataError, match="damaged"), open_store(tmp_path) as store:
                store.state(WEEK)
            assert digest(path) == before
        path.write_bytes(whole[: len(whole) // 2])
        before = digest(path)
        with pytest.raises(DataError, match="damaged"), open_store(tmp_path) as store:
            store.state(WEEK)
        assert digest(path) == before

    def test_a_state_that_does_not_match_its_checksum_is_noticed(self, tmp_path: Path) -> None:
        path = filled(tmp_path, 1)
        with closing(sqlite3.connect(path)) as raw:
            raw.execute("DROP TRIGGER revisions_no_update")
            raw.execute("UPDATE revisions SET sha256 = 'f' || substr(sha256, 2)")
            raw.commit()
        with (
            open_store(tmp_path) as store,
            pytest.raises(DataError, match="revision 1 of 2026-W49 is damaged"),
        ):
            store.state(WEEK)

    def test_no_row_can_be_changed_or_deleted(self, tmp_path: Path) -> None:
        path = filled(tmp_path, 1)
        with closing(sqlite3.connect(path)) as raw:
            for deed in (
                "DELETE FROM revisions",
                "UPDATE revisions SET verb = 'x'",
                "DELETE FROM moves",
                "UPDATE moves SET revision = 1",
                "DELETE FROM weeks_json",
                "UPDATE weeks_json SET sha256 = 'x'",
            ):
                with pytest.raises(sqlite3.IntegrityError, match="never changed"):
                    raw.execute(deed)

    def test_a_newer_store_is_refused(self, tmp_path: Path) -> None:
        path = filled(tmp_path, 1)
        with closing(sqlite3.connect(path)) as raw:
            raw.execute("INSERT INTO schema_migrations VALUES (99, 'of_tomorrow', '2030-01-01T00:00:00Z')")
            raw.commit()
        before = digest(path)
        with pytest.raises(
            DataError, match=r"newer planner: it is of version 99.* up to version 1"
        ) as caught:
            open_store(tmp_path)
        assert "Update the planner" in str(caught.value)
        assert digest(path) == before

    def test_no_folder(self, tmp_path: Path) -> None:
        with pytest.raises(DataError, match="no such folder"):
            open_store(tmp_path / "nowhere")

    def test_a_folder_in_the_files_place(self, tmp_path: Path) -> None:
        (tmp_path / "planner.db").mkdir()
        with pytest.raises(DataError, match="may not be opened"):
            open_store(tmp_path)


class TestMigration:
    """``version_1.sql`` is a store as the first version wrote it; it is never made anew."""

    @pytest.fixture
    def old(self, tmp_path: Path) -> Path:
        path = tmp_path / "planner.db"
        with closing(sqlite3.connect(path)) as raw:
            raw.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            raw.executescript(VERSION_1.read_text(encoding="utf-8"))
        return path

    def test_the_first_versions_store_is_read(self, old: Path) -> None:
        with open_store(old.parent) as store:
            self.is_all_there(store)
            put(store, state_of(WEEK, 9), "goes on")
        assert problems(old) == ()

    def test_a_step_is_added_once(self, old: Path) -> None:
        def notes(connection: sqlite3.Connection) -> None:
            connection.execute("CREATE TABLE notes (text TEXT)")

        for _ in range(2):
            with Store(old, (*MIGRATIONS, notes)) as store:
                self.is_all_there(store)
        with closing(sqlite3.connect(old)) as raw:
            rows = raw.execute("SELECT version, name FROM schema_migrations ORDER BY version").fetchall()
        assert rows == [(1, "revisions_moves_and_weeks"), (2, "notes")]
        with pytest.raises(DataError, match="newer planner"):
            open_store(old.parent)

    def test_a_step_that_fails_leaves_the_file_as_it_was(self, old: Path) -> None:
        def breaks(connection: sqlite3.Connection) -> None:
            connection.execute("CREATE TABLE notes (text TEXT)")
            connection.execute("SELECT * FROM nowhere")

        with pytest.raises(DataError, match="nowhere") as caught:
            Store(old, (*MIGRATIONS, breaks))
        assert isinstance(caught.value.__cause__, sqlite3.Error)
        with open_store(old.parent) as store:
            self.is_all_there(store)

    def is_all_there(self, store: Store) -> None:
        assert [r.verb for r in store.history(WEEK)] == ["drafted", "locked Thursday", "drafted another way"]
        assert [r.parent for r in store.history(WEEK)] == [None, 1, 1]
        state = store.state(WEEK)
        assert [(c.name, c.week.class_size) for c in state.candidates] == [("A", 3)]
        assert store.state_at(WEEK, 2).requests.locks[0].day == "thu"
        assert [w.class_size for w in store.chosen_before(WEEK)] == [5]


class TestPast:
    def test_chosen_weeks_win_over_files_and_no_store_is_made(self, tmp_path: Path) -> None:
        (tmp_path / "history").mkdir()
        for week in ("2026-W45", "2026-W46", "2026-W48"):
            text = small_week(week, 1).model_dump_json()
            (tmp_path / "history" / f"{week}.json").write_text(text, encoding="utf-8")
        assert [w.week for w in past_weeks(tmp_path, WEEK)] == ["2026-W48", "2026-W46", "2026-W45"]
        assert not (tmp_path / "planner.db").exists()
        with open_store(tmp_path) as store:
            for week, chosen in (("2026-W46", "B"), ("2026-W47", "A"), ("2026-W48", None), (WEEK, "A")):
                put(store, state_of(week, 2, 3, chosen=chosen), "drafted")
        found = [(w.week, w.class_size) for w in past_weeks(tmp_path, WEEK)]
        assert found == [("2026-W48", 1), ("2026-W47", 2), ("2026-W46", 3), ("2026-W45", 1)]
        assert [w.week for w in past_weeks(tmp_path, WEEK, limit=2)] == ["2026-W48", "2026-W47"]
        assert past_weeks(tmp_path, WEEK, limit=0) == ()
