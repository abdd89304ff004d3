"""Every door through which files go out: what may be replaced, what is not, and what never is."""

from __future__ import annotations

import ast
import os
import shutil
import stat
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from planner.domain.mark import MARK
from planner.load import writing
from tests.cli.conftest import Run
from tests.cli.test_bad_input import snapshot

W = "2026-W49"
NOTES = "my notes, which nobody else has\n"

# What writes one file: the words before it, and a word that its content has.
ONE_FILE: dict[str, tuple[tuple[str, ...], str]] = {
    "choose --out": (("choose", "GYM", W, "A", "--out"), "<!doctype html>"),
    "choose --json": (("choose", "GYM", W, "A", "--json"), '"inputs_digest"'),
    "compare --out": (("compare", "GYM", "A", "B", "--out"), "<!doctype html>"),
    "export": (("export", "GYM"), '"revisions"'),
    "sheet --out": (("sheet", "WEEK", "--out"), "<!doctype html>"),
}
FOLDERS: dict[str, tuple[tuple[str, ...], str]] = {
    "sheets --to": (("sheets", "GYM", W, "--only", "week,brief,calendar", "--to"), "calendar.ics"),
    "schema --out": (("schema", "--out"), "gym.schema.json"),
}


@pytest.fixture
def write(run: Run, kept: Path, tmp_path: Path) -> Callable[..., object]:
    """Runs a command that writes, with the gym and a week's file in place of GYM and WEEK."""
    week = tmp_path / "read.json"
    assert run("choose", kept, W, "A", "--json", week).code == 0
    places = {"GYM": kept, "WEEK": week}
    return lambda command, target, *more: run(*(places.get(w, w) for w in command), target, *more)


@pytest.mark.parametrize("door", ONE_FILE)
def test_only_what_carries_our_mark_is_replaced_unasked(door: str, write, tmp_path: Path) -> None:
    command, word = ONE_FILE[door]
    target = tmp_path / "out" / "anything at all"
    made = write(command, target)
    assert made.code == 0, made.err
    assert word in target.read_text(encoding="utf-8")
    assert f"Wrote {target}\n" in made.out

    again = write(command, target)
    assert again.code == 0, again.err
    assert f"Wrote {target}, in place of what was there\n" in again.out

    target.write_text(NOTES, encoding="utf-8")
    refused = write(command, target)
    assert refused.code == 2
    assert refused.err.startswith(f"{target}: ")
    assert "--force" in refused.err
    assert target.read_text(encoding="utf-8") == NOTES
    assert sorted(p.name for p in target.parent.iterdir()) == [target.name]

    forced = write(command, target, "--force")
    assert forced.code == 0, forced.err
    assert word in target.read_text(encoding="utf-8")


FIRST_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="color-scheme" content="light dark">
<title>Monday, wall sheet: A gym, Week 49 of 2026</title>
<style>
:root{ color-scheme:light;--paper:#FFFFFF;--tint:#EDF4F1; }
"""


@pytest.mark.parametrize(
    ("content", "replaced", "said"),
    [
        (FIRST_PAGE, True, ""),
        (FIRST_PAGE.replace("light dark", "dark light"), False, "give --force"),
        (f"my own:\n{FIRST_PAGE}", False, "give --force"),
        ("%PDF-1.7\nsomebody's", False, "carries no mark: it needs --force once"),
        ('{\n "$schema": "https://json-schema.org/draft/2020-12/schema"}', False, "--force once"),
        (NOTES, False, "--force to replace it.\n"),
    ],
)
def test_pages_of_the_first_version_are_known_without_a_mark(
    content: str, replaced: bool, said: str, write, tmp_path: Path
) -> None:
    target = tmp_path / "sheet.html"
    target.write_text(content, encoding="utf-8")
    answer = write(ONE_FILE["sheet --out"][0], target)
    assert answer.code == (0 if replaced else 2), answer.err
    assert said in answer.err
    assert (target.read_text(encoding="utf-8") == content) != replaced


@pytest.mark.parametrize("force", [[], ["--force"]], ids=["unasked", "forced"])
@pytest.mark.parametrize("door", ["choose --json"])
def test_a_gyms_own_files_and_its_weeks_are_never_replaced(
    door: str, force: list[str], write, kept: Path, tmp_path: Path
) -> None:
    shutil.copy(kept / "planner.db", tmp_path / "copy of the store.html")
    (tmp_path / "sheet.html").symlink_to(kept / "planner.db")
    (tmp_path / "page.html").symlink_to(kept / "gym.yaml")
    targets = [
        kept / "planner.db",
        kept / "PLANNER.DB",
        kept / "planner.db-wal",
        kept / "gym.yaml",
        kept / "rules.yaml",
    ]
    targets += [tmp_path / name for name in ("copy of the store.html", "sheet.html", "page.html", "new.yml")]
    for target in targets:
        before = snapshot(kept, tmp_path)
        refused = write(ONE_FILE[door][0], target, *force)
        assert refused.code == 2, target
        assert refused.err.startswith(f"{target}: ")
        after = snapshot(kept, tmp_path)
        assert {p: data for p, (_, data) in before.items() if p.suffix != ".db-shm"}.items() <= {
            p: data for p, (_, data) in after.items()
        }.items()


@pytest.mark.parametrize("door", ["choose --json", "export"])
def test_a_link_is_followed_and_stays_a_link(door: str, write, tmp_path: Path) -> None:
    command, word = ONE_FILE[door]
    behind, link = tmp_path / "elsewhere" / "page", tmp_path / "link.html"
    behind.parent.mkdir()
    link.symlink_to(behind)
    assert write(command, link).code == 0
    assert link.is_symlink()
    assert word in behind.read_text(encoding="utf-8")

    behind.write_text(NOTES, encoding="utf-8")
    assert write(command, link).code == 2
    assert behind.read_text(encoding="utf-8") == NOTES

    circle = tmp_path / "circle.html"
    circle.symlink_to(circle)
    assert "circle" in write(command, circle).err


@pytest.mark.skipif(os.name == "nt", reason="no devices in the file system")
@pytest.mark.parametrize("door", ["choose --json", "export"])
def test_a_device_and_a_pipe_are_written_to(door: str, write, tmp_path: Path) -> None:
    command, word = ONE_FILE[door]
    assert write(command, Path(os.devnull)).code == 0
    assert stat.S_ISCHR(Path(os.devnull).stat().st_mode)

    pipe, read = tmp_path / "pipe", []
    os.mkfifo(pipe)
    reader = threading.Thread(target=lambda: read.append(pipe.read_text(encoding="utf-8")))
    reader.start()
    assert write(command, pipe).code == 0
    reader.join(timeout=30)
    assert word in read[0]
    assert stat.S_ISFIFO(pipe.stat().st_mode)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
@pytest.mark.parametrize("door", ONE_FILE)
def test_a_full_device_is_no_fault_of_the_input(door: str, write) -> None:
    full = write(ONE_FILE[door][0], Path("/dev/full"))
    assert full.code == 74
    assert full.err.startswith("/dev/full: the file cannot be written: No space left on device\n")
    assert "room" in full.err


@pytest.mark.parametrize("door", FOLDERS)
def test_a_folder_with_something_foreign_in_it_is_left_as_it_was(door: str, write, tmp_path: Path) -> None:
    command, name = FOLDERS[door]
    folder = tmp_path / "out"
    assert write(command, folder).code == 0
    assert write(command, folder).code == 0
    (folder / name).write_text(NOTES, encoding="utf-8")
    before = snapshot(folder)
    refused = write(command, folder)
    assert refused.code == 2, refused.out
    assert refused.err.startswith(f"{folder / name}: ")
    assert snapshot(folder) == before
    assert write(command, folder, "--force").code == 0


def test_a_week_that_the_gym_looks_back_to_is_not_replaced_unasked(write, kept: Path) -> None:
    target = kept / "history" / "2026-W40.json"
    command = ONE_FILE["choose --json"][0]
    assert write(command, target).code == 0
    assert "looks back to" in write(command, target).err
    assert write(command, target, "--force").code == 0


def test_the_file_that_is_read_is_not_the_one_that_is_written(write, tmp_path: Path) -> None:
    week = tmp_path / "read.json"
    before = week.read_bytes()
    (tmp_path / "same.html").symlink_to(week)
    for target in (week, tmp_path / "same.html"):
        assert "the file that is read" in write(ONE_FILE["sheet --out"][0], target, "--force").err
    assert week.read_bytes() == before


def test_candidates_have_sheets_of_their_own() -> None:
    from planner.cli.week import sheet_of

    assert sheet_of(W, "A") != sheet_of(W, "B")


@pytest.mark.parametrize(
    "content",
    [
        f"notes about {MARK}\n",
        f"<!doctype html><title>{MARK}</title><p>mine</p>",
        f'{{"comment": "{MARK}"}}',
        '{"schema_version": 1}',
        "BEGIN:VCALENDAR\r\nPRODID:-//somebody//else//EN\r\n",
        f"BEGIN:VCALENDAR\r\nPRODID:-//else//EN\r\nX-NOTE:made beside {MARK}\r\n",
    ],
)  # fmt: skip
def test_to_speak_of_the_mark_is_not_to_carry_it(content: str, tmp_path: Path) -> None:
    from planner.errors import DataError

    path = tmp_path / "file"
    path.write_bytes(content.encode())
    with pytest.raises(DataError, match="not written by the planner"):
        writing.write_file(path, "new")
    assert path.read_bytes() == content.encode()


def test_nothing_is_written_but_through_the_door() -> None:
    """So it is enough that the other tests try a few of the commands. The store writes its own file."""
    root = Path(writing.__file__).parents[1]
    calls = {path: list(_writing_calls(path)) for path in sorted(root.rglob("*.py"))}
    beside = {path for path, found in calls.items() if found and root / "store" not in path.parents}
    assert beside == {Path(writing.__file__)}


def _writing_calls(path: Path) -> Iterator[int]:
    """Lines on which a file is written."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        given = (*node.args, *(keyword.value for keyword in node.keywords))
        modes = [x.value for x in given if isinstance(x, ast.Constant) and isinstance(x.value, str)]
        opened = name in {"open", "fdopen"} and any(set(mode) & set("wax+") for mode in modes)
        if opened or name in {"write_text", "write_bytes", "copyfile", "copytree", "symlink_to"}:
            yield node.lineno


def test_an_empty_file_has_nothing_to_lose(tmp_path: Path) -> None:
    path = tmp_path / "new"
    path.touch()
    assert writing.write_file(path, "new") is False
    assert path.read_text(encoding="utf-8") == "new"


def test_what_goes_wrong_on_the_way_leaves_no_trace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from planner.errors import DiskError

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(DiskError):
        writing.write_file(tmp_path / "new", "new")
    assert not list(tmp_path.iterdir())
