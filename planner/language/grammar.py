"""The grammar of one line, from ``session.lark``, and what is said where a line does not fit it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any, Literal, get_args

from lark import Lark, Token, Tree, UnexpectedInput
from lark.exceptions import UnexpectedToken
from lark.lexer import Lexer

from planner.domain.words import listed
from planner.language.phrases import in_words
from planner.language.text_line import TextLine
from planner.language.tokens import UNKNOWN, Brackets, tokens
from planner.language.vocabulary import Vocabulary

GRAMMAR = Path(__file__).with_name("session.lark")
Start = Literal["heading", "lift_line", "work_line", "text"]
STARTS: tuple[Start, ...] = get_args(Start)
MOST_NAMED = 6
_LESS_LIKELY = {"NOTE", "SEP", "NUMBERS", "GROWING", "KM", "SEC", "AS", "SCHEME", "LPAR"}


class Ungrammatical(Exception):  # noqa: N818  (says a fault of a text)
    """A line that is not of the language.

    Attributes:
        token: where it stops making sense; None at its end.
        expected: terminals that would be right there.
    """

    def __init__(self, token: Token | None, expected: Iterable[str] = ()) -> None:
        super().__init__()
        self.token, self.expected = token, tuple(sorted(expected))

    def __str__(self) -> str:
        """What is wrong and what would be right."""
        if self.token is not None and self.token.type == "MOVEMENT" and "SEP" in self.expected:
            return "a second movement needs a comma before its number, or a line of its own"
        names = [t for t in self.expected if t not in _LESS_LIKELY] or list(self.expected)
        right = listed(list(dict.fromkeys(map(in_words, names)))[:MOST_NAMED])
        found = "the line ends too early" if self.token is None else "this does not fit here"
        return f"{found}; right would be, for instance, {right}" if right else found


class _Ready(Lexer):
    """Hands on tokens that are made already."""

    def __init__(self, _: Any) -> None:
        """Nothing to set up."""

    def lex(self, data: Any) -> Iterator[Token]:  # type: ignore[override]
        """The tokens themselves."""
        yield from data


@cache
def parser() -> Lark:
    """The parser, made once."""
    return Lark(
        GRAMMAR.read_text(encoding="utf-8"),
        parser="lalr",
        lexer=_Ready,
        start=list(STARTS),
        maybe_placeholders=False,
    )


def parsed(found: list[Token], start: Start) -> Tree[Token]:
    """A line's tokens as a tree.

    Raises:
        Ungrammatical: they are not of the language.
    """
    unknown = next((token for token in found if token.type == UNKNOWN), None)
    if unknown is not None:
        raise Ungrammatical(unknown)
    try:
        return parser().parse(found, start=start)
    except UnexpectedToken as error:
        at_end = error.token.type == "$END"
        raise Ungrammatical(None if at_end else error.token, error.accepts or error.expected) from None
    except UnexpectedInput:
        raise Ungrammatical(found[-1] if found else None) from None


def tree_of(line: TextLine, start: Start, vocabulary: Vocabulary) -> tuple[Tree[Token], str]:
    """A line as a tree, and what it says aside in brackets.

    What stands in brackets is read as a part of the line where it can be, and as a note where it cannot.

    Raises:
        Ungrammatical: the line is not of the language, even without what stands in brackets.
    """
    if "(" not in line.plain[line.start : line.note]:
        return parsed(tokens(line, vocabulary), start), ""
    ways: tuple[Brackets, ...] = ("signs", "commas")
    for brackets in ways:
        try:
            return parsed(tokens(line, vocabulary, brackets), start), ""
        except Ungrammatical:
            continue
    return parsed(tokens(line, vocabulary, "aside"), start), line.aside
