"""What is written is read back to the same value, for sessions of every kind."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.domain.written import WrittenSession
from planner.language import read_sessions, write_session, write_sessions
from tests.language.generated import SESSIONS
from tests.language.names import shipped
from tests.language.often import OFTEN, VERY_OFTEN


def goes_round(session: WrittenSession) -> None:
    text = write_session(session, shipped())
    assert read_sessions(text, shipped()) == (session,), text


@OFTEN
@given(session=SESSIONS)
def test_any_session(session: WrittenSession) -> None:
    goes_round(session)


@pytest.mark.many
@VERY_OFTEN
@given(session=SESSIONS)
def test_very_many_sessions(session: WrittenSession) -> None:
    goes_round(session)


@settings(OFTEN, max_examples=20)
@given(week=st.lists(SESSIONS, min_size=1, max_size=4, unique_by=lambda session: session.day))
def test_any_week(week: list[WrittenSession]) -> None:
    assert read_sessions(write_sessions(week, shipped()), shipped()) == tuple(week)
