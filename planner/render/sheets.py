"""All sheets of a week as file contents by name, before any of them is written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day, Gym
from planner.domain.progress import Progress, quiet
from planner.domain.week import Week
from planner.errors import DataError
from planner.extensions import SHEETS, added
from planner.floor.lanes import PieceRun
from planner.render import brief, calendar, loads_card, member, wall, week_print
from planner.render.index import IndexEntry, IndexFile, IndexGroup, index_html
from planner.render.page import session_of
from planner.render.sheet_kind import Attachment, Page, SheetKind, SheetSource

OWN = (week_print.KIND, wall.KIND, member.KIND, brief.KIND, loads_card.KIND, calendar.KIND)
"""A new kind of sheet is a module with a ``KIND``, its template, and an entry here."""
KINDS: dict[str, SheetKind] = {kind.name: kind for kind in (*OWN, *added(SHEETS).values())}
FORMATS = ("html", "pdf")


def sheets(
    week: Week,
    folder_id: str,
    *,
    gym: Gym | None = None,
    catalogue: Catalogue | None = None,
    only: Iterable[str] = (),
    day: Day | None = None,
    formats: Iterable[str] = ("html",),
    before: Callable[[str], bytes | None] = lambda _name: None,
    runs: Callable[[Day], Sequence[PieceRun]] | None = None,
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
        before: what stands in the folder already, by file name, so that a calendar's changed events count up.
        runs: a day's pieces on the floor, for the brief; None where the gym is not known.
        progress: called with a label and a fraction done.

    Returns:
        Contents by file name.

    Raises:
        DataError: a kind or format is not known, or what it needs is not there.
    """
    source = SheetSource(week, folder_id, day, gym, catalogue, before, runs)
    forms = _chosen(formats, FORMATS, "format") or ("html",)
    groups = {kind: list(kind.files(source)) for kind in _kinds(tuple(only), source)}
    if "pdf" not in forms:
        return _files(week, groups, forms)[0]
    from planner.render.pdf_pool import printer

    pages = sum(isinstance(file, Page) for files in groups.values() for file in files)
    with printer(pages, progress=progress) as printed:
        files, papers = _files(week, groups, forms)
        return {**files, **printed(papers)}


def _kinds(asked: tuple[str, ...], source: SheetSource) -> list[SheetKind]:
    """The kinds to be written, in order: those that are asked for, or all that can be."""
    names = _chosen(asked, tuple(KINDS), "kind of sheet") or tuple(KINDS)
    kinds = [KINDS[name] for name in names]
    if source.day:
        whole = [kind.name for kind in kinds if not kind.of_a_day]
        if asked and whole:
            known = ", ".join(kind.name for kind in KINDS.values() if kind.of_a_day)
            raise DataError(f"{whole[0]} is of the whole week", advice=f"Of one day there are: {known}.")
        kinds = [kind for kind in kinds if kind.of_a_day]
        session_of(source.week, source.day)
    if source.gym is None or source.catalogue is None:
        lacking = [kind for kind in kinds if kind.needs_gym]
        if asked and lacking:
            raise DataError(f"{lacking[0].needs_gym}", advice="Name the gym's folder too.")
        kinds = [kind for kind in kinds if kind not in lacking]
    return kinds


def _chosen(words: Iterable[str], known: tuple[str, ...], what: str) -> tuple[str, ...]:
    asked = tuple(words)
    wrong = [word for word in asked if word not in known]
    if wrong:
        raise DataError(f'there is no {what} "{wrong[0]}"', advice=f"Known: {', '.join(known)}.")
    return tuple(word for word in known if word in asked)


def _files(
    week: Week, groups: Mapping[SheetKind, list[Page | Attachment]], forms: tuple[str, ...]
) -> tuple[dict[str, bytes], dict[str, str]]:
    """All files, those to be laid out for PDF still empty; and the pages of these."""
    files: dict[str, bytes] = {"index.html": b""}
    papers: dict[str, str] = {}
    listed = []
    for kind, made in groups.items():
        entries = []
        for file in made:
            if isinstance(file, Page):
                entries.append(_write(file, forms, files, papers))
            else:
                files[file.name] = file.content()
                entries.append(IndexEntry(file.what, (IndexFile(file.name, file.form),)))
        listed.append(IndexGroup(kind.heading, kind.about, tuple(entries)))
    files["index.html"] = index_html(week, tuple(listed)).encode()
    return files, papers


def _write(page: Page, forms: tuple[str, ...], files: dict[str, bytes], papers: dict[str, str]) -> IndexEntry:
    """Adds the page to the files. A page for PDF goes to the papers, its place among the files is kept."""
    html = page.html() if page.paper is None or "html" in forms else ""
    written = []
    for form in forms:
        name = f"{page.stem}.{form}"
        if form == "pdf":
            papers[name] = page.paper() if page.paper else html
            files[name] = b""
        else:
            files[name] = html.encode()
        written.append(IndexFile(name, form.upper()))
    return IndexEntry(page.what, tuple(written))
