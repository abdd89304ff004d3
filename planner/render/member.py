"""The member sheet: one kit version on its own, for a phone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from planner.domain.gym import DAY_NAMES, Day
from planner.domain.week import Line, Load, Piece, Session, Week
from planner.domain.words import capital
from planner.render import notation
from planner.render.contexts import DayView, Fact, LineView, PieceView, VersionView
from planner.render.day_view import day_view
from planner.render.exercise_plan import exercise_plan
from planner.render.page import Frame, frame, kit_of, render, session_of
from planner.render.sheet_kind import Page, SheetKind, SheetSource


@dataclass(frozen=True)
class MemberSets:
    """Work sets in a row that are alike, with their loads by athlete."""

    term: str
    loads: tuple[Fact, ...]


@dataclass(frozen=True)
class MemberLine:
    """A movement: as on the week sheet, its loads by athlete, also set by set where sets differ."""

    line: LineView
    name: str
    loads: tuple[Fact, ...]
    sets: tuple[MemberSets, ...]


@dataclass(frozen=True)
class MemberPiece:
    """A part of the session in this version.

    Attributes:
        piece: heading, purpose, drills.
        title: empty where it says no more than the heading.
        version: note and forecast; None in warm-up and cool-down, or where the version has no such piece.
        lines: its movements, in order.
        missing: whether the session has this piece but this version does not.
        score: how to write the result down.
    """

    piece: PieceView
    title: str
    version: VersionView | None
    lines: tuple[MemberLine, ...]
    missing: bool
    score: str


@dataclass(frozen=True)
class MemberDay:
    """A day: its facts, and its pieces in order."""

    day: DayView
    pieces: tuple[MemberPiece, ...]


@dataclass(frozen=True)
class MemberPage:
    """The sheet of one kit version."""

    frame: Frame
    kit: str
    contains: str
    dates: str
    athletes: tuple[Fact, ...]
    days: tuple[MemberDay, ...]
    cautions: tuple[str, ...]
    plan: dict[str, Any]


def member_html(week: Week, kit: str, day: Day | None = None, *, templates: Path | None = None) -> str:
    """One kit version of the whole week, or of one day, that stands on its own.

    Args:
        week: the solved week.
        kit: id of the version.
        day: one day; all days if None.
        templates: folder of templates; the program's own if None.

    Raises:
        DataError: the week has no such version, or no class that day.
    """
    sessions = week.sessions if day is None else (session_of(week, day),)
    return render("pages/member.html", member_page(week, kit, sessions), templates)


def _pages(source: SheetSource) -> list[Page]:
    stem, of_day = (f"-{source.day}", f", {DAY_NAMES[source.day]}") if source.day else ("", "")
    return [
        Page(
            f"member-{kit.id}{stem}", kit.name + of_day, partial(member_html, source.week, kit.id, source.day)
        )
        for kit in source.week.kits
    ]


KIND = SheetKind(
    name="member",
    heading="For members",
    about="One version on its own, for a phone.",
    files=_pages,
    of_a_day=True,
)


def member_page(week: Week, kit: str, sessions: tuple[Session, ...]) -> MemberPage:
    """The contents of the sheet."""
    number, text = kit_of(week, kit)
    heading = frame(week, text.name)
    one = sessions[0] if len(sessions) == 1 else None
    return MemberPage(
        frame=heading,
        kit=text.name,
        contains=notation.sentence(text.contains),
        dates=notation.date_range(one.date, one.date) if one else heading.dates,
        athletes=tuple(Fact(athlete.name, notation.sentence(athlete.lifts)) for athlete in week.athletes)
        if _loaded(sessions, kit)
        else (),
        days=tuple(_day(session, week, number) for session in sessions),
        cautions=tuple(notation.sentence(caution) for caution in week.cautions),
        plan=exercise_plan(week, sessions, kit),
    )


def _loaded(sessions: tuple[Session, ...], kit: str) -> bool:
    """Whether there is any load in this version."""
    pieces = [piece.versions[kit] for s in sessions for piece in s.pieces if kit in piece.versions]
    return any(line.loads for version in pieces for line in version.lines)


def _day(session: Session, week: Week, number: int) -> MemberDay:
    seen = day_view(session, week)
    pairs = zip(session.pieces, seen.pieces, strict=True)
    return MemberDay(seen, tuple(_piece(piece, view, week, number) for piece, view in pairs))


def _piece(piece: Piece, view: PieceView, week: Week, number: int) -> MemberPiece:
    found = piece.versions.get(week.kits[number].id)
    version = next((v for v in view.versions if v.number == number), None)
    pairs = zip(found.lines, version.lines, strict=True) if found and version else ()
    own = found.own_title if found else ""
    if own and found and version:
        version = replace(version, note=notation.sentence(found.note))
    return MemberPiece(
        piece=view,
        title=capital(own or view.title),
        version=version,
        lines=tuple(_line(line, shown, week) for line, shown in pairs),
        missing=bool(piece.versions) and found is None,
        score=notation.sentence(piece.score),
    )


def _line(line: Line, shown: LineView, week: Week) -> MemberLine:
    names = {athlete.id: athlete.name for athlete in week.athletes}
    return MemberLine(
        line=shown,
        name=capital(shown.name),
        loads=_loads(line.loads, names),
        sets=tuple(
            MemberSets(fact.term, _loads(alike.loads, names))
            for fact, alike in zip(shown.sets, line.work_sets, strict=True)
        ),
    )


def _loads(loads: tuple[Load, ...], names: dict[str, str]) -> tuple[Fact, ...]:
    return tuple(
        Fact(names.get(load.athlete, load.athlete), notation.times(load.text), _side(load, loads))
        for load in loads
    )


def _side(load: Load, loads: tuple[Load, ...]) -> str:
    """Plates for each side of a bar; empty if there are none."""
    if not any(other.per_side_kg for other in loads):
        return ""
    plates = "+".join(notation.number(kg) for kg in load.per_side_kg)
    return f"each side {plates}" if plates else "empty bar"
