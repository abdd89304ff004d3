"""What all sheets share: heading, colours and rendering."""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import date, timedelta
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment

from planner import paths
from planner.domain.gym import Day
from planner.domain.week import KitText, Session, Week
from planner.errors import DataError
from planner.render import notation, palette
from planner.render.html import environment

DAYS_IN_WEEK = 7


@dataclass(frozen=True)
class Frame:
    """The heading of a sheet, and its colours.

    Attributes:
        title: of the file.
        gym: name.
        invented: whether the gym is a demo.
        week: "Week 49 of 2025".
        dates: "1 to 7 December 2025".
        reading: the order of the loads: "Men / Women"; empty without athletes.
        light: colours as CSS declarations, and ``dark`` those for a dark screen.
    """

    title: str
    gym: str
    invented: bool
    week: str
    dates: str
    reading: str
    light: str
    dark: str


def frame(week: Week, title: str) -> Frame:
    """The heading of a sheet of this week.

    Args:
        week: whose sheet it is.
        title: what the sheet is, before the gym's name.
    """
    label = notation.iso_week(week.week)
    sunday = date.fromisoformat(week.monday) + timedelta(days=DAYS_IN_WEEK - 1)
    return Frame(
        title=f"{title}: {week.gym}, {label}",
        gym=week.gym,
        invented=week.invented,
        week=label,
        dates=notation.date_range(week.monday, sunday.isoformat()),
        reading=" / ".join(athlete.name for athlete in week.athletes),
        light=palette.declarations("light"),
        dark=palette.declarations("dark"),
    )


def session_of(week: Week, day: Day) -> Session:
    """The session of a day.

    Raises:
        DataError: there is no class that day.
    """
    found = next((session for session in week.sessions if session.day == day), None)
    if found is None:
        held = ", ".join(session.day for session in week.sessions)
        raise DataError(f'the week has no session on "{day}"', advice=f"It has: {held}.")
    return found


def kit_of(week: Week, kit: str) -> tuple[int, KitText]:
    """A kit version with its number, the gym floor being 0.

    Raises:
        DataError: the week has no such version.
    """
    for number, text in enumerate(week.kits):
        if text.id == kit:
            return number, text
    raise DataError(
        f'the week has no kit version "{kit}"', advice=f"It has: {', '.join(k.id for k in week.kits)}."
    )


def render(template: str, page: Any, templates: Path | None = None) -> str:
    """Renders a template with a page's values.

    Args:
        template: path below the folder of templates.
        page: a dataclass whose fields the template sees.
        templates: folder of templates; the program's own if None.
    """
    context = {field.name: getattr(page, field.name) for field in fields(page)}
    return _environment(templates or paths.home().templates).get_template(template).render(context)


@lru_cache(maxsize=4)
def _environment(templates: Path) -> Environment:
    return environment(templates)
