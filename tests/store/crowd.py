"""Many processes that change one gym's weeks at once: ``crowd FOLDER PROCESSES CHANGES KILLS SEED``.

Each change is made as a command makes it: the store is opened, looked at, changed, closed. What came of each
is written to a file of the process, a line before the change and a line after it; a process that is killed
has begun what it did not end. Processes are forked, so that imports are paid for once.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from planner.domain.gym import DAYS
from planner.domain.plan import SessionPlan, StrengthLine, VersionPlan
from planner.domain.record import LogEntry
from planner.domain.requests import Ban, Lock, Wish
from planner.errors import DataError
from planner.store.database import patiently
from planner.store.errors import StoreConflict
from planner.store.store import Store, open_store
from planner.weeks import requests
from planner.weeks.choose import choose_candidate
from planner.weeks.keeping import keep
from planner.weeks.log import log_session
from tests.store.small import session, small_week

Deed = Callable[[Store, str], object]
WEEKS = ("2026-W49", "2026-W50")
KINDS = ("draft", "choose", "lock", "ban", "ask", "write", "log", "undo")
WANTED_BY_MANY = "burpee"
LOOKS_S = 0.05
"""The longest that a person looks at a week before the change."""


def begin(folder: Path) -> None:
    """A store with three candidates of each week; A and B have the same sessions, C has others."""
    with open_store(folder) as store:
        for week in WEEKS:
            made = [
                (
                    label,
                    small_week(week, mark).model_copy(
                        update={"sessions": tuple(session(d, r) for d in DAYS)}
                    ),
                )
                for mark, (label, r) in enumerate((("first", 5), ("second", 5), ("third", 9)), 1)
            ]
            keep(store, week, made, "drafted")
            choose_candidate(store, week, "A")


def deed(kind: str, mark: str, chance: random.Random) -> tuple[dict[str, Any], Deed]:
    """What is wanted, as plain values, and how it is done."""
    movement = f"m_{mark}" if chance.random() < 0.8 else WANTED_BY_MANY
    day = chance.choice(DAYS)
    lock = Lock(day=day, part="movement", movement=movement)
    if chance.random() < 0.3:
        lock = Lock(day=day, part=chance.choice(("day", "strength")))
    floor = VersionPlan(strength=(StrengthLine(movement=f"m_{mark}", scheme="any"),), conditioning=())
    asked: dict[str, tuple[Any, Any]] = {
        "lock": (requests.lock, lock),
        "ban": (requests.ban, Ban(movement=movement)),
        "ask": (requests.ask, Wish(movement=movement, day=day)),
        "write": (requests.write, SessionPlan(day=day, shape="any", versions={"floor": floor})),
    }
    if kind in asked:
        verb, wanted = asked[kind]
        requests.refuse_never = lambda *_: None  # movements are made up here
        gym = SimpleNamespace(days=DAYS)
        return wanted.model_dump(mode="json"), lambda s, w: verb(s, SimpleNamespace(week=w, gym=gym), wanted)
    name, entry = chance.choice("ABC"), LogEntry(status="done", note=mark)
    number = int(mark.replace("_", "")) + 1000
    others: dict[str, tuple[dict[str, Any], Deed]] = {
        "draft": ({"mark": number}, lambda s, w: keep(s, w, [("", small_week(w, number))], "drafted")),
        "choose": ({"name": name}, lambda s, w: choose_candidate(s, w, name)),
        "log": ({"day": day, **entry.model_dump(mode="json")}, lambda s, w: log_session(s, w, day, entry)),
        "undo": ({}, lambda s, w: s.undo(w)),
    }
    return others[kind]


def change(folder: Path, kind: str, mark: str, chance: random.Random, say: Callable[..., None]) -> None:
    week = chance.choice(WEEKS)
    wanted, do = deed(kind, mark, chance)
    with open_store(folder) as store:
        after = _last_move(store)
        store.state(week)
        say(kind=kind, week=week, wanted=wanted, looked=store.seen(week), after=after)
        time.sleep(chance.uniform(0, LOOKS_S))
        try:
            do(store, week)
        except (StoreConflict, DataError) as error:
            say(
                came="refused",
                conflict=isinstance(error, StoreConflict),
                said=str(error),
                by=_last_move(store),
            )
        else:
            say(came="kept", revision=store.seen(week))


def _last_move(store: Store) -> int:
    return patiently(store.path, lambda: store.connection.execute("SELECT max(id) FROM moves").fetchone()[0])


def work(folder: Path, number: int, changes: int, seed: int) -> None:
    with (folder / f"said-{number}.txt").open("w", encoding="utf-8") as file:

        def say(**what: object) -> None:
            file.write(json.dumps(what) + "\n")
            file.flush()

        for turn in range(changes):
            kind = KINDS[(number * changes + turn) % len(KINDS)]
            chance = random.Random(f"{seed} {number} {turn}")
            change(folder, kind, f"{number}_{turn:02}", chance, say)


def main(folder: Path, processes: int, changes: int, kills: int, seed: int) -> int:
    begin(folder)
    chance = random.Random(seed)
    children: dict[int, int] = {}
    for number in range(processes):
        child = os.fork()
        if child == 0:
            code = 1
            try:
                work(folder, number, changes, seed)
                code = 0
            except Exception:  # noqa: BLE001  (the test reads it)
                traceback.print_exc()
            finally:
                os._exit(code)
        children[child] = number
    for child in chance.sample(sorted(children), kills):
        time.sleep(chance.uniform(0, changes * LOOKS_S))
        os.kill(child, signal.SIGKILL)
    wrong = [
        number for child, number in children.items() if os.waitpid(child, 0)[1] not in (0, signal.SIGKILL)
    ]
    print(f"failed: {wrong}")
    return bool(wrong)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), *(int(word) for word in sys.argv[2:])))
