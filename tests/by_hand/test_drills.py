"""A warm-up and a cool-down as a coach wrote them: drills, minutes and notes are on every sheet."""

from __future__ import annotations

from functools import cache

import pytest

from planner.audit.reading import plan_of
from planner.domain.week import Piece, Session, Week
from planner.language import read_sessions, vocabulary_of, write_sessions
from planner.prescribe.session import Writer, write_session
from planner.problem.written import planned, said
from planner.render.brief import brief_html
from planner.render.html import week_html
from planner.render.member import member_html
from planner.render.week_print import week_print_html
from tests.render.sample_week import sample_dict
from tests.solve.demo import shipped

DAY = "Wednesday\n{}conditioning: 5 rounds for time\n  10 burpee\n{}"


@cache
def written(before: str, after: str = "") -> Session:
    """The day, written out; every kit does what the gym floor does."""
    catalogue, gym, _ = shipped()
    (session,) = read_sessions(DAY.format(before, after), vocabulary_of(catalogue, gym))
    plan = planned(session, catalogue, gym)
    everywhere = tuple(
        p.model_copy(update={"versions": dict.fromkeys((k.id for k in gym.kits), p.versions["floor"])})
        for p in plan.pieces
    )
    plan = plan.model_copy(update={"pieces": everywhere})
    return write_session(plan, "2026-12-02", 2, Writer(catalogue, gym))


def warm_up(before: str) -> Piece:
    return written(before).pieces[0]


@pytest.mark.parametrize(
    ("text", "how"),
    [
        ("warm-up: 8 min\n  easy row\n", "8 minutes: easy row"),
        ("warm-up: 8 min\n  easy row\n  note: in shoes\n", "8 minutes: easy row. in shoes"),
        ("warm-up, note: in shoes\n  easy row.\n  hangs.\n", "easy row.; hangs. in shoes"),
        ("warm-up\n  row\nwarm-up: 3 min\n  hangs\n  note: in shoes\n", "3 minutes: row; hangs. in shoes"),
    ],
)  # fmt: skip
def test_drills_and_the_note_beside_them_are_printed(text: str, how: str) -> None:
    assert (warm_up(text).how, warm_up(text).drills) == (how, ())


def test_a_note_without_drills_stands_beside_the_usual_ones() -> None:
    usual, noted = warm_up(""), warm_up("warm-up: 8 min\n  note: in shoes\n")
    assert noted.drills == usual.drills
    assert noted.how == f"{usual.how.rstrip('.')}. in shoes"


def test_the_note_is_on_every_sheet_that_has_the_warm_up() -> None:
    session = written("warm-up\n  easy row\n  note: in shoes\n", "cool-down\n  hangs\n  note: on the mat\n")
    tree = sample_dict()
    tree["sessions"][0]["pieces"][0] = session.pieces[0].model_dump()
    tree["sessions"][0]["pieces"][-1] = session.pieces[-1].model_dump()
    week = Week.model_validate(tree)
    day, kit = week.sessions[0].day, week.kits[0].id
    pages = week_html(week), week_print_html(week), brief_html(week, day), member_html(week, kit)
    assert [note in page for page in pages for note in ("in shoes", "on the mat")] == [True] * 8


def test_the_note_is_read_back_from_the_week_and_its_text() -> None:
    catalogue, gym, _ = shipped()
    session = written("warm-up\n  easy row\n  note: in shoes\n")
    week = Week.model_validate(
        sample_dict() | {"sessions": [session.model_dump()], "kits": [
            {"id": kit.id, "name": kit.name, "contains": ""} for kit in gym.kits
        ]}
    )  # fmt: skip
    (plan,) = plan_of(week).sessions
    text = write_sessions([said(plan, catalogue)], vocabulary_of(catalogue, gym))
    assert "warm-up\n  easy row\n  note: in shoes\n" in text
