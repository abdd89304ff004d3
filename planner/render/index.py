"""The page that leads to all the other files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from planner.domain.week import Week
from planner.render.page import Frame, frame, render


@dataclass(frozen=True)
class IndexFile:
    """A file: where it is, beside the index, and its form: HTML, PDF, JSON, calendar."""

    href: str
    form: str


@dataclass(frozen=True)
class IndexEntry:
    """One sheet in the forms it was written in."""

    what: str
    files: tuple[IndexFile, ...]


@dataclass(frozen=True)
class IndexGroup:
    """Sheets of one kind."""

    name: str
    about: str
    entries: tuple[IndexEntry, ...]


@dataclass(frozen=True)
class IndexPage:
    """The page."""

    frame: Frame
    groups: tuple[IndexGroup, ...]


def index_html(week: Week, groups: tuple[IndexGroup, ...], *, templates: Path | None = None) -> str:
    """The index of a week's files.

    Args:
        week: whose files they are.
        groups: what was written, in order.
        templates: folder of templates; the program's own if None.
    """
    return render("pages/index.html", IndexPage(frame(week, "All sheets"), groups), templates)
