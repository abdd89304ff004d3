"""A catalogue and a gym small enough to read, in a folder of their own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.load.small_files import FILES


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A good catalogue, and a good gym beside it."""
    for name, text in FILES.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


@pytest.fixture
def spoil(folder: Path) -> Callable[[str, str, str], int]:
    """Replace a text in one of the files, which must be there once; gives the line where it stood."""

    def replace(name: str, old: str, new: str) -> int:
        path = folder / name
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} is {text.count(old)} times in {name}"
        path.write_text(text.replace(old, new), encoding="utf-8")
        return text[: text.index(old)].count("\n") + 1

    return replace
