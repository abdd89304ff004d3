"""Lays a day out for the wall: the number of sheets and the type size of each.

Normal sight resolves a letter of five minutes of arc (ISO 8596, visual acuity 1.0). Type that is read across
the room is never smaller; what does not fit goes on another sheet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial

from planner.render.contexts import Fact
from planner.render.fit import largest, line_count, width_em, wrapped

DISTANCE_MM = 4000
SEEN_MM = 2 * DISTANCE_MM * math.tan(math.radians(2.5 / 60))
"""Height of the smallest letter that is made out at that distance: 5.8 mm."""
CAPITAL = 0.655
"""Height of capitals in the type's size, in the lowest of the faces that the style sheet names."""
FAR_MM = math.ceil(10 * SEEN_MM / CAPITAL) / 10
"""Smallest type for all that is read from across the room."""
NEAR_MM = 6.6
"""Type of what is read when one walks up: date, plates, what to write down, cautions."""
REM_MM = 4.0
# A3, in mm: the page inside its margins, less a little, so that rounding never makes a second page.
WIDE_MM, HIGH_MM = 420 - 2 * 12, 297 - 2 * 11 - 3
MOST_MM, LEAST_MM, STEP_MM = 30.0, 1.35 * FAR_MM, 0.2
"""A movement's type: at least a third larger than that of the other versions."""
# In the movement's type, as the style sheet sets them.
TITLE, REST, NEAR = 0.9, 0.75, 0.5
DAY_MM = 12.0
SERIF = 1.07
"""Letters of the widest bold serif to those of the sans that lengths are reckoned in."""
LEADING = 1.16
GAP_MM = 8.0
Heading = tuple[str, str]
"""Day and title, and what stands small below them."""
SHARES = ((5, 7), (6, 6), (4, 8), (7, 5))
"""Widths of strength and conditioning beside each other; that which gives the largest type is taken."""


@dataclass(frozen=True)
class WallLine:
    """A movement on the wall: dose, name, both loads, and plates on each side."""

    dose: str
    name: str
    load: str
    plates: str
    rest: str


@dataclass(frozen=True)
class WallPiece:
    """A piece on the wall.

    Attributes:
        kind: strength or conditioning.
        heading: with its minutes.
        title: how it runs.
        lines: of the gym floor.
        cap: "Cap 12 min"; empty where there is none.
        score: what is written down.
        instead: what the other versions do in this piece, if it has its own sheet.
    """

    kind: str
    heading: str
    title: str
    lines: tuple[WallLine, ...]
    cap: str
    score: str
    instead: tuple[Fact, ...]


@dataclass(frozen=True)
class WallSheet:
    """One page.

    Attributes:
        pieces: with the share of the width that each has.
        instead: what the other versions do.
        cautions: the day's, on the last sheet only.
        big_rem: type of the movements.
        part: "Sheet 1 of 2"; empty if there is only one.
    """

    pieces: tuple[tuple[WallPiece, int], ...]
    instead: tuple[Fact, ...]
    cautions: tuple[str, ...]
    big_rem: float
    part: str = ""


def spread(
    heading: Heading,
    pieces: tuple[WallPiece, ...],
    other: tuple[Fact, ...],
    cautions: tuple[str, ...],
) -> tuple[WallSheet, ...]:
    """Spreads the day over as few sheets as can be read across the room.

    Args:
        heading: day and title, and what stands small below them.
        pieces: of the gym floor.
        other: what the other versions do in all the pieces.
        cautions: the day's.
    """
    whole = _fitting(heading, pieces, other, cautions)
    if whole or len(pieces) == 0:
        return (whole or _sheet(pieces, SHARES[0], other, cautions, LEAST_MM),)
    made: list[WallSheet] = []
    for piece in pieces:
        made += _piece_sheets(heading, piece, piece.instead, cautions if piece is pieces[-1] else ())
    if len(made) == 1:
        return tuple(made)
    return tuple(replace(s, part=f"Sheet {i} of {len(made)}") for i, s in enumerate(made, 1))


def _piece_sheets(
    heading: Heading, piece: WallPiece, other: tuple[Fact, ...], cautions: tuple[str, ...]
) -> list[WallSheet]:
    """A piece on one sheet; a long one has its other versions on further sheets, halved until they fit."""
    found = _fitting(heading, (piece,), other, cautions)
    if found:
        return [found]
    if piece.lines and other:
        bare = replace(piece, lines=(), cap="", score="")
        return _piece_sheets(heading, piece, (), ()) + _piece_sheets(heading, bare, other, cautions)
    if len(piece.lines) > 1:
        half = (len(piece.lines) + 1) // 2
        first = replace(piece, lines=piece.lines[:half], cap="", score="")
        return _piece_sheets(heading, first, (), ()) + _piece_sheets(
            heading, replace(piece, lines=piece.lines[half:]), (), cautions
        )
    if len(other) > 1:
        half = (len(other) + 1) // 2
        return _piece_sheets(heading, piece, other[:half], ()) + _piece_sheets(
            heading, piece, other[half:], cautions
        )
    return [_sheet((piece,), SHARES[0], other, cautions, LEAST_MM)]


def _fitting(
    heading: Heading,
    pieces: tuple[WallPiece, ...],
    other: tuple[Fact, ...],
    cautions: tuple[str, ...],
) -> WallSheet | None:
    """Everything on one page in the largest type that fits; None if that is too small to read."""
    best: WallSheet | None = None
    fixed = _head(heading) + _kits(other) + _cautions(cautions)
    for shares in SHARES if len(pieces) > 1 else SHARES[:1]:
        fits = partial(_fits, HIGH_MM - fixed, pieces, shares)
        big = largest(fits, MOST_MM, 0, STEP_MM)
        if big >= LEAST_MM and (best is None or big / REM_MM > best.big_rem):
            best = _sheet(pieces, shares, other, cautions, big)
    return best


def _sheet(
    pieces: tuple[WallPiece, ...],
    shares: tuple[int, ...],
    other: tuple[Fact, ...],
    cautions: tuple[str, ...],
    big_mm: float,
) -> WallSheet:
    # Rounded down: what fits must not grow.
    big = math.floor(1000 * big_mm / REM_MM) / 1000
    return WallSheet(tuple(zip(pieces, shares, strict=False)), other, cautions, big)


def _fits(room_mm: float, pieces: tuple[WallPiece, ...], shares: tuple[int, ...], big_mm: float) -> bool:
    return _pieces(pieces, shares, big_mm) <= room_mm


def _head(heading: Heading) -> float:
    title, under = heading
    # Room for "sheet 1 of 2", which is not known before the day is spread.
    return (
        _lines(title, WIDE_MM / SERIF, DAY_MM, bold=True)
        + _lines(f"{under} sheet 1 of 2.", WIDE_MM, NEAR_MM)
        + 7
    )


def _kits(other: tuple[Fact, ...]) -> float:
    if not other:
        return 0.0
    return 14 + sum(_kit(fact) * FAR_MM * LEADING + 2.5 for fact in other)


def _kit(fact: Fact) -> int:
    """Lines that a version takes: its name in bold, then what it does."""
    words = [width_em(word, bold=True) for word in fact.term.split()]
    words += [0.1, *(width_em(word) for word in fact.value.split())]
    return wrapped(words, width_em(" "), 0.97 * WIDE_MM / FAR_MM)


def _cautions(cautions: tuple[str, ...]) -> float:
    return sum(_lines(text, WIDE_MM - 6, NEAR_MM) + 1.5 for text in cautions)


def _pieces(pieces: tuple[WallPiece, ...], shares: tuple[int, ...], big_mm: float) -> float:
    used = shares[: len(pieces)]
    room = WIDE_MM - GAP_MM * (len(pieces) - 1)
    return max(
        (_piece(piece, room * share / sum(used), big_mm) for piece, share in zip(pieces, used, strict=True)),
        default=0.0,
    )


def _piece(piece: WallPiece, wide_mm: float, big_mm: float) -> float:
    height = FAR_MM * 1.2 + 3 + _lines(piece.title, wide_mm / SERIF, TITLE * big_mm, bold=True)
    for line in piece.lines:
        height += (
            _lines(f"{line.dose} {line.name} {line.load}", wide_mm / SERIF, big_mm, bold=True) + 0.3 * big_mm
        )
        height += _under(line, wide_mm, big_mm)
    if piece.cap:
        height += 1.45 * big_mm
    return height + _lines(f"Write down: {piece.score}", wide_mm / SERIF, NEAR * big_mm) + 4


def _under(line: WallLine, wide_mm: float, big_mm: float) -> float:
    """Lines that plates and rest take: words in two sizes, broken by the larger."""
    near = [width_em(word) * NEAR for word in line.plates.split()]
    rest = [width_em(word) * REST for word in line.rest.split()]
    if not near and not rest:
        return 0.0
    size = REST if rest else NEAR
    return wrapped(near + rest, width_em(" ") * size, wide_mm / big_mm) * REST * big_mm * LEADING


def _lines(text: str, wide_mm: float, size_mm: float, *, bold: bool = False) -> float:
    return line_count(text, wide_mm / size_mm, bold=bold) * size_mm * LEADING if text else 0.0
