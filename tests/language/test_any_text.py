"""Whatever is pasted, it is read or refused in words, in time that grows as the text does."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.domain.written import WrittenSession
from planner.errors import DataError
from planner.language import grammar, read_sessions, write_session
from planner.language import tokens as made_tokens
from planner.language.files import sessions_in
from planner.language.phrases import said_words
from tests.language import texts
from tests.language.names import shipped
from tests.language.often import OFTEN, VERY_OFTEN

SIGNS = (
    "4x6", "21-15-9", "2-4-6...", "10", "0", "999999999999999999999999", "1.5", "2:00", "90 s", "@", "%",
    "/", "+", "(", ")", ",", ":", ";", "kg", "x", "note:", "drill:", "\n", "\n", "\n  ", "Wednesday\n",
    "strength:",
    "conditioning:", "warm-up:", "one plate:", '"', "tempo 31X1", "×", "–", "\u00a0", "\t", "\r\n", "\x00",
    "\u2028", "İ", "ß", "٣", "½", "…",
)  # fmt: skip
NAMES = sorted(m.name for m in shipped().movements.values())
WORDS = st.sampled_from([*sorted(said_words().values()), *NAMES, *SIGNS])
WORDY = st.lists(WORDS, max_size=40).map(" ".join)
LINES = st.sampled_from([line for t in [*texts.sessions(), *texts.mistakes()] for line in t.text.split("\n")])


@st.composite
def near_texts(draw: st.DrawFn) -> str:
    """Lines of the corpus in any order, with characters changed here and there."""
    text = list("\n".join(["Monday", *draw(st.lists(LINES, max_size=12))]))
    for _ in range(draw(st.integers(0, 6))):
        at = draw(st.integers(0, len(text) - 1))
        text[at] = draw(st.sampled_from(["", " ", "\n", "0", "x", "-", ":", "(", "é"]) | st.characters())
    return "".join(text)


TEXTS = st.text(max_size=300) | WORDY | near_texts()


def is_read_or_refused(text: str) -> None:
    sessions: tuple[WrittenSession, ...] = ()
    said = "text"
    try:
        sessions = read_sessions(text, shipped())
    except DataError as refused:
        said = str(refused)
    assert said.startswith("text")
    for session in sessions:
        assert read_sessions(write_session(session, shipped()), shipped()) == (session,)


@OFTEN
@given(text=TEXTS)
def test_any_text(text: str) -> None:
    is_read_or_refused(text)


@pytest.mark.many
@VERY_OFTEN
@given(text=TEXTS)
def test_very_many_texts(text: str) -> None:
    is_read_or_refused(text)


@pytest.mark.parametrize(
    "line",
    [
        "1-" * 400,
        "((" * 400,
        "one " * 200,
        "a" * 900,
        "1" * 900,
        "front squat 4x6 then " * 40,
        '"' * 900,
        "- " * 400,
    ],
    ids=lambda line: line[:6],
)
def test_a_long_line(line: str) -> None:
    for heading in ("strength", "conditioning", "warm-up"):
        is_read_or_refused(f"Monday\n{heading}:\n{line}\n")


def test_too_long_a_text_is_said() -> None:
    with pytest.raises(DataError, match="at most"):
        read_sessions("Monday\n" + "conditioning: 3 rounds\n" * 20_000, shipped())


class Counted:
    """Calls of a function, and how much was handed to it."""

    def __init__(self, function: Any) -> None:
        self.function, self.calls, self.size = function, 0, 0

    def __call__(self, *args: Any) -> Any:
        self.calls += 1
        self.size += len(args[0]) if isinstance(args[0], list | str) else 1
        return self.function(*args)


def work_of(text: str, monkeypatch: pytest.MonkeyPatch) -> tuple[int, int, int]:
    """Parses, tokens parsed and looks at names that a text takes."""
    with monkeypatch.context() as patched:
        parses, names = Counted(grammar.parsed), Counted(made_tokens._longest)
        patched.setattr(grammar, "parsed", parses)
        patched.setattr(made_tokens, "_longest", names)
        is_read = len(read_sessions(text, shipped()))
    assert is_read == 1
    return parses.calls, parses.size, names.calls


def test_twice_the_text_is_twice_the_work(monkeypatch: pytest.MonkeyPatch) -> None:
    piece = "conditioning: 3 rounds for time\n  12 kettlebell swing (unbroken)\n  9 burpees, note: soft\n"
    once, twice, four = (work_of("Monday\n" + piece * n, monkeypatch) for n in (20, 40, 80))
    grown = [(b - a, c - b) for a, b, c in zip(once, twice, four, strict=True)]
    assert all(next_two == 2 * first for first, next_two in grown)


def test_a_text_of_mistakes_is_not_looked_up_to_its_end(monkeypatch: pytest.MonkeyPatch) -> None:
    looks = Counted(type(shipped()).nearest_three)
    monkeypatch.setattr(type(shipped()), "nearest_three", lambda names, word: looks(names, word))  # noqa: PLW0108  (a method)
    with pytest.raises(DataError, match=r"and \d+ more"):
        read_sessions("Monday\nconditioning: 3 rounds\n" + "  12 frobnicate\n" * 2000, shipped())
    assert looks.calls <= 42


KEYS = st.sampled_from([
    "day", "pieces", "versions", "notes", "kind", "lifts", "parts", "movement", "reps", "sets", "scheme",
    "composition", "clock", "rounds", "ladder", "lines", "dose", "drills", "kg", "note", "sessions",
    "one_plate",
    "One plate",
])  # fmt: skip
LEAVES = st.none() | st.booleans() | st.integers(-2, 9000) | st.floats(allow_nan=False) | st.sampled_from(
    ["mon", "strength", "conditioning", "warm_up", "for_time", "front squat", "frnt", "4x6", ""]
)  # fmt: skip
VALUES = st.recursive(
    LEAVES,
    lambda below: st.lists(below, max_size=3) | st.dictionaries(KEYS, below, max_size=5),
    max_leaves=12,
)


@settings(OFTEN, max_examples=100)
@given(value=st.dictionaries(KEYS, VALUES, max_size=5))
def test_any_value(value: dict[str, Any], tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.mktemp("any") / "session.json"
    path.write_text(json.dumps(value), encoding="utf-8")
    sessions: tuple[WrittenSession, ...] = ()
    said = str(path)
    try:
        sessions = sessions_in(path, shipped())
    except DataError as refused:
        said = str(refused)
    assert said.startswith(str(path))
    for session in sessions:
        assert read_sessions(write_session(session, shipped()), shipped()) == (session,)
