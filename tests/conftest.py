"""What holds for all tests: every week that one of them has written out is measured a second time."""

from __future__ import annotations

import functools
import json
from collections import OrderedDict
from collections.abc import Callable
from typing import Any

from planner.weeks import written as steps
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


def by_hand(problem: Any) -> frozenset[str]:
    """Days that a coach wrote, for which any dose will do."""
    return frozenset(s.day for s in problem.requests.by_hand)


def held(write: Callable[..., Any]) -> Callable[..., Any]:
    """The step that writes a week out, with the second measurement behind it."""

    @functools.wraps(write)
    def writes(problem: Any, *args: Any, **more: Any) -> Any:
        week = write(problem, *args, **more)
        history = [json.loads(w.model_dump_json()) for w in problem.history]
        hold_to(data_of(problem), json.loads(week.model_dump_json()), history, by_hand(problem))
        return week

    return writes


steps.written_week = held(steps.written_week)  # before any test has taken it from there
