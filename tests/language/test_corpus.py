"""Sessions as coaches write them, and what they are told of mistakes."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from planner.domain.written import WrittenConditioning, WrittenSession, WrittenStrength
from planner.errors import DataError
from planner.language import read_sessions, write_session
from planner.language.grammar import parsed
from planner.language.reader import heading_of
from planner.language.text_line import line_of
from tests.language import texts
from tests.language.names import shipped
from tests.language.productions import productions, seen, text_tokens

SESSIONS, MISTAKES = texts.sessions(), texts.mistakes()


def read(text: texts.Text) -> WrittenSession:
    (session,) = read_sessions(text.text, shipped())
    return session


def test_there_are_enough() -> None:
    assert len(SESSIONS) >= 150
    assert len(MISTAKES) >= 40
    assert not [twice for twice, n in Counter(t.text for t in [*SESSIONS, *MISTAKES]).items() if n > 1]


@pytest.mark.parametrize("text", SESSIONS, ids=lambda text: text.name)
def test_it_is_written_in_the_fixed_form(text: texts.Text) -> None:
    """What stands below each text is what it says; a text with nothing below it is in the fixed form."""
    session = read(text)
    fixed = write_session(session, shipped())
    assert fixed == (text.said or text.text)
    assert read_sessions(fixed, shipped()) == (session,)


def without_heading(text: str) -> bool:
    """Whether a piece follows the day at once; the grammar of a whole text has no such."""
    line = line_of(2, f"{text}\n".split("\n")[1])
    return bool(line.said) and not heading_of(line, shipped())


def test_every_production_is_gone_through() -> None:
    whole = [text.text for text in SESSIONS if not without_heading(text.text)]
    assert len(SESSIONS) - len(whole) == 4
    with seen() as found:
        for text in whole:
            parsed(text_tokens(text), "text")
        parsed(text_tokens("\n".join(whole[:3])), "text")
    missing = productions() - found
    assert not missing, "\n".join(sorted(map(str, missing)))


def test_each_kind_of_everything_is_there() -> None:
    """The corpus has every clock, form, spot and way of sharing that the value has."""
    pieces = [
        p for text in SESSIONS for s in [read(text)] for p in (*s.pieces, *sum(s.versions.values(), ()))
    ]
    hows = [p.composition for p in pieces if isinstance(p, WrittenConditioning)]
    lines = [line for p in pieces if isinstance(p, WrittenConditioning) for line in p.lines]
    sets = [lift.sets for p in pieces if isinstance(p, WrittenStrength) for lift in p.lifts]
    assert {how.clock for how in hows} == {"for_time", "fixed", "every", "work_rest", "as_long"}
    assert {how.sharing for how in hows} == {"alone", "shared", "in_turn", "mirrored"}
    assert {how.result for how in hows} == {
        None, "time", "rounds", "load", "metres", "calories", "slowest", "sum",
    }  # fmt: skip
    assert {line.spot for line in lines} == {"opening", "turn", "after_each", "closing"}
    assert {each.form for each in sets} == {"across", "ascending", "waves", "back_off", "cluster", "find"}
    assert {piece.kind for piece in pieces} == {
        "strength", "skill", "conditioning", "finisher", "warm_up", "cool_down",
    }  # fmt: skip


@pytest.mark.parametrize("text", MISTAKES, ids=lambda text: text.name)
def test_each_mistake_is_said(text: texts.Text) -> None:
    with pytest.raises(DataError) as refused:
        read_sessions(text.text, shipped())
    lines = [line.removeprefix("text:").strip() for line in str(refused.value).split("\n")]
    assert lines == text.said.strip().split("\n")


def test_no_mistake_names_what_it_should_not() -> None:
    """Neither terminals, rules nor ids of the program."""
    inner = re.compile(r"\b[A-Z]{3,}\b|\b[a-z]+_[a-z_]+\b|Token|Tree|None")
    assert not [text.said for text in MISTAKES if inner.search(text.said)]
