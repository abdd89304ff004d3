"""Runs the table: ``python -m tests.mutants [--only ROOM ...] [--jobs N] [--seconds S] [--list]``."""

from __future__ import annotations

import argparse
import contextlib
import os
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tests.mutants.fault import Fault
from tests.mutants.rooms import ROOMS

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("planner", "tests", "constraints", "templates", "shared", "docs")
LONGEST = 300
"""Seconds that one fault's tests may take before they count as hanging."""
WANTED_PERCENT = 95
PASSED, FAILED, INTERRUPTED, BROKEN_OFF = 0, 1, 2, 99


@dataclass
class Job:
    """A copy of the tree in which one fault at a time is tried.

    Attributes:
        folder: the copy.
        pid: of the tests that are running; 0 where none are.
        fault: that they look for; None for the tree as it is.
        tests: that run.
        before: text of the changed file.
        since: when they began.
        edits: how many there were, so that no two versions of a file have one time.
    """

    folder: Path
    pid: int = 0
    fault: Fault | None = None
    tests: str = ""
    before: str = ""
    since: float = 0
    edits: int = field(default_factory=lambda: int(time.time()))

    def start(self, tests: str, fault: Fault | None) -> None:
        """Puts a fault in and runs tests in a process of its own."""
        self.tests, self.fault, self.since = tests, fault, time.monotonic()
        if fault is not None:
            self.before = fault.put_into(self.folder)
            self._touch(fault)
        self.pid = os.fork()
        if self.pid == 0:
            run_tests(self.folder, tests.split())

    def ended(self) -> int | None:
        """Exit status of the tests, and the tree as it was; None while they run, -1 where they hang."""
        pid, status = os.waitpid(self.pid, os.WNOHANG)
        code = os.waitstatus_to_exitcode(status) if pid else None
        if code is None and time.monotonic() - self.since > LONGEST:
            os.killpg(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
            code = -1
        if code is not None and self.fault is not None:
            (self.folder / self.fault.file).write_text(self.before, encoding="utf-8")
            self._touch(self.fault)
        return code

    def _touch(self, fault: Fault) -> None:
        """Gives the file a time that none of its versions had, since compiled code is kept by it."""
        self.edits += 2
        os.utime(self.folder / fault.file, (self.edits, self.edits))


def run_tests(folder: Path, tests: list[str]) -> None:
    """In a process of its own: pytest over the copy, said to nobody; never returns."""
    os.setsid()
    os.chdir(folder)
    for name in [n for n in sys.modules if n.split(".")[0] in {"planner", "tests"}]:
        del sys.modules[name]
    sys.path[:] = [str(folder), *(p for p in sys.path if Path(p or ".").resolve() != ROOT)]
    os.environ["PYTHONPATH"] = str(folder)
    with Path(os.devnull).open("w", encoding="utf-8") as nowhere:
        if not os.environ.get("MUTANTS_ALOUD"):
            os.dup2(nowhere.fileno(), 1)
            os.dup2(nowhere.fileno(), 2)
        code = BROKEN_OFF
        with contextlib.suppress(BaseException):
            import pytest

            plain = ["-n", "0", "-p", "no:randomly", "-p", "no:cacheprovider", "-x", "-q", "-m", "not fifty"]
            code = int(pytest.main([*plain, *tests]))
        os._exit(code)


def preload() -> None:
    """What every run needs and no fault touches is imported once, before the processes part."""
    for name in ("pydantic", "yaml", "ortools.sat.python.cp_model", "networkx", "jinja2",
                 "sqlalchemy", "typer.testing", "rich", "icalendar"):  # fmt: skip
        __import__(name)


def copies(where: Path, jobs: int) -> list[Job]:
    """So many copies of the tree."""
    made = []
    for number in range(jobs):
        folder = where / str(number)
        folder.mkdir()
        for name in COPIED:
            shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        for path in ROOT.iterdir():
            if path.is_file():
                shutil.copy(path, folder / path.name)
        made.append(Job(folder))
    return made


def results(
    jobs: list[Job], work: list[tuple[Fault | None, list[str]]]
) -> Iterator[tuple[Fault | None, int, float]]:
    """Each piece of work with its exit status and seconds, as they end."""
    waiting = list(work)
    while waiting or any(j.pid for j in jobs):
        for job in jobs:
            if job.pid and (code := job.ended()) is not None:
                job.pid = 0
                yield job.tests, job.fault, code, time.monotonic() - job.since
            if not job.pid and waiting:
                job.start(*waiting.pop(0))
        time.sleep(0.05)


def main(words: list[str]) -> int:
    """Prints the table; 1 where less than what is wanted was noticed."""
    asks = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    asks.add_argument("--only", nargs="*", choices=[*ROOMS], default=[*ROOMS], help="rooms")
    asks.add_argument("--grep", default="", help="only faults with this text in file, edit or tests")
    asks.add_argument("--jobs", type=int, default=2, help="at once")
    asks.add_argument("--seconds", type=int, default=3600, help="no fault is begun after so long")
    asks.add_argument("--list", action="store_true", help="say what there is, and try nothing")
    given = asks.parse_args(words)
    faults = [(room, f) for room in given.only for f in ROOMS[room]]
    faults = [(room, f) for room, f in faults if given.grep in f"{f.file}|{f.old}|{f.new}|{f.tests}"]
    stale = [f for _, f in faults if not f.is_there(ROOT)]
    faults = [(room, f) for room, f in faults if f not in stale]
    for f in stale:
        print(f"stale: {f.file} does not have once: {one_line(f.old)}")
    if given.list:
        for room, f in faults:
            print(row(room, f, "", 0.0))
        print(f"{len(faults)} faults in {len({room for room, _ in faults})} rooms")
        return 0
    return tried(faults, given.jobs, given.seconds) or bool(stale)


def tried(faults: list[tuple[str, Fault]], jobs: int, seconds: int) -> int:
    """Tries the faults and says how many were noticed."""
    preload()
    room_of, began = {id(f): room for room, f in faults}, time.monotonic()
    missed, unsure, noticed, unseen = [], [], 0, []
    with tempfile.TemporaryDirectory(prefix="mutants-") as where:
        made = copies(Path(where), jobs)
        sound = dict.fromkeys(f.tests for _, f in faults)
        for tests, _, code, _ in results(made, [(t, None) for t in sound]):
            if code != PASSED:
                print(f"{tests}: exit {code} without any fault, so that the table would mean nothing.")
                return 2
        for _, fault, code, took in results(made, [(f.tests, f) for _, f in faults]):
            assert fault is not None
            if code in {FAILED, INTERRUPTED, -1}:
                said, noticed = "noticed", noticed + 1
            elif fault.unseen:
                said = "unseen"
                unseen.append(fault)
            elif code == PASSED:
                said = "MISSED"
                missed.append(fault)
            else:
                said = f"exit {code}"
                unsure.append(fault)
            print(row(room_of[id(fault)], fault, said, took), flush=True)
            if time.monotonic() - began > seconds:
                print("The time is up; what is running is not waited for.")
                break
    whole = noticed + len(missed) + len(unsure) + len(unseen)
    print(f"{noticed} of {whole} faults noticed ({100 * noticed // max(1, whole)} %).")
    for fault in unseen:
        print(f"Not noticed, and why: {fault.file}: {one_line(fault.new)}: {fault.unseen}")
    for fault in missed:
        print(f"Missed: {fault.file}: {one_line(fault.old)} -> {one_line(fault.new)}")
    return 0 if 100 * noticed >= WANTED_PERCENT * whole else 1


def row(room: str, fault: Fault, said: str, took: float) -> str:
    """A line of the table."""
    what = f"{one_line(fault.old)} -> {one_line(fault.new)}"
    return f"{said:8} {took:5.1f} s  {room:9} {fault.file.removeprefix('planner/'):30} {what}"


def one_line(text: str) -> str:
    """A text without its breaks, cut short."""
    joined = " ".join(text.split())
    return joined if len(joined) <= 60 else joined[:57] + "..."


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
