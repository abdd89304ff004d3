"""A gym as the version before kept it, made by that version: it opens, prints, audits and counts as history.

``before/export.json.gz`` and ``before/store.sqlite`` are one gym, two of whose weeks were drafted then and a
third begun with a session by hand; one week is in its ``history/`` too. They are never made anew.
"""

from __future__ import annotations

import gzip
import shutil
from functools import cache
from pathlib import Path

import pytest

from planner.audit.as_written import AS_WRITTEN, ORIGIN
from planner.audit.audit import STRUCTURE
from planner.audit.by_hand import minded
from planner.audit.reading import plan_of
from planner.domain.week import Week
from planner.language import read_sessions, vocabulary_of
from planner.problem.written import planned
from planner.render.sheets import sheets
from planner.store.database import FILE_NAME
from planner.store.store import open_store
from planner.store.transfer import export_gym, import_gym
from planner.weeks.audit import audit_file
from planner.weeks.board import board
from planner.weeks.known import catalogue_and_gym
from planner.weeks.setting import load_setting, setting_of

BEFORE = Path(__file__).parent / "before"
FIRST, SECOND, THIRD, NEXT = (f"2026-W{number}" for number in (46, 47, 48, 49))


@cache
def exported() -> str:
    return gzip.decompress((BEFORE / "export.json.gz").read_bytes()).decode()


@pytest.fixture
def gym(tmp_path: Path) -> Path:
    """The gym, from its export."""
    import_gym(exported(), tmp_path / "gym", catalogue_and_gym)
    return tmp_path / "gym"


def chosen(gym: Path, week: str) -> Week:
    with open_store(gym) as store:
        state = store.state(week)
    return next(c.week for c in state.candidates if c.name == state.chosen)


def test_an_export_opens_and_is_exported_to_the_letter(gym: Path) -> None:
    assert export_gym(gym) == exported()


def test_a_store_opens_and_holds_what_the_export_says(gym: Path, tmp_path: Path) -> None:
    store_alone = tmp_path / "other"
    store_alone.mkdir()
    shutil.copy(BEFORE / "store.sqlite", store_alone / FILE_NAME)
    with open_store(store_alone) as old, open_store(gym) as imported:
        assert old.weeks() == imported.weeks() == (FIRST, SECOND, THIRD)
        assert [old.state(week) for week in old.weeks()] == [imported.state(week) for week in old.weeks()]
        state = old.state(SECOND)
    assert [ban.movement for ban in state.requests.bans] == ["burpee"]
    assert [(lock.day, lock.part) for lock in state.requests.locks] == [("mon", "strength")]


@pytest.mark.parametrize("week", [FIRST, SECOND])
def test_its_weeks_are_printed(gym: Path, week: str) -> None:
    kept = chosen(gym, week)
    setting = load_setting(gym, week)
    files = sheets(kept, "demo", gym=setting.gym, catalogue=setting.catalogue)
    page = files["week.html"].decode().casefold()
    lines = [x for s in kept.sessions for p in s.pieces for v in p.versions.values() for x in v.lines]
    assert len(lines) > 20
    assert not [x.name for x in lines if x.name.casefold() not in page]
    assert {f"wall-{s.day}.html" for s in kept.sessions} <= files.keys()


@pytest.mark.parametrize("week", [FIRST, SECOND])
def test_its_weeks_as_text_say_the_same(gym: Path, week: str) -> None:
    kept = chosen(gym, week)
    catalogue, its = catalogue_and_gym(gym)
    sessions = read_sessions(board(kept, gym), vocabulary_of(catalogue, its))
    for session, before in zip(sessions, plan_of(kept).sessions, strict=True):
        again = planned(session, catalogue, its)
        lines = [x for p in before.pieces for x in p.versions["floor"]]
        assert [x.movement for p in again.pieces for x in p.versions["floor"]] == [x.movement for x in lines]


@pytest.mark.parametrize("week", [FIRST, SECOND])
def test_its_weeks_are_audited(gym: Path, week: str) -> None:
    """Rules and catalogue may ask more since; the file holds together, and it is told from one of now."""
    results = {r.id: r for r in audit_file(chosen(gym, week), setting_of(gym, week).problem())}
    assert (results[AS_WRITTEN].measure, results[ORIGIN].measure) == (0, 1)
    assert STRUCTURE in results
    assert len(results) > 30


def test_its_weeks_count_as_history(gym: Path) -> None:
    setting = setting_of(gym, NEXT)
    assert [week.week for week in setting.history] == [SECOND, FIRST]
    again = plan_of(setting.history[0]).sessions[0]
    with_past, without = (set(minded(s.problem(), again)) for s in (setting, load_setting(gym, NEXT, ())))
    assert with_past > without, "the same session once more is minded for what was there before"


def test_a_week_in_the_history_folder_alone_counts_too(gym: Path) -> None:
    (gym / FILE_NAME).unlink()
    assert [week.week for week in setting_of(gym, NEXT).history] == [FIRST]


def test_a_session_by_hand_of_before_is_kept(gym: Path) -> None:
    with open_store(gym) as store:
        asked = store.state(THIRD).requests
    (session,) = asked.by_hand
    assert [p.kind for p in session.pieces] == ["strength", "conditioning"]
    assert [x.movement for p in session.pieces for x in p.versions["floor"]] == [
        "front_squat", "burpee", "air_squat", "sit_up",
    ]  # fmt: skip
    problem = setting_of(gym, THIRD).asking(asked).problem()
    assert minded(problem, session)
