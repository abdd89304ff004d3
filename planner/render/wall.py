"""The wall sheet: one day in type that is read across a room."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from planner.domain.gym import DAY_NAMES, Day
from planner.domain.week import Line, Piece, Session, Week
from planner.render import words
from planner.render.contexts import Fact
from planner.render.fit import largest, line_count
from planner.render.instead import WORK, instead
from planner.render.page import Frame, frame, render, session_of

Paper = Literal["A3", "A4"]
REM_MM: dict[Paper, float] = {"A3": 4.0, "A4": 4.0 * 210 / 297}
"""One unit of type at scale 1; A4 is the same sheet, smaller."""
# A3, in mm: the page inside its margins, less a little, so that rounding never makes a second page.
WIDE_MM, HIGH_MM = 420 - 2 * 12, 297 - 2 * 11 - 4
SCREEN_PERCENT = 100 * 4.0 / 420
MOST, LEAST = 2.4, 0.6
NAME, TITLE, KIT, SMALL = 1.66, 1.4, 1.36, 0.85
LEADING = 1.16
GAP = 2.0
SHARES: dict[str, float] = {"strength": 5, "conditioning": 7}
KIT_SHARE = 0.16


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
        share: of the sheet's width, against the others'.
    """

    kind: str
    heading: str
    title: str
    lines: tuple[WallLine, ...]
    cap: str
    score: str
    share: float


@dataclass(frozen=True)
class WallPage:
    """The sheet.

    Attributes:
        paper: A3 or A4.
        rem_mm: unit of type on paper, and ``rem_vw`` on a screen.
    """

    frame: Frame
    day: str
    date: str
    about: str
    effort: str
    pieces: tuple[WallPiece, ...]
    instead: tuple[Fact, ...]
    cautions: tuple[str, ...]
    paper: Paper
    rem_mm: float
    rem_vw: float


def wall_html(week: Week, day: Day, *, paper: Paper = "A3", templates: Path | None = None) -> str:
    """One day as a sheet for the wall: exactly one page, landscape.

    Args:
        week: the solved week.
        day: which day.
        paper: A3, or the same sheet smaller on A4.
        templates: folder of templates; the program's own if None.

    Raises:
        DataError: there is no class that day.
    """
    return render("pages/wall.html", wall_page(week, session_of(week, day), paper), templates)


def wall_page(week: Week, session: Session, paper: Paper) -> WallPage:
    """Everything that the sheet shows, and the size of type that fills it."""
    pieces = tuple(_piece(piece, week) for piece in session.pieces if piece.kind in WORK)
    name = DAY_NAMES[session.day]
    other = instead(session, week)
    cautions = tuple(words.sentence(text) for text in session.cautions)
    heading = f"{name} {session.title}"
    scale = largest(lambda s: _height(heading, pieces, other, cautions, s) <= HIGH_MM / (4 * s), MOST, LEAST)
    return WallPage(
        frame=frame(week, f"{name}, for the wall"),
        day=name,
        date=words.day_month(session.date),
        about=session.title,
        effort=f"{session.hardness}, {session.rating} of 10: {session.rating_words}",
        pieces=pieces,
        instead=other,
        cautions=cautions,
        paper=paper,
        rem_mm=round(REM_MM[paper] * scale, 3),
        rem_vw=round(SCREEN_PERCENT * scale, 3),
    )


def _piece(piece: Piece, week: Week) -> WallPiece:
    version = piece.versions.get(week.kits[0].id)
    return WallPiece(
        kind=piece.kind,
        heading=f"{WORK[piece.kind]}, {piece.minutes} min",
        title=words.capital(words.times(piece.title)),
        lines=tuple(_line(line) for line in version.lines) if version else (),
        cap=f"Cap {piece.cap_minutes} min" if piece.cap_minutes is not None else "",
        score=words.sentence(piece.score),
        share=SHARES[piece.kind],
    )


def _line(line: Line) -> WallLine:
    plates = " / ".join(words.plates(line.loads))
    return WallLine(
        dose=words.dose(line),
        name=words.capital(line.name),
        load=words.loads(line.loads),
        plates=f"each side {plates}" if plates else "",
        rest=f"rest {words.span(line.rest_s)}" if line.rest_s else "",
    )


def _height(
    heading: str,
    pieces: tuple[WallPiece, ...],
    other: tuple[Fact, ...],
    cautions: tuple[str, ...],
    scale: float,
) -> float:
    """Height of the sheet in units of type, as the style sheet sets it."""
    wide = WIDE_MM / (4 * scale)
    whole = sum(piece.share for piece in pieces)
    room = wide - GAP * (len(pieces) - 1)
    head = max(_lines(heading, wide - 24, 2.2, bold=True), 3 * SMALL * LEADING) + 1.4
    columns = max((_piece_height(p, room * p.share / whole) for p in pieces), default=0.0)
    kits = sum(
        max(
            _lines(fact.value, wide * (1 - KIT_SHARE) - 1, KIT),
            _lines(fact.term, wide * KIT_SHARE, 1.15, bold=True) * 1.12,
        )
        + 0.5
        for fact in other
    )
    kits += 2.6 if other else 0
    return head + columns + kits + sum(_lines(c, wide - 2, 1.0) + 0.2 for c in cautions) + 1.2


def _piece_height(piece: WallPiece, wide: float) -> float:
    height = 1.7 + _lines(piece.title, wide, TITLE, bold=True) + 0.5
    for line in piece.lines:
        height += _lines(f"{line.dose} {line.name}", wide, NAME, bold=True) + 0.5
        if line.load:
            small = f"{line.plates} {line.rest}" if line.rest else line.plates
            height += _lines(f"{line.load} {small}", wide - 1, NAME * 0.82, bold=True)
        elif line.rest:
            height += SMALL * LEADING
    if piece.cap:
        height += NAME * 1.5
    return height + _lines(piece.score, wide, SMALL) + 0.4


def _lines(text: str, wide: float, size: float, *, bold: bool = False) -> float:
    return line_count(text, wide / size, bold=bold) * size * LEADING if text else 0.0
