"""A gym as one JSON file, and back."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from planner.errors import DataError
from planner.store.store import open_store
from planner.store.transfer import export_gym, import_gym
from tests.store.small import put, small_week, state_of

WEEK = "2026-W49"
FILES = {
    "gym.yaml": "\ufeffname: Invented gym\r\nnote: größer\n",
    "rules.yaml": "rules: []\n",
    "history/2026-W40.json": small_week("2026-W40").model_dump_json(),
}


@pytest.fixture
def gym(tmp_path: Path) -> Path:
    folder = tmp_path / "gym"
    for name, text in FILES.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(text.encode())
    with open_store(folder) as store:
        put(store, state_of(WEEK, 1, 2), "drafted")
        put(store, state_of(WEEK, 1, 2, chosen="B"), "chose B ")
        store.undo(WEEK)
        put(store, state_of(WEEK, 2), "another branch")
        store.undo(WEEK)
        put(store, state_of("2026-W50", 3), "drafted")
        store.undo("2026-W50")
    return folder


def test_there_and_back_is_exact(gym: Path, tmp_path: Path) -> None:
    text = export_gym(gym)
    other = tmp_path / "deep" / "other"
    import_gym(text, other)
    assert export_gym(other) == text
    assert {name: (other / name).read_bytes().decode() for name in FILES} == FILES
    with open_store(gym) as old, open_store(other) as new:
        for week in (WEEK, "2026-W50"):
            assert new.history(week) == old.history(week)
            assert new.state(week) == old.state(week)
            assert new.redo(week) == old.redo(week)


def test_a_gym_without_a_store_has_none_made(tmp_path: Path) -> None:
    (tmp_path / "gym").mkdir()
    (tmp_path / "gym" / "gym.yaml").write_text("name: Invented\n", encoding="utf-8")
    text = export_gym(tmp_path / "gym")
    assert not (tmp_path / "gym" / "planner.db").exists()
    import_gym(text, tmp_path / "other")
    assert export_gym(tmp_path / "other") == text


def test_a_store_that_is_not_empty_is_refused(gym: Path) -> None:
    before = text = export_gym(gym)
    with pytest.raises(DataError, match="not empty"):
        import_gym(text, gym)
    assert export_gym(gym) == before


def test_another_gyms_file_is_not_replaced(gym: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "gym.yaml").write_text("name: Another\n", encoding="utf-8")
    with pytest.raises(DataError, match="not the one in the export"):
        import_gym(export_gym(gym), other)
    assert [path.name for path in other.iterdir()] == ["gym.yaml"]


def test_an_import_that_was_cut_short_can_be_repeated(gym: Path, tmp_path: Path) -> None:
    text = export_gym(gym)
    other = tmp_path / "other"
    other.mkdir()
    (other / "gym.yaml").write_bytes(FILES["gym.yaml"].encode())
    open_store(other).close()
    import_gym(text, other)
    assert export_gym(other) == text


def _escape(data: Any) -> None:
    data["files"]["history/../../elsewhere.json"] = "{}"


def _other_file(data: Any) -> None:
    data["files"]["gym.sh"] = "rm"


def _change_a_week(data: Any) -> None:
    next(iter(data["weeks"].values()))["class_size"] = 99


def _lose_a_week(data: Any) -> None:
    data["weeks"].popitem()


def _lose_a_revision(data: Any) -> None:
    del data["revisions"][0]


def _shuffle(data: Any) -> None:
    data["revisions"].reverse()


def _move_elsewhere(data: Any) -> None:
    data["moves"][0]["week"] = "2026-W51"


def _commit_nothing(data: Any) -> None:
    data["moves"][0]["revision"] = None


def _undo_nothing(data: Any) -> None:
    data["moves"] = [{"id": 1, "week": WEEK, "revision": None, "kind": "undo"}]


def _leap(data: Any) -> None:
    del data["moves"][1]


def _other_week(data: Any) -> None:
    data["revisions"][0]["state"]["week"] = "2026-W50"


def _no_state(data: Any) -> None:
    data["revisions"][0]["state"] = {"week": WEEK}


def _huge(data: Any) -> None:
    data["moves"][-1]["id"] = 10**30


def _surrogate(data: Any) -> None:
    data["revisions"][0]["verb"] = "\ud800"


def _newer(data: Any) -> None:
    data["version"] = 2


def _unknown_key(data: Any) -> None:
    data["extra"] = 1


@pytest.mark.parametrize(
    "spoil",
    [
        _escape, _other_file, _change_a_week, _lose_a_week, _lose_a_revision, _shuffle, _move_elsewhere,
        _commit_nothing, _undo_nothing, _leap, _other_week, _no_state, _huge, _surrogate, _newer,
        _unknown_key,
    ],
)  # fmt: skip
def test_an_export_that_cannot_be_true_writes_nothing(
    gym: Path, tmp_path: Path, spoil: Callable[[Any], None]
) -> None:
    data = json.loads(export_gym(gym))
    spoil(data)
    with pytest.raises(DataError, match=r"this export|not an exported gym"):
        import_gym(json.dumps(data), tmp_path / "other")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["gym"]


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", "name: gym", "[" * 100_000, '{"format": 1e999}'])
def test_what_is_no_export(tmp_path: Path, text: str) -> None:
    with pytest.raises(DataError, match="not an exported gym"):
        import_gym(text, tmp_path / "other")
