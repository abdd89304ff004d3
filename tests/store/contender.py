"""Adds its own candidates' marks to a week while others do the same: ``contender FOLDER FIRST COUNT``."""

from __future__ import annotations

import sys
from pathlib import Path

from planner.store.errors import StoreConflict
from planner.store.store import open_store
from tests.store.small import candidate

WEEK = "2026-W49"


def main(folder: str, first: str, count: str) -> None:
    conflicts = 0
    sys.stdin.readline()  # all begin together
    for mark in range(int(first), int(first) + int(count)):
        with open_store(Path(folder)) as store:
            while True:
                state = store.state(WEEK)
                grown = (*state.candidates, candidate(WEEK, f"M{mark}", 1, label=f"by {first}"))
                try:
                    store.commit(WEEK, state.model_copy(update={"candidates": grown}), f"added {mark}")
                    break
                except StoreConflict:
                    conflicts += 1
    print(conflicts)


if __name__ == "__main__":
    main(*sys.argv[1:])
