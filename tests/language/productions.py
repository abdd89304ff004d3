"""Which productions of the grammar a text goes through, seen as the parser reduces by them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from lark import Token

from planner.language.grammar import Ungrammatical, parsed, parser
from planner.language.reader import heading_of
from planner.language.text_line import TextLine, line_of
from planner.language.tokens import tokens
from tests.language.names import shipped

STARTS = {"WARM_UP": "drills", "COOL_DOWN": "drills", "STRENGTH": "lift_line", "SKILL": "lift_line"}


@contextmanager
def seen() -> Iterator[set[Any]]:
    """The productions by which is reduced within the block."""
    found: set[Any] = set()
    callbacks = parser().parser.parser.parser.callbacks
    before = dict(callbacks)

    def noting(rule: Any, callback: Any) -> Any:
        def call(children: Any) -> Any:
            found.add(rule)
            return callback(children)

        return call

    callbacks.update({rule: noting(rule, callback) for rule, callback in before.items()})
    try:
        yield found
    finally:
        callbacks.update(before)


def productions() -> set[Any]:
    """All of the grammar, without those that the library makes for its own start."""
    return {rule for rule in parser().parser.parser.parser.callbacks if not rule.origin.name.startswith("$")}


def text_tokens(text: str) -> list[Token]:
    """A whole text as one row of tokens, with the ends of lines, notes and drills, as the grammar has it."""
    found: list[Token] = []
    start = ""
    for number, raw in enumerate(text.replace("\t", " ").split("\n"), 1):
        if not raw.strip():
            continue
        line = line_of(number, raw)
        heading = heading_of(line, shipped())
        drills = start == "drills" and not heading and line.said
        if drills:
            found.append(_token("DRILL", line))
        elif heading == "KIT":
            found.append(_token("KIT", line))
            found += [_token("SEP", line)] * line.said.endswith(":")
        elif heading == "DAY":  # a date behind it is passed over
            found += [token for token in tokens(line, shipped()) if token.type in {"DAY", "SEP"}]
        elif line.said:
            found += line_tokens(line, "heading" if heading else start)
        if line.note_text and not drills:
            found.append(_token("NOTE", line))
        found.append(_token("END", line))
        if heading:
            start = STARTS.get(heading, "work_line")
    return found


def line_tokens(line: TextLine, start: Any) -> list[Token]:
    """The tokens of a line as they are read: with brackets as signs, as commas, or left out."""
    for brackets in ("signs", "commas", "aside"):
        found = tokens(line, shipped(), brackets)
        try:
            parsed(found, start)
        except Ungrammatical:
            continue
        return found
    raise AssertionError(line.raw)


def _token(kind: str, line: TextLine) -> Token:
    return Token(kind, line.raw, 0, line.number, 1)
