"""Reads sessions from a file: as text, or the same value as YAML or JSON with names for ids."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from planner.domain.base import Value
from planner.domain.gym import DAY_NAMES
from planner.domain.written import WrittenSession
from planner.language.faults import unknown_in_words
from planner.language.phrases import compact
from planner.language.reader import LONGEST_TEXT, read_sessions
from planner.language.vocabulary import Vocabulary
from planner.load.validate import Mistake, checked, refuse
from planner.load.yaml_file import Located, read_text, read_yaml

ENDINGS = {".yaml", ".yml", ".json"}
"""Of files that hold the value; every other is text."""
_KINDS = {"movement": "MOVEMENT", "scheme": "SCHEME", "day": "DAY"}


class WrittenWeek(Value):
    """A file with several sessions.

    Attributes:
        sessions: in the order of the file.
    """

    sessions: tuple[WrittenSession, ...]


def sessions_in(path: Path, vocabulary: Vocabulary) -> tuple[WrittenSession, ...]:
    """The sessions of a file, one or a whole week.

    Args:
        path: text, or YAML or JSON by its ending: one session, or ``sessions:`` with a list of them.
        vocabulary: the names that it may say.

    Returns:
        At least one, in the order of the file.

    Raises:
        DataError: the file cannot be read, or with the place of everything that is wrong in it.
    """
    if path.suffix.lower() not in ENDINGS:
        return read_sessions(read_text(path, LONGEST_TEXT * 4), vocabulary, path)
    node = read_yaml(path)
    problems: list[Mistake] = []
    named = Located(_named(node, vocabulary, problems), node.source)
    if isinstance(node.data, dict) and "sessions" in node.data:
        week = checked(WrittenWeek, named, problems)
        sessions = week.sessions if week else ()
    else:
        one = checked(WrittenSession, named, problems)
        sessions = (one,) if one else ()
    if not problems:
        problems += _days_twice(sessions, node)
    if problems or not sessions:
        refuse(problems or [Mistake(node.place("sessions"), "there is no session in this list")])
    return sessions


def _named(node: Located, vocabulary: Vocabulary, problems: list[Mistake]) -> Any:
    """The plain value with ids for the names of movements, schemes, kits and days."""
    if isinstance(node.data, list):
        return [_named(child, vocabulary, problems) for child in node.children()]
    if not isinstance(node.data, dict):
        return node.data
    found: dict[Any, Any] = {}
    for key, value in node.data.items():
        if key in _KINDS and isinstance(value, str):
            found[key] = _id(node, key, vocabulary, problems)
        elif key == "versions" and isinstance(value, dict):
            found[key] = dict(_versions(node.child(key), vocabulary, problems))
        else:
            found[key] = _named(node.child(key), vocabulary, problems)
    return found


def _id(node: Located, key: str, vocabulary: Vocabulary, problems: list[Mistake]) -> str:
    """The id that a name under a key stands for; of one that is not known it is said here, and not again."""
    value: str = node.data[key]
    known = {"movement": vocabulary.movements, "scheme": vocabulary.schemes}.get(key, DAY_NAMES)
    word = vocabulary.words.get(compact(value))
    if value in known or key == "day":
        return word.values[0] if word and word.kind == "DAY" else value
    if word and word.kind == _KINDS[key]:
        return word.values[0]
    said = unknown_in_words(value, vocabulary) if key == "movement" else f'there is no scheme "{value}"'
    problems.append(Mistake(node.place(key), said))
    return "unknown"


def _versions(node: Located, vocabulary: Vocabulary, problems: list[Mistake]) -> Iterator[tuple[Any, Any]]:
    for key in node.data:
        kit = vocabulary.kit_words.get(compact(str(key)), key)
        if kit not in vocabulary.kits:
            known = ", ".join(vocabulary.kits.values())
            problems.append(Mistake(node.place(str(key)), f'there is no kit "{key}". Known: {known}.'))
        yield kit, _named(node.child(key), vocabulary, problems)


def _days_twice(sessions: tuple[WrittenSession, ...], node: Located) -> Iterator[Mistake]:
    days = [session.day for session in sessions]
    for index, day in enumerate(days):
        if day in days[:index]:
            yield Mistake(node.place("sessions", index, "day"), f"{DAY_NAMES[day]} is here a second time")
