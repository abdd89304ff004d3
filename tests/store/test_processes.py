"""Processes that are killed, and processes that want the same week at once."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planner.store.database import problems
from planner.store.store import open_store

ROOT = Path(__file__).parents[2]
WEEK = "2026-W49"
KILLS = 200
KILLS_TO_A_STORE = 10
OPENING_S, CHANGE_S = 0.06, 0.012
"""About as long as it takes to open a store and make the first change, and to make one more."""


def start(module: str, *arguments: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", f"tests.store.{module}", *arguments],
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def said(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline().strip()


def tell(process: subprocess.Popen[str], text: str) -> None:
    assert process.stdin is not None
    process.stdin.write(text + "\n")
    process.stdin.flush()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the nursery forks")
def test_a_process_killed_at_any_moment_loses_at_most_the_change_in_hand(tmp_path: Path) -> None:
    chance = random.Random(20261130)
    before_first = between = in_hand = 0
    with start("nursery") as nursery:
        assert said(nursery) == "ready"
        for kill in range(KILLS):
            folder = tmp_path / f"gym{kill // KILLS_TO_A_STORE}"
            if kill % KILLS_TO_A_STORE == 0:
                folder.mkdir()
                kept = 0
            tell(nursery, str(folder))
            child = int(said(nursery).removeprefix("pid "))
            reported = kept
            # The first processes of a store are mostly killed while they make it, the others later.
            if kill % KILLS_TO_A_STORE < 4:
                time.sleep(chance.uniform(0, OPENING_S))
            else:
                for _ in range(chance.randint(1, 3)):
                    reported = int(said(nursery).removeprefix("kept "))
                time.sleep(chance.uniform(0, CHANGE_S))
            os.kill(child, signal.SIGKILL)
            while (line := said(nursery)) != "dead":
                assert line.startswith("kept "), line
                reported = int(line.removeprefix("kept "))
            if (folder / "planner.db").exists():
                assert problems(folder / "planner.db") == ()
            with open_store(folder) as store:
                state, history = store.state(WEEK), store.history(WEEK)
            assert problems(folder / "planner.db") == ()
            now = state.candidates[0].week.class_size if state.candidates else 0
            assert now in (reported, reported + 1)
            assert [revision.verb for revision in history] == [f"change {n}" for n in range(1, now + 1)]
            before_first += reported == kept
            between += reported > kept
            in_hand += now > reported
            kept = now
        assert nursery.stdin is not None
        nursery.stdin.close()
    print(f"{before_first} killed before a change, {between} after some, {in_hand} with one kept but unsaid")
    assert before_first > 0
    assert between >= KILLS // 2


def test_processes_that_change_one_week_at_once_lose_nothing(tmp_path: Path) -> None:
    count = 20
    contenders = [start("contender", str(tmp_path), str(first), str(count)) for first in (100, 200)]
    for contender in contenders:
        tell(contender, "go")
    conflicts = 0
    for contender in contenders:
        out, _ = contender.communicate(timeout=60)
        assert contender.returncode == 0
        conflicts += int(out)
    with open_store(tmp_path) as store:
        state, history = store.state(WEEK), store.history(WEEK)
    expected = {f"M{n}" for first in (100, 200) for n in range(first, first + count)}
    assert {c.name for c in state.candidates} == expected
    assert [revision.parent for revision in history] == [None, *range(1, 2 * count)]
    print(f"{conflicts} conflicts")
    assert problems(tmp_path / "planner.db") == ()
