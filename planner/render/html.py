"""The Jinja environment, and the week as one self-contained HTML file."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from planner import paths
from planner.domain.week import Week
from planner.render.week_view import week_page


def week_html(week: Week, templates: Path | None = None) -> str:
    """The week as one HTML file: no network, no script, for screen and for paper.

    Args:
        week: the solved week.
        templates: folder of templates; the program's own if None.

    Returns:
        The file's text.
    """
    page = week_page(week)
    context = {field.name: getattr(page, field.name) for field in fields(page)}
    return environment(templates or paths.home().templates).get_template("pages/week.html").render(context)


def environment(templates: Path) -> Environment:
    """The Jinja environment: everything escaped, nothing undefined passed over.

    Args:
        templates: folder of templates; what it does not have is taken from the program's own.
    """
    return Environment(
        loader=FileSystemLoader((templates, paths.home().templates)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
