"""The whole week for paper, as PDF, in tables that can break over pages."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from planner.domain.week import Week
from planner.render.contexts import LineView, PieceView, WeekPage
from planner.render.html import week_html
from planner.render.page import Frame, frame, render
from planner.render.sheet_kind import Attachment, Page, SheetKind, SheetSource
from planner.render.week_view import week_page


@dataclass(frozen=True)
class WeekPrint:
    """The document: the contents of the week's file, with the heading of the other sheets.

    Attributes:
        told: for each day, piece, version and line, the earlier version that already prints the same
            standard, points and easier options; empty if they are printed here.
    """

    frame: Frame
    page: WeekPage
    told: dict[tuple[str, str, int, int], str]


def week_print_html(week: Week, templates: Path | None = None) -> str:
    """The week on A4: every version, dose and load, and the rule report.

    Args:
        week: the solved week.
        templates: folder of templates; the program's own if None.
    """
    page = week_page(week)
    told = {
        (day.anchor, piece.kind, number, row): where
        for day in page.days
        for piece in day.pieces
        for (number, row), where in _told(piece).items()
    }
    return render("pages/week_print.html", WeekPrint(frame(week, "The week"), page, told), templates)


def _files(source: SheetSource) -> list[Page | Attachment]:
    week = source.week
    return [
        Page("week", "The whole week", partial(week_html, week), partial(week_print_html, week)),
        Attachment("week.json", "The week as data", "JSON", partial(_data, week)),
    ]


def _data(week: Week) -> bytes:
    return f"{week.model_dump_json(indent=1)}\n".encode()


KIND = SheetKind(
    name="week",
    heading="The week",
    about="Every session in every version, the balance, the rules and the proof.",
    files=_files,
)


def _told(piece: PieceView) -> dict[tuple[int, int], str]:
    first: dict[object, str] = {}
    found = {}
    for version in piece.versions:
        for row, line in enumerate(version.lines):
            found[version.number, row] = first.get(_standard(line), "")
            first.setdefault(_standard(line), version.name)
    return found


def _standard(line: LineView) -> object:
    return (line.standard, line.points, line.faults, line.easier)
