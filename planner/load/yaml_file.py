"""Reads a YAML file into plain values, with the line of every key, and refuses what could surprise a coach.

Only plain YAML passes: no anchors and aliases (a small file could unfold into a huge one), no tags, no
second document, no key twice. Of bare words only ``true``, ``false``, ``null`` and numbers are more than
words: ``no`` and ``18:00`` stay what they look like.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from planner.domain.characters import unprintable
from planner.errors import DataError, Place
from planner.load.yaml_words import ADVICE, in_words

MAX_BYTES = 2_000_000
MAX_DEPTH = 20
"""Levels of nesting; our deepest file has seven."""

MOST = 999_999_999
DELETE_IT = "Delete it; it often comes along when text is pasted."

Step = str | int
Steps = tuple[Step, ...]

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""libyaml's parser where PyYAML has it: about ten times as fast."""
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_INT = re.compile(r"[-+]?[0-9]{1,18}")
_FLOAT = re.compile(r"[-+]?(?:[0-9]{1,18}\.[0-9]{0,18}|\.[0-9]{1,18})(?:[eE][-+]?[0-9]{1,3})?")
_BARE = {"true": True, "false": False, "null": None, "~": None, "": None}


@dataclass(frozen=True)
class Source:
    """Where everything in one file stands.

    Attributes:
        file: the file.
        lines: line of each key and list item, by its steps from the top.
        labels: ids of the list items that have one, by their steps; a coach knows them by those.
    """

    file: Path
    lines: dict[Steps, int]
    labels: dict[Steps, str]


@dataclass(frozen=True)
class Located:
    """A value from a file that knows where it stands.

    Attributes:
        data: plain value: dict, list, str, number, bool or None.
        source: the file's lines and labels.
        steps: from the top of the file to here; list items by index.
    """

    data: Any
    source: Source
    steps: Steps = ()

    def place(self, *steps: Step) -> Place:
        """Where something below stands, or the nearest thing above it that the file does have.

        Args:
            steps: from here downwards; steps that the file does not have, such as those that name a
                choice of types, are passed over.
        """
        known = self.steps
        for step in steps:
            known = next((s for s in ((*known, step), (*known, str(step))) if s in self.source.lines), known)
        return Place(self.source.file, self.source.lines.get(known), _dotted(known, self.source.labels))

    def child(self, step: Step) -> Located:
        """The value under a key, or at an index."""
        return Located(
            self.data[step], self.source, (*self.steps, step if isinstance(step, int) else str(step))
        )

    def children(self) -> tuple[Located, ...]:
        """The items of a list, in order."""
        return tuple(self.child(index) for index in range(len(self.data)))


def read_yaml(path: Path) -> Located:
    """Read one YAML file.

    Args:
        path: the file.

    Returns:
        Its content, at least one value, with places.

    Raises:
        DataError: not there, not readable, too large, not UTF-8, not YAML, or with something in it that is
            refused here; with the line.
    """
    text = read_text(path)
    if "\t" in text:
        raise DataError(
            "there is a tab here",
            Place(path, _line_of(text, text.index("\t"))),
            "Use spaces, two for each level; set the editor to write spaces for tabs.",
        )
    strange = _UNPRINTABLE.search(text)
    if strange:
        raise DataError(
            f"there is an unprintable character here (U+{ord(strange.group()):04X})",
            Place(path, _line_of(text, strange.start())),
            DELETE_IT,
        )
    try:
        data, lines, labels = _parsed(text)
        return Located(data, Source(path, lines, labels))
    except _RefusedError as refused:
        raise DataError(refused.what, Place(path, refused.line, refused.key), refused.advice) from None
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
        said = getattr(error, "problem", None) or str(error)
        line = mark.line + 1 if mark else None
        raise DataError(in_words(said), Place(path, line), ADVICE) from None


def read_text(path: Path, max_bytes: int = MAX_BYTES) -> str:
    """Read a UTF-8 text file, but no more than ``max_bytes`` of it.

    Args:
        path: the file.
        max_bytes: a larger file is refused before it is read.

    Raises:
        DataError: not there, not a file, not readable, too large, or not UTF-8.
    """
    try:
        if not path.is_file():
            raise _no_file(path)
        size = path.stat().st_size
        if size > max_bytes:
            raise DataError(
                f"the file has {size:,} bytes; at most {max_bytes:,} are read",
                Place(path),
                "Check that it is the right file, or split it.",
            )
        raw = path.read_bytes()
    except OSError as error:
        raise DataError(
            f"the file cannot be read: {error.strerror or error}", Place(path), "Check its permissions."
        ) from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise DataError(
            "the file is not UTF-8 text from here on",
            Place(path, raw.count(b"\n", 0, error.start) + 1),
            "Save it as UTF-8 in the editor.",
        ) from None


def nearest(word: str, words: Iterator[str] | list[str] | tuple[str, ...]) -> str:
    """``Did you mean "squat"?``, with a space before it, or nothing where no word is near.

    Args:
        word: as found.
        words: the right ones.
    """
    near = difflib.get_close_matches(word, list(words), n=1, cutoff=0.6)
    return f' Did you mean "{near[0]}"?' if near else ""


def _no_file(path: Path) -> DataError:
    if path.exists():
        return DataError("this is not a file", Place(path), "Name a file, not a folder.")
    there = sorted(p.name for p in path.parent.iterdir()) if path.parent.is_dir() else []
    near = nearest(path.name, there)
    folder = "" if path.parent.is_dir() else f" There is no folder {path.parent}."
    return DataError("there is no such file", Place(path), f"Check the name.{folder}{near}")


def _line_of(text: str, offset: int) -> int:
    return text.count("\n", 0, offset) + 1


class _RefusedError(Exception):
    """Something that YAML allows and is not read here."""

    def __init__(self, what: str, line: int | None, advice: str, key: str = "") -> None:
        super().__init__(what)
        self.what, self.line, self.advice, self.key = what, line, advice, key


@lru_cache(maxsize=32)
def _parsed(text: str) -> tuple[Any, dict[Steps, int], dict[Steps, str]]:
    """Value, lines and labels; the catalogue's files are read again and again, and nobody changes a value."""
    return _Reader(yaml.parse(text, Loader=_LOADER)).read()


def _dotted(steps: Steps, labels: Mapping[Steps, str]) -> str:
    """Steps as a coach reads them: list items by their ids, or counted from one."""
    words: list[str] = []
    for end, step in enumerate(steps, start=1):
        unnamed = f"#{step + 1}" if isinstance(step, int) else step
        words.append(labels.get(steps[:end], unnamed))
    return ".".join(words)


@dataclass
class _Reader:
    """Builds values from the parser's events, so that nothing is unfolded before it has been looked at."""

    events: Iterator[Any]
    lines: dict[Steps, int] = field(default_factory=dict)
    labels: dict[Steps, str] = field(default_factory=dict)
    twice: list[tuple[Steps, int, int]] = field(default_factory=list)

    def read(self) -> tuple[Any, dict[Steps, int], dict[Steps, str]]:
        data: Any = None
        documents = 0
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    raise self._refused("a second document starts here", event, "Delete the line of dashes.")
                data = self._value(next(self.events), ())
        for steps, line, first_line in self.twice:
            raise _RefusedError(
                f'the key "{steps[-1]}" is here a second time; the first is on line {first_line}',
                line,
                "Keep one of the two.",
                _dotted(steps, self.labels),
            )
        if data is None:
            raise _RefusedError("the file is empty", None, "Put something in it or delete it.")
        return data, self.lines, self.labels

    def _value(self, event: Any, steps: Steps) -> Any:
        if isinstance(event, yaml.AliasEvent) or event.anchor:
            raise self._refused("anchors (&) and aliases (*) are not read", event, "Write the value out.")
        if event.tag not in {None, "!"}:
            raise self._refused(f"tags are not read: {event.tag}", event, "Write the value without it.")
        if len(steps) > MAX_DEPTH:
            raise self._refused(
                f"this is nested more than {MAX_DEPTH} deep", event, "Check the brackets and the indentation."
            )
        if isinstance(event, yaml.ScalarEvent):
            strange = unprintable(event.value)
            if strange:
                raise self._refused(f"there is an unprintable character here ({strange})", event, DELETE_IT)
            return self._number(event) if event.implicit[0] else event.value
        return self._list(steps) if isinstance(event, yaml.SequenceStartEvent) else self._dict(steps)

    def _list(self, steps: Steps) -> list[Any]:
        items: list[Any] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            here = (*steps, len(items))
            self.lines[here] = event.start_mark.line + 1
            items.append(self._value(event, here))
            named = items[-1].get("id") if isinstance(items[-1], dict) else None
            if isinstance(named, str):
                self.labels[here] = named
        return items

    def _dict(self, steps: Steps) -> dict[Any, Any]:
        found: dict[Any, Any] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            line = event.start_mark.line + 1
            if not isinstance(event, yaml.ScalarEvent):
                raise self._refused("a key must be a single word or number", event, "Check the indentation.")
            key = self._value(event, steps)
            here = (*steps, str(key))
            if key in found or here in self.lines:
                first = next((f for f in found if f == key), key)
                self.twice.append((here, line, self.lines[(*steps, str(first))]))
            self.lines.setdefault(here, line)
            value = self._value(next(self.events), here)
            found.setdefault(key, value)
        return found

    def _number(self, event: Any) -> Any:
        value = _plain(event.value)
        if isinstance(value, int | float) and abs(value) > MOST:
            raise self._refused(
                f"the number {event.value} is larger than any that is counted here",
                event,
                f"Write at most {MOST:,}, or put quotes around it if it is text.",
            )
        return value

    @staticmethod
    def _refused(what: str, event: Any, advice: str) -> _RefusedError:
        return _RefusedError(what, event.start_mark.line + 1, advice)


def _plain(word: str) -> Any:
    if word in _BARE:
        return _BARE[word]
    if _INT.fullmatch(word):
        return int(word)
    return float(word) if _FLOAT.fullmatch(word) else word
