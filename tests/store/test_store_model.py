"""The store against a plain model of it, lists in memory, with other processes that are killed meanwhile."""

from __future__ import annotations

import atexit
import json
import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from planner.domain.record import LogEntry, WeekState
from planner.domain.requests import Ban, Lock, Requests, Wish
from planner.errors import DataError
from planner.store.database import problems
from planner.store.store import open_store
from planner.store.transfer import export_gym, import_gym
from tests.store.small import MEMORY, put, state_of
from tests.store.test_processes import said, start, tell

WEEKS = ("2026-W48", "2026-W49", "2027-W01")
week_names = st.sampled_from(WEEKS)
requests = st.sampled_from(
    [
        Requests(),
        Requests(locks=(Lock(day="thu", part="day"),)),
        Requests(bans=(Ban(movement="push_up"),), locks=(Lock(day="tue", part="property", pattern="hinge"),)),
        Requests(
            locks=(Lock(day="tue", part="property", pattern="pull"),),
            wishes=(Wish(pattern="legs", day="mon"),),
        ),
    ]
)
logs = st.dictionaries(
    st.sampled_from(["thu", "mon", "tue"]),
    st.builds(
        LogEntry,
        status=st.sampled_from(["done", "skipped"]),
        rating=st.none() | st.floats(0, 10),
        note=st.text(st.characters(codec="utf-8"), max_size=5),
    ),
    max_size=2,
)


class PlainWeek:
    """What a store should be, for one week: a list behind, a list ahead, and all that ever was."""

    def __init__(self, week: str) -> None:
        self.behind: list[WeekState] = []
        self.now = WeekState(week=week)
        self.ahead: list[WeekState] = []
        self.verbs: list[str] = []
        self.all: list[WeekState] = []

    def commit(self, state: WeekState, verb: str) -> None:
        if state == self.now:
            return
        self.behind.append(self.now)
        self.now = state
        self.ahead = []
        self.verbs.append(verb)
        self.all.append(state)

    def undo(self) -> bool:
        if not self.behind:
            return False
        self.ahead.append(self.now)
        self.now = self.behind.pop()
        return True

    def redo(self) -> bool:
        if not self.ahead:
            return False
        self.behind.append(self.now)
        self.now = self.ahead.pop()
        return True


@cache
def nursery() -> subprocess.Popen[str]:
    """One for all runs."""
    process = start("nursery")
    said_by(process, "ready")
    atexit.register(process.communicate)
    return process


def said_by(process: subprocess.Popen[str], *words: str) -> str:
    word = said(process)
    assert word.startswith(words), word
    return word


class StoreMachine(RuleBasedStateMachine):
    @initialize()
    def begin(self) -> None:
        self.folder = Path(tempfile.mkdtemp(dir=MEMORY))
        self.model = {week: PlainWeek(week) for week in WEEKS}
        self.store = open_store(self.folder)

    def teardown(self) -> None:
        if hasattr(self, "store"):
            self.store.close()
            shutil.rmtree(self.folder)

    @rule(
        week=week_names,
        marks=st.lists(st.integers(1, 4), max_size=3),
        chooses=st.booleans(),
        asked=requests,
        log=logs,
        verb=st.text(st.characters(codec="utf-8"), max_size=12),
    )
    def commit(self, *, week, marks, chooses, asked, log, verb) -> None:
        state = state_of(week, *marks, chosen="A" if chooses and marks else None)
        state = state.model_copy(update={"requests": asked, "log": log})
        assert put(self.store, state, verb) == state
        self.model[week].commit(state, verb)
        assert self.store.seen(week) == self.store.head(week)

    @rule(week=week_names, marks=st.lists(st.integers(1, 4), min_size=1, max_size=3))
    def commit_elsewhere(self, week: str, marks: list[int]) -> None:
        """Through a second connection of this process, while the first is open."""
        with open_store(self.folder) as other:
            put(other, state_of(week, *marks), "elsewhere")
        self.model[week].commit(state_of(week, *marks), "elsewhere")

    @rule(week=week_names, marks=st.lists(st.integers(1, 4), max_size=3), kill_at=st.integers(1, 400))
    def killed(self, week: str, marks: list[int], kill_at: int) -> None:
        """A process that is killed at a step of a change, or has made it before, while this one is open."""
        verb = f"killed at {kill_at}"
        wanted = {"week": week, "marks": marks, "verb": verb, "kill_at": kill_at}
        tell(nursery(), json.dumps({"folder": str(self.folder), **wanted}))
        said_by(nursery(), "pid")
        if said_by(nursery(), "kept", "dead") == "kept":
            self.model[week].commit(state_of(week, *marks), verb)
            said_by(nursery(), "dead")
        assert problems(self.folder / "planner.db") == ()

    @rule(week=week_names)
    def undo(self, week: str) -> None:
        if self.model[week].undo():
            assert self.store.undo(week) == self.model[week].now
        else:
            with pytest.raises(DataError, match="nothing to undo"):
                self.store.undo(week)

    @rule(week=week_names)
    def redo(self, week: str) -> None:
        if self.model[week].redo():
            assert self.store.redo(week) == self.model[week].now
        else:
            with pytest.raises(DataError, match="nothing to redo"):
                self.store.redo(week)

    @rule()
    def reopen(self) -> None:
        self.store.close()
        self.store = open_store(self.folder)

    @rule()
    def move_house(self) -> None:
        """The store goes on in another folder, through an export."""
        self.store.close()
        text = export_gym(self.folder)
        other = Path(tempfile.mkdtemp(dir=MEMORY))
        import_gym(text, other)
        assert export_gym(other) == text
        shutil.rmtree(self.folder)
        self.folder = other
        self.store = open_store(other)

    @invariant()
    def agrees(self) -> None:
        if not hasattr(self, "store"):
            return
        for week, plain in self.model.items():
            assert self.store.state(week) == plain.now
            history = self.store.history(week)
            assert [revision.verb for revision in history] == plain.verbs
        assert self.store.weeks() == tuple(week for week in WEEKS if self.model[week].verbs)

    @rule(week=week_names, limit=st.integers(0, 3))
    def past(self, week: str, limit: int) -> None:
        chosen = [
            plain.now.candidates[0].week
            for name, plain in reversed(self.model.items())
            if name < week and plain.now.chosen
        ]
        assert self.store.chosen_before(week, limit) == tuple(chosen[:limit])

    @rule(week=week_names)
    def nothing_is_lost(self, week: str) -> None:
        history = self.store.history(week)
        known = set()
        for revision, state in zip(history, self.model[week].all, strict=True):
            assert self.store.state_at(week, revision.id) == state
            assert revision.parent is None or revision.parent in known
            known.add(revision.id)


StoreMachine.TestCase.settings = settings(
    max_examples=20,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
TestStoreMachine = StoreMachine.TestCase
