"""Sessions by hand against the second measurement: doses, times, minutes, equipment, loads."""

from __future__ import annotations

import json
from functools import cache

import pytest

from planner.domain.week import Session
from planner.language import read_sessions, vocabulary_of
from planner.prescribe.session import Writer, write_session
from planner.problem.written import planned
from tests.by_hand.texts import TEXTS
from tests.measured.composed import composed_faults
from tests.measured.data import Data, Tree, from_files
from tests.measured.hold import ROOT
from tests.solve.demo import folder, shipped


@cache
def data() -> Data:
    """The files, with the gym floor as the only kit."""
    made = from_files(folder(), ROOT / "shared", ROOT / "constraints")
    made.gym["kits"] = made.gym["kits"][:1]
    return made


def written(text: str) -> Session:
    """The day on the gym floor, written out without a draft around it."""
    catalogue, gym, _ = shipped()
    (session,) = read_sessions(text, vocabulary_of(catalogue, gym))
    floor = gym.model_copy(update={"kits": gym.kits[:1]})
    plan = planned(session, catalogue, gym)
    alone = [p.model_copy(update={"versions": {"floor": p.versions["floor"]}}) for p in plan.pieces]
    plan = plan.model_copy(update={"pieces": tuple(alone)})
    return write_session(plan, "2026-12-02", 2, Writer(catalogue, floor))


def as_file(session: Session) -> Tree:
    return dict(json.loads(session.model_dump_json()))


@pytest.mark.parametrize("name", TEXTS)
def test_a_session_by_hand_is_as_it_says(name: str) -> None:
    day = as_file(written(TEXTS[name]))
    assert not list(composed_faults(data(), {"sessions": [day]}))


def changed(day: Tree, what: str) -> None:
    """Change one thing in a written day."""
    piece = next(p for p in day["pieces"] if p["composition"])
    line = piece["versions"]["floor"]["lines"][1]
    if what == "total":
        line["total"] += 1
    elif what == "dose":
        line["dose"]["value"] += 1
    elif what == "minutes":
        piece["minutes"] += 1
    elif what == "typical":
        piece["versions"]["floor"]["prediction"]["typical"] += 1
    elif what == "load":
        line["loads"][0]["kg"] += 1
    elif what == "clock":
        day["clock"][2]["start_minute"] += 1
    elif what == "sets":
        next(p for p in day["pieces"] if p["kind"] == "strength")["minutes"] += 1


@pytest.mark.parametrize("what", ["total", "dose", "minutes", "typical", "load", "clock", "sets"])
def test_what_is_changed_is_found(what: str) -> None:
    day = as_file(written(TEXTS["interleaved rounds"]))
    assert not list(composed_faults(data(), {"sessions": [day]}))
    changed(day, what)
    assert list(composed_faults(data(), {"sessions": [day]}))
