"""Every case of the tables gets its words, and leaves everything as it was."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.test_bad_input import snapshot, spoil
from tests.hostile.cases import IN_FILES, WORDS, InFile, Words

MOST_LINES = 3


def short(message: str) -> None:
    """A message is a few lines that a coach can read, without a word of the libraries."""
    assert message.strip()
    assert len(message) < 1500
    foreign = re.findall(
        r"\b(?:Traceback|pydantic|ValidationError|NoneType|Errno|__\w+__|[A-Z]\w+Error)\b", message
    )
    assert not foreign, message


@pytest.mark.parametrize("case", WORDS, ids=lambda case: case.name)
def test_words(case: Words, run: Run, kept: Path, no_solve: list[str]) -> None:
    before = snapshot(kept, Path.cwd())
    answer = run(*(str(kept) if word == "GYM" else word for word in case.command))
    assert answer.code == case.code, answer.err
    for said in case.said:
        assert said in answer.err
    short(answer.err)
    assert not no_solve
    assert snapshot(kept, Path.cwd()) == before


@pytest.mark.parametrize("case", IN_FILES, ids=lambda case: case.name)
def test_files(case: InFile, run: Run, gym: Path, no_solve: list[str]) -> None:
    path = gym / case.file
    line = 1
    if case.old:
        line = spoil(path, case.old, case.new)
    else:
        path.write_text(case.new, encoding="utf-8")
    answer = run("draft", "demo", "--week", "2026-W49")
    assert answer.code == 2, answer.err
    first, *others = answer.err.strip().split("\n")
    where = re.match(rf"{re.escape(str(path))}(?::(\d+))?: ", first)
    assert where, answer.err
    assert 0 <= int(where[1] or line) - line < 3
    assert len(others) < MOST_LINES
    for said in case.said:
        assert said in answer.err
    short(answer.err)
    assert not no_solve
