"""One line of a text with what is no word of it put aside: bullets, labels, notes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

_PLAINER = str.maketrans(
    dict.fromkeys("\t\N{NO-BREAK SPACE}\u2002\u2003\u2007\u2009\u200a\u202f\u3000", " ")
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe63\uff0d", "-")
    | dict.fromkeys("\N{MULTIPLICATION SIGN}\u2715\u2716", "x")
    | dict.fromkeys("\u2018\u2019\u2032\u00b4`", "'")
    | dict.fromkeys("\u201c\u201d\u2033", '"')
    | dict.fromkeys("\u2024\u00b7\u2022\u25aa\u25e6\u2023\u25cf\u25cb\u2043", "*")
)
_LABEL = re.compile(
    r"""\s*(?:[-*>+o\#]+\s+|\*+)?                               # a bullet
    (?:(?:[a-f]|[0-9]{1,2})[.)]\s+ | [a-f][1-4][.):]?\s+ |  # a) 1. A1
    (?:min|minute)\s+[0-9]{1,2}\s*:\s*)?                    # min 1:
    """,
    re.VERBOSE,
)
_NOTE = re.compile(r"(?:(?<=[\s,;(])|^)notes?\s*:\s*")


@dataclass(frozen=True)
class TextLine:
    """One line of a text.

    Attributes:
        number: counted from 1.
        raw: as written.
        plain: the same with plain signs and small letters, character for character.
        start: where what is said begins, after bullets and labels.
        note: where ``note:`` begins; the length of the line where there is none.
        note_text: what it says, as written.
    """

    number: int
    raw: str
    plain: str
    start: int
    note: int
    note_text: str

    @property
    def said(self) -> str:
        """What is said, as written, without bullet and note."""
        return self.raw[self.start : self.note].strip()

    @property
    def letter(self) -> str:
        """The letter of a label such as "A1", by which lifts that are done in turn belong together."""
        found = re.search(r"([a-f])[1-4]\W", self.plain[: self.start])
        return found[1] if found else ""

    @property
    def aside(self) -> str:
        """What stands in brackets, as written."""
        return " ".join(self.raw[a + 1 : b].strip() for a, b in self.brackets())

    def brackets(self) -> Iterator[tuple[int, int]]:
        """Where the outer brackets open and close; one that is not closed closes where the line does."""
        depth, opened = 0, self.start
        for at in range(self.start, self.note):
            if self.plain[at] == "(":
                opened = at if not depth else opened
                depth += 1
            elif self.plain[at] == ")" and depth:
                depth -= 1
                if not depth:
                    yield opened, at
        if depth:
            yield opened, self.note


def line_of(number: int, raw: str) -> TextLine:
    """A line with its parts found."""
    plain = "".join(low if len(low := c.lower()) == 1 else c for c in raw.translate(_PLAINER))
    start = label.end() if (label := _LABEL.match(plain)) else 0
    note = _NOTE.search(plain, start)
    text = raw[note.end() :].strip() if note else ""
    return TextLine(number, raw, plain, start, note.start() if note else len(raw), text)
