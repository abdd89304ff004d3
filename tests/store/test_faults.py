"""What comes from outside: full disks, files that may not be written, copies by half, wrong clocks."""

from __future__ import annotations

import logging
import os
import re
import resource
import shutil
import sqlite3
import subprocess
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from types import SimpleNamespace

import pytest

from planner.domain.record import WeekState
from planner.errors import DataError
from planner.store import database, migrations, rows
from planner.store.database import problems
from planner.store.errors import StoreConflict
from planner.store.migrations import MIGRATIONS
from planner.store.store import Store, open_store
from planner.store.synchronised import is_synchronised
from planner.store.transfer import export_gym, import_gym
from tests.store.small import put, state_of

WEEK = "2026-W49"
FILE = "planner.db"
WRITTEN_BY_0_1 = Path(__file__).parent / "written_by_0_1.sqlite"


@pytest.fixture
def gym(tmp_path: Path) -> Path:
    """A folder whose store has three changes."""
    with open_store(tmp_path) as store:
        for mark in (1, 2, 3):
            put(store, state_of(WEEK, mark), f"mark {mark}")
    return tmp_path


def verbs(folder: Path) -> list[str]:
    """What was done, of a week that can be read."""
    with open_store(folder) as store:
        store.state(WEEK)
        return [revision.verb for revision in store.history(WEEK)]


def fill(folder: Path) -> tuple[int, DataError]:
    """Changes until one is refused: how many there are, and what was said."""
    with open_store(folder) as store:
        for mark in range(10, 10_000):
            try:
                put(store, state_of(WEEK, *range(mark, mark + 8)), f"mark {mark}")
            except DataError as error:
                return mark - 10, error
    raise AssertionError("there was room for all")


class TestFullDisk:
    @pytest.fixture
    def small_disk(self, gym: Path) -> Iterator[Path]:
        """A disk of 300 kB with the gym on it."""
        mount = ["mount", "-t", "tmpfs", "-o", "size=300k", "none"]
        disk = gym.parent / f"{gym.name}-disk"
        disk.mkdir()
        try:
            done = subprocess.run([*mount, str(disk)], capture_output=True, check=False)
        except OSError:
            done = None
        if done is None or done.returncode:
            disk.rmdir()
            pytest.skip("nothing may be mounted here")
        try:
            shutil.copy(gym / FILE, disk)
            yield disk
        finally:
            subprocess.run(["umount", str(disk)], check=True)
            disk.rmdir()

    def test_the_change_is_refused_and_all_others_are_kept(self, small_disk: Path) -> None:
        made, error = fill(small_disk)
        assert made > 3
        assert "space left on the disk" in str(error)
        assert str(small_disk / FILE) in str(error)
        assert problems(small_disk / FILE) == ()
        with open_store(small_disk) as store:
            assert len(store.history(WEEK)) == 3 + made
            assert len(store.state(WEEK).candidates) == 8

    def test_where_there_is_no_room_it_is_read_and_goes_on_later(self, small_disk: Path) -> None:
        ballast = small_disk / "ballast"
        with ballast.open("wb", buffering=0) as file, suppress(OSError):
            while True:
                file.write(b"x" * 1024)
        with open_store(small_disk) as store:
            assert store.state(WEEK) == state_of(WEEK, 3)
            with pytest.raises(DataError, match="space"):
                put(store, state_of(WEEK, 4), "no room")
            ballast.unlink()
            put(store, state_of(WEEK, 5), "room again")
        assert verbs(small_disk) == ["mark 1", "mark 2", "mark 3", "room again"]

    def test_a_limit_on_the_size_of_files(self, gym: Path) -> None:
        before = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, before[1]))
        try:
            made, error = fill(gym)
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
        assert made > 3
        assert "the change was not kept, all others were" in str(error)
        assert problems(gym / FILE) == ()
        assert len(verbs(gym)) == 3 + made


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="permissions are another matter here")
class TestReadOnly:
    @pytest.mark.parametrize(("file", "folder"), [(0o444, 0o555), (0o444, 0o777), (0o666, 0o555)])
    def test_it_is_read_and_not_written(self, gym: Path, file: int, folder: int) -> None:
        (gym / FILE).chmod(file)
        gym.chmod(folder)
        try:
            with as_nobody(gym), open_store(gym) as store:
                assert store.state(WEEK) == state_of(WEEK, 3)
                with pytest.raises(DataError, match=r"(?s)nothing was changed.*the permissions"):
                    put(store, state_of(WEEK, 4), "refused")
                assert len(store.history(WEEK)) == 3
        finally:
            gym.chmod(0o755)

    @pytest.mark.parametrize("there", [True, False])
    def test_what_may_not_be_read_or_made(self, gym: Path, there: bool) -> None:
        if there:
            (gym / FILE).chmod(0)
        else:
            (gym / FILE).unlink()
        gym.chmod(0o555)
        try:
            with as_nobody(gym), pytest.raises(DataError, match=r"(?s)may not be opened.*permissions"):
                open_store(gym)
        finally:
            gym.chmod(0o755)


@contextmanager
def as_nobody(folder: Path) -> Iterator[None]:
    """As a user to whom permissions apply, who can reach the folder."""
    if os.geteuid():
        yield
        return
    above = [parent for parent in folder.parents if parent.stat().st_mode & 0o011 != 0o011]
    modes = {parent: parent.stat().st_mode for parent in above}
    for parent in above:
        parent.chmod(modes[parent] | 0o011)
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)
        for parent, mode in modes.items():
            parent.chmod(mode)


def test_a_clock_that_was_set_back_changes_no_order(gym: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for module in (rows, migrations):
        monkeypatch.setattr(module, "now", lambda: "1999-12-31T23:59:59.000Z")
    with open_store(gym) as store:
        put(store, state_of(WEEK, 4), "long ago")
        assert store.history(WEEK)[-1].created < store.history(WEEK)[0].created
        assert [r.verb for r in store.history(WEEK)] == ["mark 1", "mark 2", "mark 3", "long ago"]
        assert store.undo(WEEK) == state_of(WEEK, 3)
        assert store.redo(WEEK) == state_of(WEEK, 4)
    text = export_gym(gym)
    import_gym(text, gym / "other")
    assert export_gym(gym / "other") == text


class TestNewer:
    def test_a_newer_planner_may_take_the_store_over_while_it_is_open(self, gym: Path) -> None:
        def notes(connection: sqlite3.Connection) -> None:
            connection.execute("CREATE TABLE notes (text TEXT)")

        with open_store(gym) as old:
            old.state(WEEK)
            Store(gym / FILE, (*MIGRATIONS, notes)).close()
            with pytest.raises(DataError, match=r"(?s)newer planner.*Update the planner"):
                put(old, state_of(WEEK, 4), "late")
        with closing(sqlite3.connect(gym / FILE)) as raw:
            assert raw.execute("SELECT count(*) FROM revisions").fetchone() == (3,)

    def test_before_a_migration_a_copy_is_kept_beside_it(self, gym: Path) -> None:
        def notes(connection: sqlite3.Connection) -> None:
            connection.execute("CREATE TABLE notes (text TEXT)")

        def fails(connection: sqlite3.Connection) -> None:
            connection.execute("SELECT * FROM nowhere")

        before = (gym / FILE).read_bytes()
        for _ in range(2):
            with pytest.raises(DataError, match="nowhere"):
                Store(gym / FILE, (*MIGRATIONS, fails))
        assert sorted(path.name for path in gym.iterdir()) == ["planner-version-1.db", FILE]
        assert (gym / "planner-version-1.db").read_bytes() == before
        with open_store(gym) as store:
            put(store, state_of(WEEK, 4), "in between")
        Store(gym / FILE, (*MIGRATIONS, notes)).close()
        Store(gym / FILE, (*MIGRATIONS, notes)).close()
        assert sorted(p.name for p in gym.iterdir()) == [
            "planner-version-1-2.db",
            "planner-version-1.db",
            FILE,
        ]
        (gym / "copy").mkdir()
        shutil.copy(gym / "planner-version-1-2.db", gym / "copy" / FILE)
        assert verbs(gym / "copy") == ["mark 1", "mark 2", "mark 3", "in between"]

    def test_where_no_copy_can_be_kept_nothing_is_migrated(
        self, gym: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def full(path: Path, content: bytes) -> None:
            raise DataError(f"no space for {len(content)} bytes at {path.name}")

        monkeypatch.setattr(migrations, "write_bytes_atomically", full)
        with pytest.raises(DataError, match=r"no space for \d+ bytes at planner-version-1.db"):
            Store(gym / FILE, (*MIGRATIONS, lambda _: None))
        assert verbs(gym) == ["mark 1", "mark 2", "mark 3"]


class TestHalfCopied:
    def test_a_part_of_a_file_is_never_taken_for_the_whole(self, gym: Path) -> None:
        """At whatever byte the copy ended: damage is said, or all that is given is what was there."""
        with open_store(gym) as store:
            put(store, state_of(WEEK, *range(10, 18)), "many")
        whole, right = (gym / FILE).read_bytes(), verbs(gym)
        # SQLite takes one byte for none: a store that is yet to be begun.
        for end in (2, 15, 16, 99, 100, 500, 4095, 4096, *range(5000, len(whole), 4001), len(whole) - 1):
            (gym / FILE).write_bytes(whole[:end])
            try:
                said = verbs(gym)
            except DataError as refused:
                said = str(refused)
            damaged = isinstance(said, str) and re.search(r"damaged|not a planner's store", said)
            assert damaged or said == right, f"{end} of {len(whole)} bytes were taken for the whole"
            assert (gym / FILE).read_bytes() == whole[:end]
        (gym / FILE).write_bytes(whole)
        assert len(verbs(gym)) == 4

    def test_holes_in_a_file_are_noticed_where_they_are_read(self, gym: Path) -> None:
        """As a copy leaves them that reserved the room first; whatever is given is right to the letter."""
        whole = (gym / FILE).read_bytes()
        with open_store(gym) as store:
            right = (store.state(WEEK), store.history(WEEK))
        for start in range(4096, len(whole), 4096):
            (gym / FILE).write_bytes(whole[:start] + bytes(4096) + whole[start + 4096 :])
            try:
                with open_store(gym) as store:
                    assert (store.state(WEEK), store.history(WEEK)) == right
            except DataError as error:
                assert "damaged" in str(error)  # noqa: PT017
            assert problems_or_damage(gym / FILE)

    def test_a_file_that_a_synchronisation_put_in_its_place_is_noticed(self, gym: Path) -> None:
        with open_store(gym) as store:
            store.state(WEEK)
            shutil.copy(gym / FILE, gym / "other")
            (gym / "other").replace(gym / FILE)
            with pytest.raises(DataError, match="moved, removed or replaced while it was open"):
                put(store, state_of(WEEK, 4), "into nothing")
        assert verbs(gym) == ["mark 1", "mark 2", "mark 3"]


def problems_or_damage(path: Path) -> bool:
    try:
        return bool(problems(path))
    except DataError:
        return True


class TestWaiting:
    def test_a_word_is_said_once_while_another_writes(
        self, gym: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
    ) -> None:
        monkeypatch.setattr(database, "SILENT_S", 0.02)
        other = sqlite3.connect(gym / FILE, isolation_level=None, check_same_thread=False)
        with open_store(gym) as store, closing(other), caplog.at_level(logging.WARNING):
            other.execute("BEGIN EXCLUSIVE")
            release = threading.Timer(0.3, other.rollback)
            release.start()
            put(store, state_of(WEEK, 4), "patient")
            release.join()
        assert [r.getMessage() for r in caplog.records] == [
            f"{gym / FILE}: another program is writing here; waiting 30 s at most"
        ]

    def test_who_waits_longer_tries_more_often(self, gym: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """By a clock of its own: half a minute passes, is never overslept, and the refusal says so."""
        passed = [0.0]
        pauses: list[float] = []

        def sleep(seconds: float) -> None:
            pauses.append(seconds)
            passed[0] += seconds

        monkeypatch.setattr(database, "time", SimpleNamespace(monotonic=lambda: passed[0], sleep=sleep))
        other = sqlite3.connect(gym / FILE, isolation_level=None)
        with open_store(gym) as store, closing(other):
            other.execute("BEGIN IMMEDIATE")
            with pytest.raises(StoreConflict, match="for 30 s; nothing was changed"):
                put(store, state_of(WEEK, 4), "impatient")
            other.rollback()
        assert 30 < passed[0] < 30.1
        assert max(pauses[-100:]) < min(pauses[:5])
        assert verbs(gym) == ["mark 1", "mark 2", "mark 3"]


class TestSynchronised:
    @pytest.mark.parametrize(
        "mark", [".sync", "._sync_7f3a.db", ".FolderSync.log", ".tmp.upload", "gym (conflicted copy).yaml"]
    )
    def test_by_a_mark_in_a_folder_above(self, tmp_path: Path, mark: str) -> None:
        folder = tmp_path / "gyms" / "mine"
        folder.mkdir(parents=True)
        assert not is_synchronised(folder)
        (tmp_path / mark).mkdir()
        assert is_synchronised(folder)

    @pytest.mark.parametrize("name", ["A Drive - Invented Gym", "MyDrive", "Cloud", "synced"])
    def test_by_the_name_of_a_folder_above(self, tmp_path: Path, name: str) -> None:
        (tmp_path / name / "mine").mkdir(parents=True)
        assert is_synchronised(tmp_path / name / "mine")
        assert not is_synchronised(tmp_path)

    @pytest.mark.parametrize("name", ["drivers", "my gym", ".hidden", "download", "conflict"])
    def test_not_by_a_name_of_another_matter(self, tmp_path: Path, name: str) -> None:
        (tmp_path / name / "mine").mkdir(parents=True)
        assert not is_synchronised(tmp_path / name / "mine")

    @pytest.mark.skipif(not hasattr(os, "seteuid"), reason="permissions are another matter here")
    def test_a_folder_above_that_may_not_be_searched_is_no_fault(self, tmp_path: Path) -> None:
        (tmp_path / "gym").mkdir()
        with as_nobody(tmp_path):
            os.seteuid(0)
            tmp_path.chmod(0)
            os.seteuid(65534)
            assert not is_synchronised(tmp_path / "gym")
            with pytest.raises(DataError, match="no such folder"):
                open_store(tmp_path / "gym")
            os.seteuid(0)
            tmp_path.chmod(0o755)

    def test_the_risk_is_said_once_for_each_store(self, gym: Path, caplog: pytest.LogCaptureFixture) -> None:
        (gym / ".sync").mkdir()
        with caplog.at_level(logging.WARNING):
            for _ in range(3):
                assert len(verbs(gym)) == 3
        assert [r.getMessage().count("change them on one computer at a time") for r in caplog.records] == [1]


def test_a_store_of_the_first_release_is_read_and_goes_on(tmp_path: Path) -> None:
    """A file that it wrote, with the write-ahead log that it used."""
    shutil.copy(WRITTEN_BY_0_1, tmp_path / FILE)
    with open_store(tmp_path) as store:
        state = store.state(WEEK)
        assert [(c.name, c.week.class_size) for c in state.candidates] == [("A", 1), ("B", 2)]
        assert state.chosen == "B"
        assert [x.words() for x in state.requests.locks] == [
            "Thursday is locked",
            "Monday is locked with front squat",
        ]
        assert state.requests.by_hand[0].day == "tue"
        assert store.redo(WEEK).log["mon"].note == "größer"
        assert [w.class_size for w in store.chosen_before(WEEK)] == [5]
        assert store.undo(WEEK).log == {}
        put(store, WeekState(week=WEEK), "goes on")
    assert len(verbs(tmp_path)) == 5
    assert [path.name for path in tmp_path.iterdir()] == [FILE]
