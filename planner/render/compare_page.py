"""Two candidates side by side as one HTML file: what is the same is quiet, what differs is marked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from planner.domain.comparison import (
    Both,
    Cell,
    Comparison,
    DayHead,
    DayPair,
    PieceHead,
    PiecePair,
    VersionPair,
    WeekHead,
)
from planner.domain.gym import DAY_NAMES
from planner.domain.week import Line
from planner.domain.words import capital, listed
from planner.render import notation, palette
from planner.render.compare_figures_view import FiguresView, figures_view
from planner.render.compare_words import aspects, pair_verdict
from planner.render.contexts import Hardness
from planner.render.day_view import HEADINGS, hardness
from planner.render.page import DAYS_IN_WEEK, Frame, render


@dataclass(frozen=True)
class Bit:
    """A piece of text, and whether the other week says something else there."""

    text: str
    differs: bool


@dataclass(frozen=True)
class SideView:
    """What one week has in a row.

    Attributes:
        lead: in front, in accent: the dose.
        name: the movement, or the title.
        rest: loads, scheme, set-up; minutes, time domain, cap.
    """

    lead: Bit
    name: Bit
    rest: tuple[Bit, ...]


@dataclass(frozen=True)
class RowView:
    """Two sides of a row.

    Attributes:
        a: of the one week; None where it has none.
        b: of the other.
        same: whether they are alike.
        words: what differs: "movement, load", "only in A"; empty where nothing does.
    """

    a: SideView | None
    b: SideView | None
    same: bool
    words: str


@dataclass(frozen=True)
class VersionRows:
    """A kit version: its lines, its forecast, and what there is to say of them all."""

    name: str
    floor: bool
    same: bool
    verdict: str
    rows: tuple[RowView, ...]


@dataclass(frozen=True)
class DrillsView:
    """Drills of one side only, and how many both have."""

    only_a: tuple[str, ...]
    only_b: tuple[str, ...]
    both: str


@dataclass(frozen=True)
class PieceRows:
    """A piece.

    Attributes:
        heading: which part of the session.
        same: whether nothing differs.
        head: how it runs.
        drills: where they differ.
        versions: kit versions to show one by one, the gym floor first.
        alike: versions other than the gym floor where all of those are the same, and ``alike_names`` theirs.
    """

    heading: str
    same: bool
    head: RowView
    drills: DrillsView | None
    versions: tuple[VersionRows, ...]
    alike: tuple[VersionRows, ...]
    alike_names: str


@dataclass(frozen=True)
class DaySide:
    """What a day is about in one week."""

    title: str
    hardness: Hardness
    rating: str


@dataclass(frozen=True)
class DayRows:
    """A day."""

    anchor: str
    name: str
    same: bool
    verdict: str
    a: DaySide | None
    b: DaySide | None
    pieces: tuple[PieceRows, ...]


@dataclass(frozen=True)
class ComparePage:
    """The whole file."""

    frame: Frame
    a: str
    b: str
    subtitle: Both[str]
    summary: tuple[str, ...]
    days: tuple[DayRows, ...]
    figures: FiguresView


def compare_html(comparison: Comparison, templates: Path | None = None) -> str:
    """The comparison as one HTML file: no network, no script, for screen and for paper.

    Args:
        comparison: of two weeks.
        templates: folder of templates; the program's own if None.
    """
    return render("pages/compare.html", compare_page(comparison), templates)


def compare_page(comparison: Comparison) -> ComparePage:
    """Everything that the file shows."""
    names, heads = comparison.names, comparison.heads
    subtitle = Both[str](a=_when(heads.a), b=_when(heads.b))
    return ComparePage(
        frame=_frame(names, heads),
        a=names.a,
        b=names.b,
        subtitle=subtitle,
        summary=comparison.summary,
        days=tuple(_day(day, names) for day in comparison.days),
        figures=figures_view(comparison),
    )


def _frame(names: Both[str], heads: Both[WeekHead]) -> Frame:
    gym = " / ".join(dict.fromkeys((heads.a.gym, heads.b.gym)))
    week = " / ".join(dict.fromkeys((notation.iso_week(heads.a.week), notation.iso_week(heads.b.week))))
    return Frame(
        title=f"{names.a} beside {names.b}: {gym}, {week}",
        gym=gym,
        invented=heads.a.invented or heads.b.invented,
        week=week,
        dates=" / ".join(dict.fromkeys((_dates(heads.a), _dates(heads.b)))),
        reading="",
        light=palette.declarations("light"),
        dark=palette.declarations("dark"),
    )


def _dates(head: WeekHead) -> str:
    sunday = date.fromisoformat(head.monday) + timedelta(days=DAYS_IN_WEEK - 1)
    return notation.date_range(head.monday, sunday.isoformat())


def _when(head: WeekHead) -> str:
    return f"{head.gym}, {notation.iso_week(head.week)}"


def _day(day: DayPair, names: Both[str]) -> DayRows:
    differing = sum(not piece.same for piece in day.pieces)
    if day.same:
        verdict = "the same in both"
    elif "only" in day.differs:
        verdict = f"only in {names.b if day.heads.a is None else names.a}"
    elif not differing:
        verdict = "the same training, other words"
    else:
        verdict = f"{differing} of {notation.count(len(day.pieces), 'part')} {_differ(differing)}"
    return DayRows(
        anchor=day.day,
        name=DAY_NAMES[day.day],
        same=day.same,
        verdict=verdict,
        a=_day_side(day.heads.a),
        b=_day_side(day.heads.b),
        pieces=tuple(_piece(piece, names) for piece in day.pieces),
    )


def _differ(amount: int) -> str:
    return "differs" if amount == 1 else "differ"


def _day_side(head: DayHead | None) -> DaySide | None:
    if head is None:
        return None
    return DaySide(head.title, hardness(head.hardness), f"effort {head.rating} of 10")


def _piece(piece: PiecePair, names: Both[str]) -> PieceRows:
    heads = piece.heads
    versions = tuple(_version(version, names) for version in piece.versions)
    kits = tuple(version for version in versions if not version.floor)
    alike = kits if all(version.same for version in kits) else ()
    return PieceRows(
        heading=HEADINGS[piece.kind],
        same=piece.same,
        head=RowView(
            a=_piece_side(heads.a, piece),
            b=_piece_side(heads.b, piece),
            same=not piece.differs,
            words=pair_verdict(piece.differs, heads, names),
        ),
        drills=_drills(heads),
        versions=tuple(version for version in versions if version not in alike),
        alike=alike,
        alike_names=listed(version.name for version in alike),
    )


def _piece_side(head: PieceHead | None, piece: PiecePair) -> SideView | None:
    if head is None:
        return None
    differs = piece.differs
    rest = [Bit(f"{head.minutes} min", "minutes" in differs)]
    if head.domain:
        rest.append(Bit(f"time domain {head.domain}", "domain" in differs))
    elif "domain" in differs:
        rest.append(Bit("no time domain", differs=True))
    if head.cap_minutes is not None:
        rest.append(Bit(f"cap {head.cap_minutes} min", "cap" in differs))
    elif "cap" in differs:
        rest.append(Bit("no cap", differs=True))
    if head.drills:
        rest.append(Bit(notation.count(len(head.drills), "drill"), "drills" in differs))
    titled = "format" in differs or "scheme" in differs
    title = "" if head.title == HEADINGS[piece.kind] else notation.times(head.title)
    return SideView(Bit("", differs=False), Bit(title, titled), tuple(rest))


def _drills(heads: Both[PieceHead | None]) -> DrillsView | None:
    a, b = (head.drills if head else () for head in (heads.a, heads.b))
    if a == b or not a or not b:
        return None
    both = [drill for drill in a if drill in b]
    return DrillsView(
        only_a=tuple(drill for drill in a if drill not in b),
        only_b=tuple(drill for drill in b if drill not in a),
        both=f"{notation.count(len(both), 'drill')} in both" if both else "no drill in both",
    )


def _version(version: VersionPair, names: Both[str]) -> VersionRows:
    differing = sum(bool(cell.differs) for cell in version.cells)
    if version.same:
        verdict = "the same in both"
    elif "only" in version.differs:
        verdict = aspects(("only",), names.a if any(cell.lines.a for cell in version.cells) else names.b)
    elif differing:
        verdict = f"{differing} of {notation.count(len(version.cells), 'line')} {_differ(differing)}"
    else:
        verdict = f"differs: {aspects(version.differs, names.a)}"
    rows = [_row(cell, names) for cell in version.cells]
    if "order" in version.differs:
        rows.append(_told(Both[str](a="in this order", b="in another order"), ("order",)))
    if version.forecasts.a or version.forecasts.b:
        rows.append(_told(version.forecasts, () if version.forecasts.same else ("forecast",)))
    return VersionRows(version.name, version.floor, version.same, verdict, tuple(rows))


def _told(texts: Both[str], differs: Sequence[str]) -> RowView:
    def side(text: str) -> SideView | None:
        none = Bit("", differs=False)
        return SideView(none, none, (Bit(capital(text), bool(differs)),)) if text else None

    return RowView(side(texts.a), side(texts.b), not differs, ", ".join(differs))


def _row(cell: Cell, names: Both[str]) -> RowView:
    return RowView(
        a=_line(cell.lines.a, cell),
        b=_line(cell.lines.b, cell),
        same=not cell.differs,
        words=pair_verdict(cell.differs, cell.lines, names),
    )


def _line(line: Line | None, cell: Cell) -> SideView | None:
    if line is None:
        return None
    differs = cell.differs
    rest = _bits(
        (notation.loads(line.loads) or ("no load" if "load" in differs else ""), "load" in differs),
        (_scheme(line), "scheme" in differs),
        (" ".join(notation.sentence(text) for text in (line.start, line.how) if text), "setup" in differs)
        if "setup" in differs
        else ("", False),
    )
    return SideView(Bit(notation.dose(line), "dose" in differs), Bit(line.name, "movement" in differs), rest)


def _bits(*pairs: tuple[str, bool]) -> tuple[Bit, ...]:
    return tuple(Bit(text, differs) for text, differs in pairs if text)


def _scheme(line: Line) -> str:
    if line.sets is None:
        return ""
    parts: Iterable[str] = (
        "beside the main lift" if line.assistance else "",
        f"rest {notation.span(line.rest_s)}" if line.rest_s else "",
        f"{notation.count(line.reserve, 'rep')} in reserve" if line.reserve is not None else "",
    )
    return ", ".join(part for part in parts if part)
