"""A command waits for no library that it does not need: counted, not timed."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from planner.cli.app import COMMANDS, meant

ROOT = Path(__file__).parents[2]
LARGE = {"pydantic", "ortools", "jinja2", "yaml", "sqlite3", "networkx", "icalendar", "weasyprint"}


@pytest.mark.parametrize(
    ("words", "needed"),
    [
        (["--help"], set()),
        (["--version"], set()),
        (["catalogue", "schemes"], {"pydantic", "yaml"}),
        (["catalogue", "list"], {"pydantic", "yaml"}),
        (["rules", "--gym", "demo"], {"pydantic", "yaml"}),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_only_what_is_needed_is_imported(words: list[str], needed: set[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "planner", *words],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=True,
    )  # fmt: skip
    imported = set(re.findall(r"(?m)^import time:.*\| +(\w+)$", done.stderr))
    assert imported & LARGE <= needed


def test_only_what_is_meant_is_looked_at() -> None:
    """The other commands cost time too; help and slips still know them all."""
    assert list(meant(COMMANDS, ["--debug", "weeks", "gym"])) == ["weeks"]
    assert list(meant(COMMANDS, ["catalogue", "list"])) == [x for x in COMMANDS if x.startswith("catalogue ")]
    for words in ([], ["--help"], ["--help", "weeks"], ["week"], ["catalogue list"]):
        assert meant(COMMANDS, words) == COMMANDS
