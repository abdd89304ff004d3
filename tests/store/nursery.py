"""Makes one process after another that changes a store until it is killed; imports are paid for once.

A line of JSON on standard input is what one process is to do: forks, says ``pid N``; the child says ``kept``
of each change that the store has taken; once the child is dead, says ``dead``.
"""

from __future__ import annotations

import json
import os
import sys
from itertools import count
from pathlib import Path

from planner.store.store import open_store
from tests.store.small import put, state_of

WEEK = "2026-W49"


def say(text: str) -> None:
    """At once and whole: nothing is left in a buffer when the process is killed."""
    os.write(1, f"{text}\n".encode())


def commit_for_ever(folder: Path) -> None:
    with open_store(folder) as store:
        candidates = store.state(WEEK).candidates
        number = candidates[0].week.class_size if candidates else 0
        while True:
            number += 1
            put(store, state_of(WEEK, number), f"change {number}")
            say(f"kept {number}")


def change_once(folder: Path, week: str, marks: list[int], verb: str, kill_at: int) -> None:
    """One change; the process ends at once at a step of SQLite's that is counted from the store's opening."""
    with open_store(folder) as store:
        steps = count(1)
        store.connection.set_progress_handler(lambda: os._exit(9) if next(steps) == kill_at else 0, 1)
        put(store, state_of(week, *marks), verb)
        say("kept")


def main() -> None:
    say("ready")
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            try:
                wanted = json.loads(line)
                folder = Path(wanted.pop("folder"))
                if wanted:
                    change_once(folder, **wanted)
                else:
                    commit_for_ever(folder)
            except BaseException as error:  # noqa: BLE001  (the test reads it)
                say(f"failed {error!r}")
            finally:
                os._exit(1)
        say(f"pid {child}")
        os.waitpid(child, 0)
        say("dead")


if __name__ == "__main__":
    main()
