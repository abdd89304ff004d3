"""Makes one process after another that commits until it is killed; imports are paid for once.

For each folder on standard input: forks, says ``pid N``; the child says ``kept N`` for each change that the
store has taken; once the child is dead, says ``dead``.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from planner.store.store import open_store
from tests.store.small import state_of

WEEK = "2026-W49"


def say(text: str) -> None:
    """At once and whole: nothing is left in a buffer when the process is killed."""
    os.write(1, f"{text}\n".encode())


def commit_for_ever(folder: Path) -> None:
    with open_store(folder) as store:
        # The log is written back every few changes instead of every thousand pages, to be killed there too.
        store.connection.exec_driver_sql("PRAGMA wal_autocheckpoint = 4")
        store.connection.rollback()
        candidates = store.state(WEEK).candidates
        number = candidates[0].week.class_size if candidates else 0
        while True:
            number += 1
            store.commit(WEEK, state_of(WEEK, number), f"change {number}")
            say(f"kept {number}")


def main() -> None:
    say("ready")
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            try:
                commit_for_ever(Path(line.strip()))
            except BaseException as error:  # noqa: BLE001  (the test reads it)
                say(f"failed {error!r}")
            finally:
                os._exit(1)
        say(f"pid {child}")
        os.waitpid(child, 0)
        say("dead")


if __name__ == "__main__":
    main()
