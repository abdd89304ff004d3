"""How drafts go over gyms drawn by chance, old beside new: ``python -m tests.benchmarks.bench_gyms``.

Each gym is written as a folder and drafted by this planner and, with ``--old``, by that of another checkout,
in turn, each in a process of its own that imports nothing but the planner. Nothing is asserted. Seconds are
of the processor, so that a busy machine disturbs them little; ``work`` is the solver's own measure, the same
on every machine; ratios are new to old. Weeks behind a gym are drafted once by this planner and kept.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from statistics import median
from typing import Any, Literal

WEEK = "2026-W49"
HOMES = {"alternatives": ("planner.weeks.alternatives", "planner.verbs.alternatives"),
         "price": ("planner.weeks.price", "planner.verbs.whys")}  # fmt: skip
"""Where a planner may have what is timed, the newest place first."""
Row = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """A gym by its number, or the demo gym, its seed, and how many chosen weeks it has behind it."""

    number: int | Literal["demo"]
    seed: int
    past: int

    def __str__(self) -> str:
        return f"{self.number:>4} +{self.past} s{self.seed}"


# In a process of its own --------------------------------------------------------------------------------


def measured(folder: Path, seed: int, seconds: float, questions: list[str]) -> Row:
    """Drafts one week, asks what else is asked of it, and says how each went."""
    from planner import draft

    started = time.process_time()
    try:
        week = draft(folder, week=WEEK, seed=seed, seconds=seconds)
    except Exception as error:  # noqa: BLE001  (whatever it is, it is what this planner says)
        return {"draft": time.process_time() - started, "verdict": type(error).__name__}
    row: Row = {"draft": time.process_time() - started, "verdict": "week", "work": week.proof.seconds}
    row["points"] = [t.objective for t in week.proof.tiers]
    row["bounds"] = [t.bound for t in week.proof.tiers]
    row["bytes"] = hashlib.sha256(week.model_dump_json().encode()).hexdigest()
    setting = found_in(("planner.weeks.setting", "planner.setting")).load_setting(folder, WEEK)
    for question in questions:
        ask = getattr(found_in(HOMES[question]), question)
        given = (setting, 3) if question == "alternatives" else (setting, week)
        started = time.process_time()
        said = ask(*given, seconds=seconds) if question == "alternatives" else ask(*given)
        row[question] = time.process_time() - started
        row[f"{question} said"] = len(said)
    return row


def found_in(places: tuple[str, ...]) -> Any:
    """The first module that there is."""
    for place in places:
        try:
            return import_module(place)
        except ModuleNotFoundError:
            continue
    raise SystemExit(f"this planner has none of {', '.join(places)}")


# The table ----------------------------------------------------------------------------------------------


def apart(planner: Path, folder: Path, case: Case, given: argparse.Namespace) -> Row:
    """What another process says, whose planner is that of a checkout."""
    command = [sys.executable, __file__, "--one", str(folder), "--seeds", str(case.seed)]
    command += ["--seconds", str(given.seconds), *(f"--{q}" for q in HOMES if getattr(given, q))]
    env = {**os.environ, "PYTHONPATH": str(planner)}
    done = subprocess.run(command, cwd=planner, env=env, capture_output=True, text=True, check=True)
    return json.loads(done.stdout.splitlines()[-1])


def kept(case: Case, keep: Path) -> Path:
    """The gym's folder, with its past, made where it is not there yet."""
    from planner.weeks.setting import Setting
    from tests.gyms import drawn, kept_in, with_past
    from tests.solve.demo import shipped

    folder = keep / f"gym-{case.number}-{case.past}"
    if not (folder / "made").exists():
        n = case.number
        setting = Setting(*shipped(), (), WEEK) if n == "demo" else drawn(n, WEEK)
        kept_in(folder, with_past(setting, case.past))
        (folder / "made").touch()
    return folder


def cases(given: argparse.Namespace) -> Iterator[Case]:
    """Gyms without a past, then some of them with one."""
    if given.demo:
        yield from (Case("demo", seed, 0) for seed in given.seeds)
        return
    first, last = given.gyms
    for number in range(first, last + 1):
        for seed in given.seeds:
            yield Case(number, seed, 0)
    for number in range(first, min(last + 1, first + given.with_past)):
        yield Case(number, given.seeds[0], given.weeks)


def cell(row: Row) -> str:
    """What one planner did with one gym."""
    if row["verdict"] != "week":
        return f"{row['draft']:6.2f} {'':6} {row['verdict']:<22}"
    pairs = zip(row["points"], row["bounds"], strict=True)
    reached = " ".join(str(p) if p == b else f"{p}>{b}" for p, b in pairs)
    asked = "".join(f" {q} x{row[q] / row['draft']:.1f}" for q in HOMES if q in row)
    again = "" if row.get("same", True) else " OTHER BYTES"
    return f"{row['draft']:6.2f} {row['work']:6.2f} {reached:<22}{asked}{again}"


def summary(name: str, rows: list[Row]) -> str:
    """Medians and worst of one planner, and how many layers were proved."""
    weeks = [r for r in rows if r["verdict"] == "week"]
    if not weeks:
        return f"{name}: no week"
    out = f"{name}: {len(weeks)} weeks of {len(rows)}"
    for what in ("draft", "work", *HOMES):
        here = [r[what] for r in weeks if what in r]
        if here:
            out += f"; {what} median {median(here):.2f}, worst {max(here):.2f}"
    for question in HOMES:
        ratios = [r[question] / r["draft"] for r in weeks if question in r]
        if ratios:
            out += f"; {question} to draft median {median(ratios):.2f}, worst {max(ratios):.2f}"
    open_ = [sum(p != b for p, b in zip(r["points"], r["bounds"], strict=True)) for r in weeks]
    return out + f"; {sum(map(bool, open_))} with a layer not proved ({sum(open_)} layers)"


def main() -> None:
    """Prints the table, or one row as JSON."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--gyms", nargs=2, type=int, default=(0, 39), metavar=("FIRST", "LAST"))
    parser.add_argument("--seeds", nargs="+", type=int, default=[1, 2])
    parser.add_argument("--seconds", type=float, default=10.0, help="budget of each draft (default 10)")
    parser.add_argument("--with-past", type=int, default=10, metavar="N", help="so many also with a past")
    parser.add_argument("--weeks", type=int, default=8, help="chosen weeks in such a past (default 8)")
    parser.add_argument("--old", type=Path, help="another checkout, drafted with in turn")
    parser.add_argument("--keep", type=Path, default=Path(tempfile.gettempdir()) / "drawn-gyms")
    parser.add_argument("--demo", action="store_true", help="the demo gym with these seeds instead")
    parser.add_argument("--again", action="store_true", help="each twice, to see that the bytes are the same")
    parser.add_argument("--alternatives", action="store_true", help="three alternatives as well")
    parser.add_argument("--price", action="store_true", help="the price of the rules as well")
    parser.add_argument("--one", type=Path, metavar="FOLDER", help="one row, as JSON")
    given = parser.parse_args()
    if given.one:
        asked = [q for q in HOMES if getattr(given, q)]
        print(json.dumps(measured(given.one, given.seeds[0], given.seconds, asked)))
        return
    planners = {"new": Path(__file__).parents[2]} | ({"old": given.old.resolve()} if given.old else {})
    rows: dict[str, list[Row]] = {name: [] for name in planners}
    print("processor seconds, work, points by layer (reached>bound where not proved); ratios are new to old")
    for case in cases(given):
        folder = kept(case, given.keep)
        for name, planner in planners.items():
            row = apart(planner, folder, case, given)
            if given.again:
                row["same"] = row.get("bytes") == apart(planner, folder, case, given).get("bytes")
            rows[name].append(row)
        said = " | ".join(f"{name} {cell(here[-1])}" for name, here in rows.items())
        if given.old:
            new, old = (rows[name][-1] for name in ("new", "old"))
            worse = " WORSE" if new.get("points", [sys.maxsize]) > old.get("points", [sys.maxsize]) else ""
            said += f" | x{new['draft'] / old['draft']:.2f}{worse}"
        print(f"{case} | {said}", flush=True)
    for name, here in rows.items():
        print(summary(name, here))
    if given.old:
        ratios = [n["draft"] / o["draft"] for n, o in zip(rows["new"], rows["old"], strict=True)]
        print(f"new to old: median {median(ratios):.2f}, worst {max(ratios):.2f}")


if __name__ == "__main__":
    main()
