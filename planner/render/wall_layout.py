"""Lays a day out for the wall: the number of sheets and the type size of each.

Normal sight resolves a letter of five minutes of arc (ISO 8596, visual acuity 1.0). Type that is read across
the room is never smaller. Where a day does not fit so on one sheet, what the other versions do is set to be
read from near by; what does not fit even then goes on another sheet, which says why.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial

from planner.render.contexts import Fact
from planner.render.face import CAPITAL
from planner.render.fit import largest, line_count, width_em, wrapped

DISTANCE_MM = 4000
SEEN_MM = 2 * DISTANCE_MM * math.tan(math.radians(2.5 / 60))
"""Height of the smallest letter that is made out at that distance: 5.8 mm."""
FAR_MM = math.ceil(10 * SEEN_MM / CAPITAL) / 10
"""Smallest type for all that is read from across the room."""
NEAR_MM = 6.6
"""Type of what is read when one walks up: date, plates, what to write down, cautions."""
REM_MM = 4.0
# A3, in mm: the page inside its margins, less a little, so that rounding never makes a second page.
WIDE_MM, HIGH_MM = 420 - 2 * 12, 297 - 2 * 11 - 3
MOST_MM, STEP_MM = 30.0, 0.2
STANDS_OUT = 1.35
"""A movement's type to that of the other versions, at least."""
# In the movement's type; title and rest are read from across the room too.
TITLE, REST, NEAR = 0.9, 0.75, 0.5
DAY_MM = 12.0
LEADING = 1.16
GAP_MM = 8.0
Heading = tuple[str, str, str]
"""Day, title, and what stands small below them."""
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
        flow: how the class runs it.
        instead: what the other versions do in this piece, if it has its own sheet.
    """

    kind: str
    heading: str
    title: str
    lines: tuple[WallLine, ...]
    cap: str
    score: str
    flow: str
    instead: tuple[Fact, ...]


@dataclass(frozen=True)
class WallSheet:
    """One page.

    Attributes:
        pieces: with the share of the width that each has.
        instead: what the other versions do.
        cautions: the day's, on the last sheet only.
        big_rem: type of the movements.
        title_rem: of the titles, and ``rest_rem`` of the rests.
        near: whether what the other versions do is read from near by.
        part: "Sheet 1 of 2", and why there is another; empty if there is only one.
    """

    pieces: tuple[tuple[WallPiece, int], ...]
    instead: tuple[Fact, ...]
    cautions: tuple[str, ...]
    big_rem: float
    title_rem: float
    rest_rem: float
    near: bool
    part: str = ""


def spread(
    heading: Heading,
    pieces: tuple[WallPiece, ...],
    other: tuple[Fact, ...],
    cautions: tuple[str, ...],
) -> tuple[WallSheet, ...]:
    """Lays the day out on one sheet, or spreads it over as few as can be read across the room.

    Args:
        heading: day, title, and what stands small below them.
        pieces: of the gym floor.
        other: what the other versions do in all the pieces.
        cautions: the day's.
    """
    whole = _fitting(heading, pieces, other, cautions)
    if whole or len(pieces) == 0:
        return (whole or _sheet(pieces, SHARES[0], other, cautions, FAR_MM, near=True),)
    made: list[WallSheet] = []
    # How many there will be is not known yet; the words for it take as much room.
    heading = (*heading[:2], f"{heading[2]} {_part(1, 2)}.")
    for piece in pieces:
        made += _piece_sheets(heading, piece, piece.instead, cautions if piece is pieces[-1] else ())
    if len(made) == 1:
        return tuple(made)
    return tuple(replace(s, part=_part(i, len(made))) for i, s in enumerate(made, 1))


def _part(number: int, count: int) -> str:
    return f"Sheet {number} of {count}, as one could not be read from {DISTANCE_MM // 1000} m"


def _piece_sheets(
    heading: Heading, piece: WallPiece, other: tuple[Fact, ...], cautions: tuple[str, ...]
) -> list[WallSheet]:
    """A piece on one sheet; a long one has its other versions on further sheets, halved until they fit."""
    found = _fitting(heading, (piece,), other, cautions)
    if found:
        return [found]
    if piece.lines and other:
        bare = replace(piece, lines=(), cap="", score="", flow="")
        return _piece_sheets(heading, piece, (), ()) + _piece_sheets(heading, bare, other, cautions)
    if len(piece.lines) > 1:
        half = (len(piece.lines) + 1) // 2
        first = replace(piece, lines=piece.lines[:half], cap="", score="", flow="")
        return _piece_sheets(heading, first, (), ()) + _piece_sheets(
            heading, replace(piece, lines=piece.lines[half:]), (), cautions
        )
    if len(other) > 1:
        half = (len(other) + 1) // 2
        return _piece_sheets(heading, piece, other[:half], ()) + _piece_sheets(
            heading, piece, other[half:], cautions
        )
    return [_sheet((piece,), SHARES[0], other, cautions, FAR_MM, near=True)]


def _fitting(
    heading: Heading,
    pieces: tuple[WallPiece, ...],
    other: tuple[Fact, ...],
    cautions: tuple[str, ...],
) -> WallSheet | None:
    """Everything on one page in the largest type that fits; None if that is too small to read."""
    best: WallSheet | None = None
    for kits_mm in (FAR_MM, NEAR_MM) if other else (FAR_MM,):
        fixed = _head(heading) + _kits(other, kits_mm) + _cautions(cautions)
        least = max(STANDS_OUT * kits_mm, FAR_MM) if other else FAR_MM
        for shares in SHARES if len(pieces) > 1 else SHARES[:1]:
            fits = partial(_fits, HIGH_MM - fixed, pieces, shares)
            big = largest(fits, MOST_MM, 0, STEP_MM)
            if big >= least and (best is None or big / REM_MM > best.big_rem):
                best = _sheet(pieces, shares, other, cautions, big, near=kits_mm < FAR_MM)
        if best:
            return best
    return None


def _sheet(
    pieces: tuple[WallPiece, ...],
    shares: tuple[int, ...],
    other: tuple[Fact, ...],
    cautions: tuple[str, ...],
    big_mm: float,
    *,
    near: bool,
) -> WallSheet:
    # Rounded down: what fits must not grow.
    big, title, rest = (
        math.floor(1000 * mm / REM_MM) / 1000 for mm in (big_mm, _far(TITLE * big_mm), _far(REST * big_mm))
    )
    beside = tuple(zip(pieces, _columns(pieces, shares), strict=True))
    return WallSheet(beside, other, cautions, big, title, rest, near=near)


def _far(size_mm: float) -> float:
    return max(size_mm, FAR_MM)


def _fits(room_mm: float, pieces: tuple[WallPiece, ...], shares: tuple[int, ...], big_mm: float) -> bool:
    return _pieces(pieces, shares, big_mm) <= room_mm


def _head(heading: Heading) -> float:
    day, title, under = heading
    return (
        line_count(title, WIDE_MM / DAY_MM, lead=day) * DAY_MM * LEADING + _lines(under, WIDE_MM, NEAR_MM) + 7
    )


def _kits(other: tuple[Fact, ...], size_mm: float) -> float:
    """Each version's name, and what it does behind it."""
    if not other:
        return 0.0
    lines = sum(line_count(fact.value, WIDE_MM / size_mm, lead=fact.term, apart=0.4) for fact in other)
    return 14 + lines * size_mm * LEADING + 2.5 * len(other)


def _cautions(cautions: tuple[str, ...]) -> float:
    return sum(_lines(text, WIDE_MM - 6, NEAR_MM) + 1.5 for text in cautions)


def _pieces(pieces: tuple[WallPiece, ...], shares: tuple[int, ...], big_mm: float) -> float:
    used = _columns(pieces, shares)
    room = WIDE_MM - GAP_MM * (len(pieces) - 1)
    return max(
        (_piece(piece, room * share / sum(used), big_mm) for piece, share in zip(pieces, used, strict=True)),
        default=0.0,
    )


def _columns(pieces: tuple[WallPiece, ...], shares: tuple[int, ...]) -> tuple[int, ...]:
    """The width of each piece against the others; the third and later ones are as wide as the second."""
    more = max(0, len(pieces) - len(shares))
    return (*shares, *(shares[-1:] * more))[: len(pieces)]


def _piece(piece: WallPiece, wide_mm: float, big_mm: float) -> float:
    height = FAR_MM * 1.2 + 3 + _lines(piece.title, wide_mm, _far(TITLE * big_mm), bold=True)
    for line in piece.lines:
        height += _lines(f"{line.dose} {line.name} {line.load}", wide_mm, big_mm, bold=True) + 0.3 * big_mm
        height += _under(line, wide_mm, big_mm)
    if piece.cap:
        height += 1.45 * big_mm
    height += _lines(piece.flow, wide_mm, NEAR * big_mm)
    return height + _lines(f"Write down: {piece.score}", wide_mm, NEAR * big_mm) + 4


def _under(line: WallLine, wide_mm: float, big_mm: float) -> float:
    """Height that plates and rest take: words in two sizes, broken by the larger."""
    size_mm = _far(REST * big_mm)
    near = [width_em(word) * NEAR / REST for word in line.plates.split()]
    rest = [width_em(word) for word in line.rest.split()]
    if not near and not rest:
        return 0.0
    return wrapped(near + rest, width_em(" "), wide_mm / size_mm) * size_mm * LEADING


def _lines(text: str, wide_mm: float, size_mm: float, *, bold: bool = False) -> float:
    return line_count(text, wide_mm / size_mm, bold=bold) * size_mm * LEADING if text else 0.0
