"""A file is written whole or not at all; the folders are found or the places tried are named."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner import paths
from planner.errors import DataError
from planner.load.writing import write_text_atomically


def test_writes_and_replaces(tmp_path: Path) -> None:
    path = tmp_path / "new" / "week.json"
    write_text_atomically(path, "één\n")
    write_text_atomically(path, "twee\n")
    assert path.read_bytes() == b"twee\n"
    assert list(path.parent.iterdir()) == [path]


def test_a_failure_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "week.json"
    path.write_text("old", encoding="utf-8")

    def no(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "replace", no)
    with pytest.raises(
        DataError, match=r"week\.json: the file cannot be written: Permission denied"
    ) as caught:
        write_text_atomically(path, "new")
    assert caught.value.exit_code == 2
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(DataError, match="cannot be written"):
        write_text_atomically(tmp_path / "file" / "week.json", "new")
    with pytest.raises(DataError, match="cannot be written"):
        write_text_atomically(tmp_path, "new")


def _make(folder: Path) -> Path:
    for name in paths.FOLDERS:
        (folder / name).mkdir(parents=True)
    return folder


def test_home_is_the_checkout(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(paths.HOME_VARIABLE, raising=False)
    assert paths.home().shared == Path(paths.__file__).parent.parent / "shared"


def test_home_by_name_comes_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(paths.HOME_VARIABLE, str(_make(tmp_path / "mine")))
    assert paths.home().constraints == tmp_path / "mine" / "constraints"


def test_home_packaged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(paths.HOME_VARIABLE, raising=False)
    monkeypatch.setattr(paths, "__file__", str(tmp_path / "lib" / "planner" / "paths.py"))
    _make(tmp_path / "lib" / "planner" / "_data")
    _make(tmp_path / "lib")  # folders of others, without our pyproject.toml
    assert paths.home().templates == tmp_path / "lib" / "planner" / "_data" / "templates"


def test_home_nowhere_names_the_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(paths.HOME_VARIABLE, str(tmp_path))
    with pytest.raises(DataError, match=f"{tmp_path}: no constraints, no templates, no shared"):
        paths.home()
    monkeypatch.delenv(paths.HOME_VARIABLE)
    monkeypatch.setattr(paths, "__file__", str(tmp_path / "planner" / "paths.py"))
    with pytest.raises(DataError) as caught:
        paths.home()
    assert str(tmp_path / "planner" / "_data") in str(caught.value)
    assert f"{tmp_path}: no pyproject.toml" in str(caught.value)


def test_who_may_read_a_file_is_as_before_and_of_a_new_one_as_of_any(tmp_path: Path) -> None:
    mine, new, any_file = tmp_path / "mine.txt", tmp_path / "new.txt", tmp_path / "any.txt"
    mine.write_text("old", encoding="utf-8")
    mine.chmod(0o640)
    any_file.touch()

    write_text_atomically(mine, "other")
    write_text_atomically(new, "new")

    assert mine.stat().st_mode & 0o777 == 0o640
    assert new.stat().st_mode == any_file.stat().st_mode
