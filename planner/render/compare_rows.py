"""Days of two weeks beside each other, row by row: for the page and for the terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from planner.domain.base import Value
from planner.domain.difference import Difference
from planner.domain.gym import DAY_NAMES
from planner.domain.week import Line, Piece, PieceVersion, Session, Week
from planner.domain.words import capital, listed, spoken
from planner.render import notation
from planner.render.day_view import HEADINGS
from planner.render.pictures import Bar

_TOLD = {"name": "{}", "text": "{}", "label": "{}", "minutes": "{} min", "dose": "{}", "said": "{}"}
"""Fields by which a value inside another is told, and how."""


@dataclass(frozen=True)
class Bit:
    """A piece of text, its style (dose, name, about, load, count, plain), and whether the other differs."""

    text: str
    style: str = "plain"
    differs: bool = False


@dataclass(frozen=True)
class Row:
    """Something of both weeks.

    Attributes:
        a: what the one has, or has alone; and ``b`` the other.
        words: in what they differ, or how far they are apart; empty where they are the same.
        term: what it is, and ``note`` more of it in small type.
        both: what both have, where ``a`` and ``b`` are what one has alone.
        bars: two that grow from the middle, where a picture says something.
    """

    a: tuple[Bit, ...]
    b: tuple[Bit, ...]
    words: str
    term: str = ""
    note: str = ""
    both: str = ""
    bars: tuple[Bar, ...] = ()


@dataclass(frozen=True)
class Block:
    """A day, a piece of it, or a kit version of that.

    Attributes:
        id: of the part of the page; empty for a kit version.
        name: heading.
        same: whether nothing differs.
        verdict: what does, in a few words.
        rows: of itself; of a kit version its lines and its forecast.
        parts: inside it; kit versions that are not the gym floor only where they differ.
        alike: names of the kit versions that are the same.
        shut: whether it is read when asked for: all kit versions but the gym floor.
    """

    id: str
    name: str
    same: bool
    verdict: str
    rows: tuple[Row, ...]
    parts: tuple[Block, ...] = ()
    alike: str = ""
    shut: bool = False


@dataclass(frozen=True)
class Days:
    """Makes the rows of two weeks.

    Attributes:
        names: of the weeks.
        floors: ids of the kit versions that are the gym floor.
        kits: names of kit versions by id.
    """

    names: tuple[str, str]
    floors: frozenset[str]
    kits: dict[str, str]

    def made_for(self, week: Difference[Week]) -> Iterator[Row]:
        """What differs of the weeks as a whole: class, kit versions, athletes."""
        yield from (self._row(week, (), (word,)) for word in week.own)
        for part in (*week.parts["kits"], *week.parts["athletes"]):
            if not part.same:
                yield self._row(part, _NAMED, part.words)

    def day(self, day: Difference[Session]) -> Block:
        """A day with its pieces."""
        verdict, row = self._verdict(day, "pieces", "part"), self._row(day, _DAY, day.own)
        pieces = tuple(self._piece(piece, day.key) for piece in day.parts["pieces"])
        return Block(day.key, DAY_NAMES[day.known.day], day.same, verdict, (row,), pieces)

    def _piece(self, piece: Difference[Piece], day: str) -> Block:
        """A piece: how it runs, the gym floor's lines, and the kit versions that differ."""
        at, row = f"{day}-{piece.key.replace(' ', '-')}", self._row(piece, _PIECE, piece.own)
        versions = [self._version(version) for version in piece.parts["versions"]]
        parts = tuple(version for version in versions if not (version.shut and version.same))
        alike = listed(version.name for version in versions if version.shut and version.same)
        return Block(at, HEADINGS[piece.known.kind], piece.same, "", (row,), parts, alike)

    def _version(self, version: Difference[PieceVersion]) -> Block:
        """A kit version: its lines, and its forecast."""
        rows = [self._row(line, _LINE, line.words) for line in version.parts["lines"]]
        whole = self._row(version, _VERSION, version.own)
        rows += [whole] if whole.a or whole.b else []
        name, verdict = self.kits.get(version.key, version.key), self._verdict(version, "lines", "line")
        shut = version.key not in self.floors
        return Block("", name, version.same, verdict, tuple(rows), shut=shut)

    def _row(self, node: Difference[Any], shown: Shown, differs: Iterable[str]) -> Row:
        """Both sides: what is shown of them in any case, and then whatever else differs."""
        sides: tuple[list[Bit], list[Bit]] = ([], [])
        usual = {word for word, *_ in shown}
        table = (*shown, *((word, "plain", _nothing) for word in differs if word not in usual))
        for word, style, text in table:
            apart = word in differs and not node.alone
            said = [text(x) if x else "" for x in (node.a, node.b)]
            marked = apart and style != "count" and said[0] != said[1]
            more = _told(node, word) if apart and not marked else ([], [])
            for bits, one, told in zip(sides, said, more, strict=True):
                if one or marked:
                    bits.append(Bit(one or f"no {word}", style, marked))
                bits.extend(Bit(x, differs=True) for x in told)
        words = ", ".join(word for word, *_ in table if word in differs)
        return Row(tuple(sides[0]), tuple(sides[1]), self._only(node) or words)

    def _verdict(self, node: Difference[Any], inside: str, noun: str) -> str:
        """What differs in a few words: "3 of 4 parts differ, clock"."""
        parts = node.parts[inside]
        differing = sum(not part.same for part in parts)
        verb = "differs" if differing == 1 else "differ"
        said = [f"{differing} of {notation.count(len(parts), noun)} {verb}"] if differing else []
        return self._only(node) or ", ".join([*said, *node.own]) or "the same in both"

    def _only(self, node: Difference[Any]) -> str:
        return f"only in {self.names[node.a is None]}" if node.alone else ""


# What is shown, and what is told where it differs ------------------------------------------------------

Shown = tuple[tuple[str, str, Callable[[Any], str]], ...]
"""What is shown of a value whether it differs or not: its word, how it is set, its text."""


def _scheme(line: Line) -> str:
    parts = (
        "beside the main lift" if line.assistance else "",
        *notation.terms(line),
    )
    return ", ".join(filter(None, parts))


def _title(piece: Piece) -> str:
    return "" if piece.title == HEADINGS[piece.kind] else notation.times(piece.title)


_NAMED: Shown = (("name", "name", lambda held: held.name),)
_DAY: Shown = (
    ("title", "about", lambda session: session.title),
    ("effort", "plain", lambda session: f"{session.hardness}, effort {session.rating} of 10"),
)
_PIECE: Shown = (
    ("format", "name", _title),
    ("minutes", "plain", lambda piece: f"{piece.minutes} min"),
    ("time domain", "plain", lambda piece: f"time domain {piece.domain}" if piece.domain else ""),
    ("cap", "plain", lambda piece: "" if piece.cap_minutes is None else f"cap {piece.cap_minutes} min"),
    ("drills", "count", lambda piece: notation.count(len(piece.drills), "drill") if piece.drills else ""),
)
_LINE: Shown = (
    ("dose", "dose", notation.dose),
    ("movement", "name", lambda line: line.name),
    ("load", "load", notation.run_of_loads),
    ("scheme", "plain", _scheme),
)
_VERSION: Shown = (
    ("forecast", "plain", lambda version: capital(version.prediction.text) if version.prediction else ""),
)


def _nothing(_: object) -> str:
    return ""


def _told(node: Difference[Any], word: str) -> tuple[list[str], list[str]]:
    """What a word stands for, here or inside, from the fields themselves: of each side what it alone has."""
    if word not in node.own:
        inside = [_told(x, word) for parts in node.parts.values() for x in parts if word in x.words]
        return [text for a, _ in inside for text in a], [text for _, b in inside for text in b]
    a, b = (
        [x for name in node.own[word] for x in _texts(getattr(side, name, None))] for side in (node.a, node.b)
    )
    if {*a} == {*b}:
        return a, b
    return [x for x in a if x not in b], [x for x in b if x not in a]


def _texts(value: object) -> list[str]:
    if isinstance(value, tuple) and not all(isinstance(x, int | float) for x in value):
        return [_said(x) for x in value]
    return list(filter(None, (_said(value),)))


def _said(value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(_said(x) for x in value)
    if isinstance(value, dict):
        return ", ".join(f"{_said(key)} {_said(x)}" for key, x in value.items())
    if isinstance(value, Value):
        told = (x.format(_said(getattr(value, name))) for name, x in _TOLD.items() if hasattr(value, name))
        return ", ".join(told)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return notation.number(value)
    return "" if value is None else spoken(str(value))
