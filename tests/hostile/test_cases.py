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


def test_a_bar_that_the_gym_does_not_list_is_said(run: Run) -> None:
    words = ("loads", "demo", "--lift", "bench press", "--scheme", "3x8", "--one-rm", "85", "--bar")
    assert "lists no bar of 17 kg; it has 15, 20 kg" in run(*words, "17").out
    assert "lists no bar" not in run(*words, "20").out


def test_a_wish_that_was_not_met_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    from planner.cli.base import tell_unmet
    from planner.domain.requests import Wish
    from planner.weeks.wishes import unmet
    from tests.render.sample_week import sample_week

    week = sample_week()
    there = week.sessions[0]
    floor = next(iter(there.pieces[1].versions.values()))
    met = Wish(movement=floor.lines[0].movement, day=there.day)
    sunday = (
        Wish(movement="row", day="sun"),
        Wish(hardness="hard", day="sun"),
        Wish(pattern="carry", day="sun"),
    )
    assert unmet(week, (met, *sunday)) == sunday
    tell_unmet("", week, (met, *sunday))
    said = capsys.readouterr().out
    assert "row on Sunday; Sunday hard; carry work on Sunday" in said
    assert "not met" in said
    tell_unmet("", week, (met,))
    assert capsys.readouterr().out == ""


def test_variants_of_what_is_ruled_out_are_offered(run: Run, kept: Path) -> None:
    first = run("ban", kept, "2026-W49", "burpee")
    assert first.code == 0, first.err
    assert "No burpee this week." in first.out
    assert "burpee over the bar" in first.out
    assert "--variants" in first.out
    more = run("ban", kept, "2026-W49", "burpee", "--variants")
    assert more.code == 0, more.err
    assert "No burpee over bar this week." in more.out
    assert "already" in run("ban", kept, "2026-W49", "burpee", "--variants").err
    assert "over bar" in run("allow", kept, "2026-W49", "burpee", "--variants").out
    assert "nothing is ruled out" in run("allow", kept, "2026-W49", "burpee").err


def test_schemes_and_formats_are_listed_by_the_names_that_write_takes(run: Run) -> None:
    assert "five_by_five" in run("catalogue", "schemes").out
    some = run("catalogue", "formats", "--movements", "2", "--domain", "medium").out
    assert "rounds_for_time_5_of_2_medium" in some
    assert "of_3" not in some


def test_an_imported_gym_has_to_load(run: Run, kept: Path, tmp_path: Path) -> None:
    export = tmp_path / "gym.json"
    assert run("export", kept, export).code == 0
    text = export.read_text(encoding="utf-8")
    export.write_text(text.replace("timezone:", "timezon:"), encoding="utf-8")
    answer = run("import", export, tmp_path / "new")
    assert answer.code == 2
    assert "does not load: gym.yaml:" in answer.err
    assert '"timezone"' in answer.err
    assert not (tmp_path / "new").exists()
