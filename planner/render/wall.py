"""The wall sheet: one day in type that can be read across a room."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Literal

from planner.domain.clock import LABELS
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.week import Line, Piece, Session, Week
from planner.domain.words import capital
from planner.render import notation
from planner.render.instead import instead, short_dose, short_load
from planner.render.page import Frame, frame, render, session_of
from planner.render.sheet_kind import Page, SheetKind
from planner.render.wall_layout import FAR_MM, REM_MM, WallLine, WallPiece, WallSheet, spread

Paper = Literal["A3", "A4"]
A4_SHARE = 210 / 297
"""Sides of A4 to those of A3."""
SCREEN_PERCENT = 100 * REM_MM / 420
"""The same unit in hundredths of a screen as wide as the paper."""


@dataclass(frozen=True)
class WallPage:
    """The sheet, or sheets.

    Attributes:
        under: date, effort, gym, and whose loads come first.
        sheets: one; where a full day would be too small to read, one for each piece.
        paper: A3 or A4.
        rem_mm: unit of type on paper, and ``rem_vw`` on a screen.
        far_rem: the smallest type that can be read across the room.
    """

    frame: Frame
    day: str
    about: str
    under: str
    sheets: tuple[WallSheet, ...]
    paper: Paper
    rem_mm: float
    rem_vw: float
    far_rem: float


def wall_html(week: Week, day: Day, *, paper: Paper = "A3", templates: Path | None = None) -> str:
    """One day for the wall: one page if that can be read at four metres, else a page for each piece.

    Args:
        week: the solved week.
        day: which day.
        paper: A3, or the same sheets smaller on A4.
        templates: folder of templates; the program's own if None.

    Raises:
        DataError: there is no class that day.
    """
    return render("pages/wall.html", wall_page(week, session_of(week, day), paper), templates)


KIND = SheetKind(
    name="wall",
    heading="For the wall",
    about="One day on A3, in type that is read at four metres; a day that does not fit so takes two sheets.",
    files=lambda source: [
        Page(f"wall-{day}", DAY_NAMES[day], partial(wall_html, source.week, day)) for day in source.days
    ],
    of_a_day=True,
)


def wall_page(week: Week, session: Session, paper: Paper) -> WallPage:
    """The contents of each sheet, and the type size that fills it."""
    pieces = tuple(_piece(piece, session, week) for piece in session.pieces if piece.kind in LABELS)
    name = DAY_NAMES[session.day]
    cautions = tuple(notation.sentence(text) for text in session.cautions)
    top = frame(week, f"{name}, for the wall")
    under = " ".join(
        (
            f"{notation.day_month(session.date)}, {top.week}.",
            notation.effort(session),
            f"Loads: {top.reading}." if top.reading else "",
            f"{top.gym}{', an invented gym' if top.invented else ''}.",
        )
    )
    return WallPage(
        frame=top,
        day=name,
        about=session.title,
        under=under,
        sheets=spread((name, session.title, under), pieces, instead(session, week), cautions),
        paper=paper,
        rem_mm=round(REM_MM * (1 if paper == "A3" else A4_SHARE), 3),
        rem_vw=round(SCREEN_PERCENT, 3),
        far_rem=round(FAR_MM / REM_MM, 3),
    )


def _piece(piece: Piece, session: Session, week: Week) -> WallPiece:
    version = piece.versions.get(week.kits[0].id)
    return WallPiece(
        kind=piece.kind,
        heading=f"{LABELS[piece.kind]}, {piece.minutes} min",
        title=capital(notation.times(piece.title)),
        lines=tuple(_line(line) for line in version.lines) if version else (),
        cap=f"Cap {piece.cap_minutes} min" if piece.cap_minutes is not None else "",
        score=notation.sentence(piece.score),
        flow=piece.class_flow,
        instead=instead(session, week, piece.kind),
    )


def _line(line: Line) -> WallLine:
    plates = "" if line.work_sets else " / ".join(notation.plates(line.loads))
    each = notation.set_by_set(line)
    rest = [f"rest {notation.span(line.rest_s)}"] if line.rest_s else []
    under = "; ".join(filter(None, (each, ", ".join((*rest, *line.terms)))))
    return WallLine(
        dose=capital(short_dose(line)),
        name=capital(line.name) + notation.by_hand(line),
        load="" if each else short_load(line),
        plates=f"each side {plates}" if plates else "",
        rest=under,
    )
