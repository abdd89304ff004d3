"""Processes that are killed at any moment."""

from __future__ import annotations

import json
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
KILLS = 60
KILLS_TO_A_STORE = 10
OPENING_S, CHANGE_S = 0.02, 0.02
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
def test_a_process_killed_at_any_moment_loses_at_most_the_change_in_hand(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    tmp_path = tmp_path_factory.mktemp("gyms")  # on a disk
    chance = random.Random(20261130)
    before_first = between = in_hand = 0
    with start("nursery") as nursery:
        assert said(nursery) == "ready"
        for kill in range(KILLS):
            folder = tmp_path / f"gym{kill // KILLS_TO_A_STORE}"
            if kill % KILLS_TO_A_STORE == 0:
                folder.mkdir()
                kept = 0
            tell(nursery, json.dumps({"folder": str(folder)}))
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
