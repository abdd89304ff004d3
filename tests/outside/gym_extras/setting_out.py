"""A sheet: what is to stand on the floor before the class comes, day by day."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from planner.domain.gym import DAY_NAMES
from planner.domain.week import Week
from planner.render.page import Frame, frame, render
from planner.render.sheet_kind import Page, SheetKind

TEMPLATES = Path(__file__).parent / "templates"


@dataclass(frozen=True)
class SettingOut:
    """The page: each day's name with what is to stand on the floor."""

    frame: Frame
    days: tuple[tuple[str, tuple[str, ...]], ...]


def setting_out_html(week: Week) -> str:
    """Names of the equipment that each day's gym floor needs, in the order of the lines."""
    floor = week.kits[0].id
    days = []
    for session in week.sessions:
        lines = [line for p in session.pieces if floor in p.versions for line in p.versions[floor].lines]
        items = dict.fromkeys(item for line in lines for item in line.equipment)
        days.append((DAY_NAMES[session.day], tuple(items)))
    return render("setting_out.html", SettingOut(frame(week, "Setting out"), tuple(days)), TEMPLATES)


KIND = SheetKind(
    name="setting_out",
    heading="Setting out",
    about="What is to stand on the floor.",
    files=lambda source: [
        Page("setting_out", "The whole week", partial(setting_out_html, source.week)),
    ],
)
