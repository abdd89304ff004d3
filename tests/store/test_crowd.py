"""Many processes at once: nothing acknowledged is lost, nothing is refused that could have been made.

Judged from the file's rows alone, as plain JSON; what contradicts what is written down here a second time.
"""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
import sys
import zlib
from collections import Counter
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from planner.store.database import problems
from tests.store.crowd import KINDS, WEEKS

ROOT = Path(__file__).parents[2]
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SETTING_UP = 2 * len(WEEKS)
Json = dict[str, Any]

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="the crowd forks")


@pytest.mark.parametrize(
    ("processes", "changes", "kills"),
    [
        pytest.param(6, 8, 0, id="a few"),
        pytest.param(6, 8, 3, id="a few, some killed"),
        pytest.param(50, 20, 0, id="fifty", marks=pytest.mark.crowd),
        pytest.param(50, 20, 25, id="fifty, half of them killed", marks=pytest.mark.crowd),
    ],
)
def test_a_crowd(tmp_path_factory: pytest.TempPathFactory, processes: int, changes: int, kills: int) -> None:
    folder = tmp_path_factory.mktemp("gym")  # on a disk
    counts = judge(crowd(folder, processes, changes, kills, seed=77))
    print("; ".join(f"{what}: {count}" for what, count in sorted(counts.items())))
    said = Counter(
        {kind: sum(n for what, n in counts.items() if what.startswith(f"{kind} ")) for kind in KINDS}
    )
    if kills:
        assert said.total() <= processes * changes
    else:
        assert set(said.values()) == {processes * changes // len(KINDS)}
        assert counts["draft refused"] == 0


def crowd(folder: Path, processes: int, changes: int, kills: int, seed: int) -> Record:
    words = [str(word) for word in (folder, processes, changes, kills, seed)]
    run = [sys.executable, "-m", "tests.store.crowd", *words]
    done = subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return Record(folder)


class Record:
    """What the file holds, and what the processes said."""

    def __init__(self, folder: Path) -> None:
        assert problems(folder / "planner.db") == ()
        with closing(sqlite3.connect(folder / "planner.db")) as raw:
            rows = raw.execute("SELECT id, week, parent, state FROM revisions ORDER BY id").fetchall()
            self.moves = raw.execute("SELECT id, week, revision, kind FROM moves ORDER BY id").fetchall()
            packed = dict(raw.execute("SELECT sha256, packed FROM weeks_json"))
        weeks = {name: json.loads(zlib.decompress(blob)) for name, blob in packed.items()}
        self.parents = {row[0]: row[2] for row in rows}
        self.states: dict[int | None, Json] = {}
        for number, _, _, blob in rows:
            state = json.loads(zlib.decompress(blob))
            state["candidates"] = [(c["name"], weeks[c["week"]]["class_size"]) for c in state["candidates"]]
            self.states[number] = state
        sessions = {w["class_size"]: {s["day"]: s["rating"] for s in w["sessions"]} for w in weeks.values()}
        for state in self.states.values():
            state["sessions"] = {name: sessions[mark] for name, mark in state["candidates"]}
        self.said: list[Json] = []
        self.unended: list[Json] = []
        for file in sorted(folder.glob("said-*.txt")):
            lines = [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]
            self.said += [{**begun, **ended} for begun, ended in zip(lines[::2], lines[1::2], strict=False)]
            self.unended += lines[-1:] if len(lines) % 2 else []

    def heads(self, week: str, after: int, up_to: int) -> list[int | None]:
        """Where a week stood after each move in a span of them."""
        return [r for number, w, r, _ in self.moves if w == week and after < number <= up_to]


def judge(record: Record) -> Counter[str]:
    """Every change is where it was acknowledged and does what it says, no more; every refusal is right."""
    heads: dict[str, int | None] = {}
    steps: Counter[int | None] = Counter()
    for _, week, revision, kind in record.moves:
        if kind == "commit":
            assert record.parents[revision] == heads.get(week), (
                "a change that was not made on the newest state"
            )
        else:
            assert record.parents[heads[week]] == revision
            steps[heads[week]] += 1
        heads[week] = revision
    counts: Counter[str] = Counter()
    to_explain = set(record.parents) - set(range(1, SETTING_UP + 1))
    for one in record.said:
        counts[f"{one['kind']} {one['came']}"] += 1
        base = record.states.get(one["looked"])
        if one["came"] == "refused":
            between = record.heads(one["week"], one["after"], one["by"])
            assert right_to_refuse(one, base, [record.states.get(head) for head in between]), one
        elif one["kind"] == "undo":
            steps[one["looked"]] -= 1
            assert steps[one["looked"]] >= 0, one
        elif one["revision"] in to_explain and explains(record, one, base, one["revision"]):
            to_explain.remove(one["revision"])
        else:  # another had made it so meanwhile, or it was so
            assert changed(record.states[one["revision"]], one) == record.states[one["revision"]], one
            counts["so already"] += 1
    for left in to_explain:
        assert any(explains(record, one, record.states.get(one["looked"]), left) for one in record.unended)
    assert steps.total() <= sum(one["kind"] == "undo" for one in record.unended)
    counts["kept but not said"] = len(to_explain) + steps.total()
    return counts


def explains(record: Record, one: Json, base: Json | None, revision: int) -> bool:
    """Whether a revision is its parent with this change, no more, and the change was right to make."""
    before, after = record.states.get(record.parents[revision]), record.states[revision]
    if before is None or before["week"] != one["week"]:
        return False
    made = changed(before, one)
    right = impossible(one, base) or not against(one, base, before)
    return right and made == {**after, "sessions": made["sessions"]} and made != before


def changed(before: Json, one: Json) -> Json:
    after: Json = {**before, "requests": dict(before["requests"]), "log": dict(before["log"])}
    asked, wanted = after["requests"], one["wanted"]

    def grow(key: str) -> None:
        asked[key] = asked[key] if wanted in asked[key] else [*asked[key], wanted]

    match one["kind"]:
        case "draft":
            more, letter = divmod(len(after["candidates"]), 26)
            name = (LETTERS[more - 1] if more else "") + LETTERS[letter]
            after["candidates"] = [*after["candidates"], (name, wanted["mark"])]
        case "choose":
            after["chosen"] = wanted["name"]
        case "lock":
            grow("locks")
        case "ban":
            grow("bans")
        case "ask":
            grow("wishes")
        case "write":
            day = wanted["day"]
            asked["by_hand"] = [*(s for s in asked["by_hand"] if s["day"] != day), wanted]
            asked["locks"] = [x for x in asked["locks"] if x["day"] != day or x["part"] == "movement"]
        case "log":
            after["log"][wanted["day"]] = {k: v for k, v in wanted.items() if k != "day"}
    return after


def right_to_refuse(one: Json, base: Json | None, between: list[Json | None]) -> bool:
    if one["kind"] == "undo":
        return bool(between) or base is None
    if one["conflict"]:
        assert "Wanted: " in one["said"]
        assert "Now there stands: " in one["said"]
        return any(against(one, base, now) for now in between)
    return any(impossible(one, state) for state in (base, *between))


def impossible(one: Json, state: Json | None) -> bool:
    """What could not be done by one person alone either."""
    if state is None:
        return True
    wanted, asked = one["wanted"], state["requests"]
    match one["kind"]:
        case "choose":
            return wanted["name"] not in state["sessions"]
        case "log":
            return session(state, state["chosen"], wanted["day"]) is None
        case "lock" if wanted["part"] != "movement" and session(state, meant(state), wanted["day"]) is None:
            return True
        case "lock" | "ban" | "ask":
            return wanted in asked[{"lock": "locks", "ban": "bans", "ask": "wishes"}[one["kind"]]]
    return False


def against(one: Json, base: Json | None, now: Json | None) -> bool:  # noqa: PLR0911
    """Whether what has come since a look contradicts a change."""
    if base is None or now is None:
        return base != now
    wanted, day = one["wanted"], one["wanted"].get("day")
    new = {
        key: [x for x in now["requests"][key] if x not in base["requests"][key]]
        for key in ("locks", "bans", "wishes", "by_hand")
    }
    by_hand = [[s for s in state["requests"]["by_hand"] if s["day"] == day] for state in (base, now)]
    pieces = [x for x in new["locks"] if x["part"] != "movement"]
    match one["kind"]:
        case "choose":
            name = wanted["name"]
            logged = [d for d, entry in now["log"].items() if base["log"].get(d) != entry]
            days = [*logged, *(x["day"] for x in pieces if x["part"] == "day" and not hand(now, x["day"]))]
            return (
                now["chosen"] not in {base["chosen"], name}
                or dict(base["candidates"]).get(name) != dict(now["candidates"]).get(name)
                or any(session(now, meant(now), d) != session(now, name, d) for d in days)
            )
        case "lock" if wanted["part"] == "movement":
            return any(ban["movement"] == wanted["movement"] for ban in new["bans"])
        case "lock":
            whole = wanted["part"] == "day" and not hand(now, day)
            kept = [session(state, meant(state), day) for state in (base, now)]
            return by_hand[0] != by_hand[1] or (whole and kept[0] != kept[1])
        case "ban":
            return any(x["movement"] == wanted["movement"] for x in (*new["locks"], *new["wishes"]))
        case "ask":
            return any(ban["movement"] == wanted["movement"] for ban in new["bans"])
        case "write":
            return by_hand[0] != by_hand[1] or any(x["day"] == day for x in pieces)
        case "log":
            entries = [state["log"].get(day) for state in (base, now)]
            done = [session(state, state["chosen"], day) for state in (base, now)]
            return entries[0] != entries[1] or done[0] != done[1]
    return False


def meant(state: Json) -> str | None:
    return state["chosen"] or next(reversed(state["sessions"]), None)


def session(state: Json, name: str | None, day: str) -> int | None:
    found: int | None = state["sessions"].get(name, {}).get(day)
    return found


def hand(state: Json, day: str) -> bool:
    return any(s["day"] == day for s in state["requests"]["by_hand"])
