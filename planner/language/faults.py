"""What is wrong with a line of a text, and where in the line."""

from __future__ import annotations

import difflib
import re
from typing import TypeVar

from lark import Token, Tree
from pydantic import BaseModel, ValidationError

from planner.domain.words import listed
from planner.language.phrases import compact
from planner.language.vocabulary import Vocabulary
from planner.load.validate import fault_in_words

Model = TypeVar("Model", bound=BaseModel)
Node = Token | Tree[Token]
_POUNDS = {"lb", "lbs", "pound", "pounds"}
_TIME = re.compile("[0-9]+:[0-9]+")


class Amiss(Exception):  # noqa: N818  (says a fault of a text)
    """A line that can be read and cannot be meant.

    Attributes:
        where: the token or the part of the line; None for the whole line.
    """

    def __init__(self, where: Node | None, what: str) -> None:
        super().__init__(what)
        self.where = where


def made(model: type[Model], where: Node | None, **fields: object) -> Model:
    """A value, or what is wrong with it.

    Raises:
        Amiss: the value cannot be so.
    """
    try:
        return model(**fields)
    except ValidationError as error:
        raise Amiss(where, fault_in_words(model, error)) from None


def whole(token: Token, what: str = "this", least: int = 1, most: int = 5000) -> int:
    """A whole number in a range.

    Raises:
        Amiss: it is none, or out of the range.
    """
    number = float(token) if len(token) < 12 else float(most + 1)  # noqa: PLR2004  (more is too much anyway)
    if number != int(number) or not least <= number <= most:
        raise Amiss(token, f"{what} must be a whole number from {least} to {most}")
    return int(number)


def unknown_in_words(word: str, vocabulary: Vocabulary) -> str:
    """What is said of a word that is not known: the nearest right one, or the nearest three movements."""
    if word.lower() in _POUNDS:
        return "loads are written in kg; a pound is about 0.45 kg"
    if _TIME.fullmatch(word):
        return f'"{word}" is no time: seconds go up to 59, as in 2:45'
    if word[:1].isdigit() and word[-1:].isdigit() and ("..." in word or "\u2026" in word):
        return f'"{word}": the steps of the first numbers do not lead to the last'
    three, other = vocabulary.nearest_three(word), vocabulary.nearest_word(word)
    if other and (not three or _likeness(word, other) > _likeness(word, three[0])):
        return f'"{word}" is not known here. Did you mean "{other}"?'
    if three:
        quoted = [f'"{name}"' for name in three]
        more = ' What is said about it goes after "note:".' if vocabulary.begins_with_name(word) else ""
        return f'there is no movement "{word}". The nearest: {listed(quoted)}.{more}'
    return f'"{word}" is neither a movement nor a word of a session; after "note:" anything may stand'


def _likeness(a: str, b: str) -> float:
    return difflib.SequenceMatcher(None, compact(a), compact(b)).ratio()
