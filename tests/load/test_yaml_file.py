"""Every unusable file gives one message: file, line, key and what would be right."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
import yaml

from planner.errors import DataError, Place
from planner.load import yaml_file
from planner.load.yaml_file import MAX_BYTES, read_yaml


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        (b"a: 1\nb: 2\na: 3\n", 3, '"a" is here a second time; the first is on line 1'),
        (b"a:\n  20: 1\n  20.0: 2\n", 3, '"20.0" is here a second time; the first is on line 2'),
        (b"a:\n\tb: 1\n", 2, "tab"),
        (b"a: 1\nb: \xff\n", 2, "not UTF-8"),
        (b"a: 1\nb: \x07\n", 2, "unprintable character"),
        (b"a: &x [1]\nb: *x\n", 1, "anchors"),
        (b"a: 1\nb: *x\n", 2, "aliases"),
        (b"a: !!python/object:os.system x\n", 1, "tags"),
        (b"a: 1\n---\nb: 2\n", 2, "second document"),
        (b"a: [1, 2\nb: 3\n", 2, "not YAML"),
        (b"a: 1\nb : : 2\n", 2, "not YAML"),
        (b"? [1, 2]\n: 3\n", 1, "a key must be a single word"),
        (b"a: " + b"[" * 50_000, 1, "nest"),
        (b"a: " + b"[" * 30 + b"]" * 30, 1, "nested more than 20 deep"),
        (b"", None, "empty"),
        (b"# only a comment\n", None, "empty"),
    ],
)
@pytest.mark.parametrize("loader", [yaml_file._LOADER, yaml.SafeLoader], ids=["fast", "plain"])
def test_refuses(  # noqa: PLR0917
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, loader: type, text: bytes, line: int | None, said: str
) -> None:
    monkeypatch.setattr(yaml_file, "_LOADER", loader)
    path = tmp_path / "bad.yaml"
    path.write_bytes(text)
    with pytest.raises(DataError) as caught:
        read_yaml(path)
    message = str(caught.value)
    assert said in caught.value.what  # not in the message: the path has the test's name in it
    assert message.startswith(f"{path}:{line}: " if line else f"{path}: ")
    assert caught.value.advice
    assert caught.value.exit_code == 2
    assert path.read_bytes() == text


def test_duplicate_names_the_entry_by_its_id_even_if_the_id_comes_later(tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text("movements:\n  - name: x\n    name: y\n    id: row\n", encoding="utf-8")
    with pytest.raises(DataError, match=r"bad\.yaml:3: movements\.row\.name: "):
        read_yaml(path)


def test_a_large_file_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "large.yaml"
    path.touch()
    os.truncate(path, MAX_BYTES + 1)

    def never(_: Path) -> bytes:
        raise AssertionError("it was read")

    monkeypatch.setattr(Path, "read_bytes", never)
    with pytest.raises(DataError, match=r"large\.yaml: the file has 2,000,001 bytes"):
        read_yaml(path)


def test_a_missing_file_brings_the_nearest_name(tmp_path: Path) -> None:
    (tmp_path / "drills.yaml").touch()
    with pytest.raises(DataError, match=r'no such file\n.*Did you mean "drills\.yaml"\?'):
        read_yaml(tmp_path / "drill.yaml")
    with pytest.raises(DataError, match="not a file"):
        read_yaml(tmp_path)
    with pytest.raises(DataError, match="There is no folder"):
        read_yaml(tmp_path / "no" / "drills.yaml")


def test_bare_words_stay_words(tmp_path: Path) -> None:
    path = tmp_path / "good.yaml"
    path.write_text(
        'at: 18:00\nkit: no\non: true\nkg: 2.5\nn: 20\nday: 2026-11-30\nwhy: "20"\nx:\n', encoding="utf-8-sig"
    )
    assert read_yaml(path).data == {
        "at": "18:00",
        "kit": "no",
        "on": True,
        "kg": 2.5,
        "n": 20,
        "day": "2026-11-30",
        "why": "20",
        "x": None,
    }


def test_every_place_is_known(tmp_path: Path) -> None:
    path = tmp_path / "good.yaml"
    path.write_text("rows:\n  - id: a\n    needs:\n      - x\n      - y\n  - {n: 1}\n", encoding="utf-8")
    top = read_yaml(path)
    first, second = top.child("rows").children()
    assert str(first.place("needs", 1)) == f"{path}:5: rows.a.needs.#2"
    assert str(second.place("n")) == f"{path}:6: rows.#2.n"
    assert str(second.place("missing")) == f"{path}:6: rows.#2"
    assert str(top.place()) == str(path)


def test_the_same_text_in_two_files_has_the_places_of_each(tmp_path: Path) -> None:
    """Texts are parsed once; where they stand is each file's own."""
    for name in ("a.yaml", "b.yaml"):
        (tmp_path / name).write_text("days:\n  - mon\n  - tue\n", encoding="utf-8")
    a, b = (read_yaml(tmp_path / name) for name in ("a.yaml", "b.yaml"))

    assert a.data == b.data == {"days": ["mon", "tue"]}
    assert [x.place("days", 1) for x in (a, b)] == [
        Place(tmp_path / name, 3, "days.#2") for name in ("a.yaml", "b.yaml")
    ]
    for name in ("a.yaml", "b.yaml"):
        (tmp_path / name).write_text("days: 1\ndays: 2\n", encoding="utf-8")
        with pytest.raises(DataError, match=rf"{name}, line 2|{name}:2"):
            read_yaml(tmp_path / name)
