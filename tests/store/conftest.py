"""Stores of tests are made in memory where there is such a place: how slow a disk is, is not asked here."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.store.small import MEMORY


@pytest.fixture
def tmp_path() -> Iterator[Path]:
    with TemporaryDirectory(dir=MEMORY) as folder:
        yield Path(folder)
