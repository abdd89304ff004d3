"""The Jinja environment, and the week as one self-contained HTML file."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from planner import paths
from planner.domain.mark import MARK
from planner.domain.week import Week
from planner.render.face import style_rules
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
    """The Jinja environment: everything escaped, nothing undefined passed over; style sheets have the faces.

    Args:
        templates: folder of templates; what it does not have is taken from the program's own.

    Raises:
        DataError: the program's folder has no face to set sheets in.
    """
    own = paths.home().templates
    made = Environment(
        loader=FileSystemLoader((templates, own)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["faces"] = Markup(style_rules(own))  # noqa: S704  (one's own style rules)
    made.globals["generator"] = MARK
    return made
