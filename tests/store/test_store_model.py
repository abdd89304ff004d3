"""The store against a plain model of it: lists in memory."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from planner.domain.record import LogEntry, WeekState
from planner.domain.requests import Ban, Lock, Requests, Wish
from planner.errors import DataError
from planner.store.store import open_store
from planner.store.transfer import export_gym, import_gym
from tests.store.small import state_of

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


class StoreMachine(RuleBasedStateMachine):
    @initialize()
    def begin(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
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
        self.store.state(week)
        revision = self.store.commit(week, state, verb)
        self.model[week].commit(state, verb)
        assert self.store.head(week) == revision.id

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
        other = Path(tempfile.mkdtemp())
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
