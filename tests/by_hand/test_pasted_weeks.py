"""Past weeks pasted into history/ as text."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from planner import paths
from planner.errors import DataError
from planner.weeks.setting import load_setting

LAST = """\
Monday
strength: front squat 5x5
conditioning: 12 min amrap
  10 burpee
  15 kettlebell swing @ moderate

Thursday
conditioning: 21-15-9 for time
  thruster @ light
  pull-up
"""


@pytest.fixture
def gym(tmp_path: Path) -> Path:
    folder = tmp_path / "gym"
    shutil.copytree(paths.home().shared / "gyms/demo", folder)
    (folder / "history").mkdir(exist_ok=True)
    return folder


def test_a_pasted_week_is_looked_back_on(gym: Path) -> None:
    (gym / "history" / "2026-W48.txt").write_text(LAST, encoding="utf-8")
    setting = load_setting(gym, "2026-W49", ())
    facts = setting.problem().facts

    assert [w.week for w in setting.history] == ["2026-W48"]
    assert [(p.days_ago, p.shape_format, p.scheme) for p in facts.past] == [
        (7, "as_many_rounds", "five_by_five"),
        (4, "ladder", ""),
    ]
    assert {x.movement for p in facts.past for x in p.lines} == {
        "front_squat", "burpee", "kettlebell_swing", "thruster", "pull_up",
    }  # fmt: skip


def test_later_weeks_are_not(gym: Path) -> None:
    (gym / "history" / "2026-W50.txt").write_text(LAST, encoding="utf-8")
    assert load_setting(gym, "2026-W49", ()).history == ()


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("last week.txt", LAST, "2026-W48.txt"),
        ("2026-W48.txt", LAST.replace("burpee", "burpey"), "2026-W48.txt:4:6"),
    ],
)
def test_what_is_wrong_names_the_file(name: str, text: str, words: str, gym: Path) -> None:
    (gym / "history" / name).write_text(text, encoding="utf-8")
    with pytest.raises(DataError, match=words):
        load_setting(gym, "2026-W49", ())
