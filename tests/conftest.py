"""What holds for all tests: every week that one of them has written out is measured a second time.

And what they share: a template is compiled once, in however many copies of the folders it is read, and a
week that many look at is drafted once.
"""

from __future__ import annotations

import functools
import json
import os
from collections import OrderedDict
from collections.abc import Callable
from typing import Any

import pytest
from jinja2 import BytecodeCache, Environment
from jinja2.bccache import Bucket

from planner.render import html
from planner.weeks import written as steps
from tests import once
from tests.measured.data import Data, from_values
from tests.measured.hold import hold_to

MOST_KEPT = 8
_data: OrderedDict[int, tuple[Any, Data]] = OrderedDict()
"""By the identity of a catalogue, which is kept so that it stays one of its own."""


def data_of(problem: Any) -> Data:
    """What a problem was made from, as plain dictionaries; a catalogue is dumped once."""
    key = id(problem.catalogue)
    if key not in _data:
        _data[key] = problem.catalogue, from_values(problem.catalogue, problem.gym, ())
    while len(_data) > MOST_KEPT:
        _data.popitem(last=False)
    return _data[key][1].with_gym(problem.gym, problem.rules)


def by_hand(problem: Any, plan: Any) -> frozenset[str]:
    """Days for which any dose will do: those that a coach wrote, and pieces that stayed as they were."""
    kept = {s.day for s in problem.requests.by_hand}
    for session in plan.sessions:
        base = problem.base_session(session.day)
        pieces = [next(iter(s.versions.values())).conditioning for s in (session, base) if s]
        if len(pieces) > 1 and pieces[0] == pieces[1]:
            kept.add(session.day)
    return frozenset(kept)


def held(write: Callable[..., Any]) -> Callable[..., Any]:
    """The step that writes a week out, with the second measurement behind it."""

    @functools.wraps(write)
    def writes(problem: Any, plan: Any, *args: Any, **more: Any) -> Any:
        week = write(problem, plan, *args, **more)
        history = [json.loads(w.model_dump_json()) for w in problem.history]
        hold_to(data_of(problem), json.loads(week.model_dump_json()), history, by_hand(problem, plan))
        return week

    return writes


steps.written_week = held(steps.written_week)  # before any test has taken it from there


class Compiled(BytecodeCache):
    """Templates by name, as long as their source is the same."""

    def __init__(self) -> None:
        self.known: dict[tuple[str, str], bytes] = {}

    def get_cache_key(self, name: str, _filename: str | None = None) -> str:
        return name

    def load_bytecode(self, bucket: Bucket) -> None:
        code = self.known.get((bucket.key, bucket.checksum))
        if code is not None:
            bucket.bytecode_from_string(code)

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.known[bucket.key, bucket.checksum] = bucket.bytecode_to_string()


html.Environment = functools.partial(Environment, bytecode_cache=Compiled())


@pytest.fixture(scope="session", autouse=True)
def _weeks_of_this_run(tmp_path_factory: pytest.TempPathFactory) -> None:
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if os.environ.get("PYTEST_XDIST_WORKER") else own) / "weeks"
    folder.mkdir(exist_ok=True)
    once.FOLDERS.append(folder)
