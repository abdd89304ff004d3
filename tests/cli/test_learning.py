"""Movements that nobody knows are asked about, and kept in the gym's own file; or nothing is written."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
import yaml
from typer.testing import CliRunner

from planner.cli import app
from planner.domain.catalogue import Catalogue
from planner.load.catalogue import load_catalogue
from planner.load.own_movements import HEAD, MARK, with_entries
from planner.paths import home
from planner.store.store import open_store

WEEK = "2026-W49"
TEXT = (
    "Wednesday\nstrength: yoke rock 3x5\n"
    "conditioning: 4 rounds for time\n  12 yoke rocks\n  30 m stone trundle\n  10 burpee\n"
)
ROCKS = "yes\n\nsquat\nreps\nbarbell, rack\n3.5\n"
TRUNDLE = "y\n\ncarry\nmetres\nsandbag\n1,5\n"
OWN = """\
# Ours, tried in May.
movements:
  # The first one.
  - id: door_pull  # on the blue door
    name: door pull
    patterns: {horizontal_pull: 100}
    modality: bodyweight
    setups: [{needs: []}]
    roles: []
    cap: 60
    pace: {seconds:   2.0, source: "common practice", steady_to: 10, slower_percent: 10}
    standard: 'The elbows pass the ribs.'
    points: ["slow",
             "all the way"]
    prepares: [grip]

# So far.
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A gym's folder in which weeks are kept, with a board beside it."""
    gym = tmp_path / "gym"
    gym.mkdir()
    (gym / "gym.yaml").write_bytes((home().shared / "gyms" / "demo" / "gym.yaml").read_bytes())
    with open_store(gym):
        pass
    (tmp_path / "board.txt").write_text(TEXT, encoding="utf-8")
    return gym


def write(folder: Path, answers: str, *more: str) -> tuple[int, str]:
    words = ["write", str(folder), WEEK, str(folder.parent / "board.txt"), "--learn", *more]
    result = CliRunner().invoke(app, words, input=answers)
    return result.exit_code, result.output


def known(folder: Path) -> Catalogue:
    return load_catalogue(home().shared / "catalogue", folder)


def test_what_is_learnt_is_written_and_the_session_is_kept(folder: Path) -> None:
    code, said = write(folder, ROCKS + TRUNDLE)
    assert code == 0, said
    assert 'There is no movement "yoke rock".' in said
    assert "Kept as you wrote: Wednesday." in said
    rocks, trundle = (known(folder).movements[x] for x in ("yoke_rock", "stone_trundle"))
    assert (rocks.name, dict(rocks.patterns), rocks.unit, rocks.pace.seconds) == (
        "yoke rock",
        {"squat": 100},
        "reps",
        3.5,
    )
    assert (rocks.setups[0].needs, rocks.setups[0].start) == (("barbell", "rack"), "rack")
    assert (trundle.unit, trundle.pace.seconds, trundle.modality) == ("metres", 1.5, "loaded")
    assert trundle.kg
    for learnt in (rocks, trundle):
        assert "not checked" in learnt.standard
        assert "not checked" in learnt.pace.source
        assert not learnt.all_roles
    assert (folder / "movements.yaml").read_text(encoding="utf-8").count("not checked") >= 4


def test_what_was_in_the_file_is_as_it_was(folder: Path) -> None:
    (folder / "movements.yaml").write_text(OWN, encoding="utf-8")
    assert write(folder, ROCKS + TRUNDLE)[0] == 0
    after = (folder / "movements.yaml").read_text(encoding="utf-8")
    assert after.startswith(OWN)
    assert list(known(folder).movements)[-3:] == ["door_pull", "yoke_rock", "stone_trundle"]


@pytest.mark.parametrize(
    ("answers", "code", "said"),
    [
        ("no\nno\n", 2, '"yoke rock" is neither a movement'),
        ("yes\n\nsquat\n", 2, "were not answered, and nothing was written"),
        (ROCKS, 2, "were not answered, and nothing was written"),
        ("maybe\nwhat\nhm\n", 2, "3 answers in a row were not understood, and nothing was written"),
        ("yes\n\nsqat\nsquat\nreps\nbarbel\nbarbell\nquick\n0\n-1\n", 2, 'Did you mean "squat"?'),
    ],
)
def test_wrong_answers_leave_everything_as_it_was(folder: Path, answers: str, code: int, said: str) -> None:
    (folder / "movements.yaml").write_text(OWN, encoding="utf-8")
    got, out = write(folder, answers)
    assert got == code
    assert said in out
    assert (folder / "movements.yaml").read_text(encoding="utf-8") == OWN
    with open_store(folder) as store:
        assert not store.weeks()


def test_a_name_that_is_one_by_now_is_not_asked_about_again(folder: Path) -> None:
    assert write(folder, ROCKS + TRUNDLE)[0] == 0
    code, said = write(folder, "")
    assert (code, "There is no movement" in said) == (0, False)


def test_names_in_yaml_are_learnt_too(folder: Path) -> None:
    (folder.parent / "board.txt").rename(folder.parent / "board.yaml")
    (folder.parent / "board.yaml").write_text(
        "day: Wednesday\npieces:\n  - kind: conditioning\n    composition: {clock: for_time, rounds: 3}\n"
        "    lines: [{movement: yoke rock, dose: 10}]\n",
        encoding="utf-8",
    )
    words = ["write", str(folder), WEEK, str(folder.parent / "board.yaml"), "--learn"]
    result = CliRunner().invoke(app, words, input=ROCKS)
    assert result.exit_code == 0, result.output
    assert "yoke_rock" in known(folder).movements


@pytest.mark.slow
def test_ctrl_c_while_asked_leaves_everything_as_it_was(folder: Path) -> None:
    (folder / "movements.yaml").write_text(OWN, encoding="utf-8")
    words = [
        sys.executable,
        "-m",
        "planner",
        "write",
        str(folder),
        WEEK,
        str(folder.parent / "board.txt"),
        "--learn",
    ]
    with subprocess.Popen(
        words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
    ) as asked:
        assert asked.stdin
        assert asked.stdout
        asked.stdin.write(b"yes\n\nsquat\n")
        asked.stdin.flush()
        os.set_blocking(asked.stdout.fileno(), False)
        said = b""
        while b"Counted in" not in said:
            said += asked.stdout.read() or b""
            time.sleep(0.05)
        asked.send_signal(signal.SIGINT)
        asked.wait(10)
    assert asked.returncode == 130
    assert (folder / "movements.yaml").read_text(encoding="utf-8") == OWN


@pytest.mark.parametrize(
    ("text", "before"),
    [
        (HEAD, HEAD),
        ("movements: []\n", "movements:\n"),
        ("movements: [{id: a}, {id: b}]  # so far\n", "movements: [{id: a}, {id: b}"),
        ("movements:\n- id: a\r\n  x: 1\r\n", "movements:\n- id: a\r\n  x: 1\r\n"),
        ("movements:\n- {id: a} # no line's end", "movements:\n- {id: a} # no line's end"),
    ],
)
def test_every_way_of_writing_a_list_takes_more(text: str, before: str) -> None:
    entry = {"id": "new", "points": ["a, b", "c: d"], "patterns": {"squat": 100}}
    after = with_entries(text, [entry, entry])
    assert after.startswith(before)
    assert yaml.safe_load(after)["movements"] == [*(yaml.safe_load(text)["movements"] or []), entry, entry]
    assert (MARK.splitlines()[0] in after) == ("[{" not in text)
