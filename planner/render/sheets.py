"""All the files that go out for a week, by name, before any of them is written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial

from planner.domain.catalogue import Catalogue
from planner.domain.gym import DAY_NAMES, Day, Gym
from planner.domain.progress import Progress, quiet
from planner.domain.week import Week
from planner.errors import DataError
from planner.render.brief import brief_html
from planner.render.calendar import calendar_ics
from planner.render.html import week_html
from planner.render.index import IndexEntry, IndexFile, IndexGroup, index_html
from planner.render.loads_card import loads_card_html
from planner.render.member import member_html
from planner.render.page import session_of
from planner.render.wall import wall_html
from planner.render.week_print import week_print_html

KINDS = ("week", "wall", "member", "brief", "loads", "calendar")
DAY_KINDS = ("wall", "member", "brief")
"""Those that can be of one day."""
FORMATS = ("html", "pdf")
CALENDAR_FILE = "calendar.ics"
GROUPS: dict[str, tuple[str, str]] = {
    "week": (
        "The week",
        "Every session in every version, the balance, the rules and the proof.",
    ),
    "wall": (
        "For the wall",
        "One day on A3, in type that is read at four metres; a full day takes two sheets.",
    ),
    "member": ("For members", "One version on its own, for a phone."),
    "brief": ("For the coach", "One day on one A4 page."),
    "loads": ("Loads", "What to put on the bar by your own 1RM."),
    "calendar": ("Calendar", "Open it with a calendar program; opened again, it updates what is there."),
}


@dataclass(frozen=True)
class _Sheet:
    """A page to make.

    Attributes:
        stem: its file's name without ending.
        what: what the index calls it.
        make: the page.
        paper: the page that is laid out for PDF, where it is another one.
    """

    stem: str
    what: str
    make: Callable[[], str]
    paper: Callable[[], str] | None = None


def sheets(
    week: Week,
    folder_id: str,
    *,
    gym: Gym | None = None,
    catalogue: Catalogue | None = None,
    only: Iterable[str] = (),
    day: Day | None = None,
    formats: Iterable[str] = ("html",),
    calendar_before: bytes | None = None,
    progress: Progress = quiet,
) -> dict[str, bytes]:
    """Every file of a week, and an index of them.

    Args:
        week: the solved week.
        folder_id: stable name of the gym, for the calendar's identifiers.
        gym: whose bars and plates; without it there is no loads card.
        catalogue: for the loads card.
        only: kinds of sheet; all if empty.
        day: sheets of this day alone, and only those that can be of one day.
        formats: html, pdf or both.
        calendar_before: the calendar written before, so that changed events count up.
        progress: called with a label and a fraction done.

    Returns:
        Contents by file name.

    Raises:
        DataError: a kind or format is not known, or what it needs is not there.
    """
    asked = tuple(only)
    kinds = _chosen(asked, KINDS, "kind of sheet") or (DAY_KINDS if day else KINDS)
    if day:
        _check_of_a_day(kinds, day, week)
    forms = _chosen(formats, FORMATS, "format") or ("html",)
    if "loads" in kinds and (gym is None or catalogue is None):
        if asked:
            raise DataError(
                "a loads card needs the gym's bars and plates", advice="Name the gym's folder too."
            )
        kinds = tuple(kind for kind in kinds if kind != "loads")
    pages = {kind: _sheets(kind, week, day, gym, catalogue) for kind in kinds}
    if "pdf" not in forms:
        return _files(week, folder_id, pages, forms, calendar_before)[0]
    from planner.render.pdf_pool import printer

    with printer(sum(map(len, pages.values())), progress=progress) as printed:
        files, papers = _files(week, folder_id, pages, forms, calendar_before)
        return {**files, **printed(papers)}


def _files(
    week: Week,
    folder_id: str,
    pages: Mapping[str, list[_Sheet]],
    forms: tuple[str, ...],
    calendar_before: bytes | None,
) -> tuple[dict[str, bytes], dict[str, str]]:
    """All files, those to be laid out for PDF still empty; and the pages of these."""
    files: dict[str, bytes] = {"index.html": b""}
    papers: dict[str, str] = {}
    groups = []
    for kind, sheets_of_kind in pages.items():
        entries = [_write(sheet, forms, files, papers) for sheet in sheets_of_kind]
        if kind == "calendar":
            files[CALENDAR_FILE] = calendar_ics(week, folder_id, calendar_before)
            entries = [IndexEntry("All sessions", (IndexFile(CALENDAR_FILE, "Calendar"),))]
        if kind == "week":
            files["week.json"] = (week.model_dump_json(indent=1) + "\n").encode()
            entries.append(IndexEntry("The week as data", (IndexFile("week.json", "JSON"),)))
        groups.append(IndexGroup(*GROUPS[kind], tuple(entries)))
    files["index.html"] = index_html(week, tuple(groups)).encode()
    return files, papers


def _chosen(words: Iterable[str], known: tuple[str, ...], what: str) -> tuple[str, ...]:
    asked = tuple(words)
    wrong = [word for word in asked if word not in known]
    if wrong:
        raise DataError(f'there is no {what} "{wrong[0]}"', advice=f"Known: {', '.join(known)}.")
    return tuple(word for word in known if word in asked)


def _check_of_a_day(kinds: tuple[str, ...], day: Day, week: Week) -> None:
    whole = [kind for kind in kinds if kind not in DAY_KINDS]
    if whole:
        raise DataError(
            f"{whole[0]} is of the whole week", advice=f"Of one day there are: {', '.join(DAY_KINDS)}."
        )
    session_of(week, day)


def _sheets(
    kind: str, week: Week, day: Day | None, gym: Gym | None, catalogue: Catalogue | None
) -> list[_Sheet]:
    days = [session.day for session in week.sessions if day in {None, session.day}]
    if kind == "wall":
        return [_Sheet(f"wall-{d}", DAY_NAMES[d], partial(wall_html, week, d)) for d in days]
    if kind == "brief":
        return [_Sheet(f"brief-{d}", DAY_NAMES[d], partial(brief_html, week, d)) for d in days]
    if kind == "member":
        stem, of_day = (f"-{day}", f", {DAY_NAMES[day]}") if day else ("", "")
        return [
            _Sheet(f"member-{k.id}{stem}", k.name + of_day, partial(member_html, week, k.id, day))
            for k in week.kits
        ]
    if kind == "loads" and gym is not None and catalogue is not None:
        return [_Sheet("loads", "The week's lifts", partial(loads_card_html, week, gym, catalogue))]
    if kind == "week":
        return [_Sheet("week", "The whole week", partial(week_html, week), partial(week_print_html, week))]
    return []


def _write(
    sheet: _Sheet, forms: tuple[str, ...], files: dict[str, bytes], papers: dict[str, str]
) -> IndexEntry:
    """Adds the sheet to the files; what becomes PDF, to the papers, with its place among the files kept."""
    html = sheet.make() if sheet.paper is None or "html" in forms else ""
    written = []
    for form in forms:
        name = f"{sheet.stem}.{form}"
        if form == "pdf":
            papers[name] = sheet.paper() if sheet.paper else html
            files[name] = b""
        else:
            files[name] = html.encode()
        written.append(IndexFile(name, form.upper()))
    return IndexEntry(sheet.what, tuple(written))
