"""A sheet as PDF, with an optional library."""

from __future__ import annotations

import logging
import re
from typing import Any, NoReturn

from planner.errors import DataError

ROOT_RULES = re.compile(r"(?<!\{):root\{([^{}]*)\}")
"""Rules for the whole page; not those within a media query, which on paper do not hold."""


def pdf_bytes(html: str) -> bytes:
    """A self-contained page as PDF with its fonts embedded; nothing is fetched.

    Args:
        html: the page.

    Raises:
        DataError: the library, or a system library that it needs, is not installed.
    """
    try:
        from weasyprint import HTML
    except (ImportError, OSError) as error:
        raise DataError(
            f"PDF needs a library that is not installed here: {error}",
            advice="Install it with: pip install 'weekly-programming-planner[pdf]' (on Debian also "
            "libpango-1.0-0, libpangoft2-1.0-0 and libharfbuzz-subset0), or write --format html.",
        ) from error
    # Its warnings are about style rules for browsers, and would only confuse.
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    document: Any = HTML(string=_written_out(html), url_fetcher=_refuse)
    data: bytes = document.write_pdf()
    return data


def _written_out(html: str) -> str:
    """The page with CSS variables replaced by values, which the library would resolve for every element."""
    named = {
        name.strip(): value.strip()
        for rules in ROOT_RULES.findall(html)
        for name, _, value in (rule.partition(":") for rule in rules.split(";"))
        if value
    }
    return re.sub(r"var\((--[\w-]+)\)", lambda found: named.get(found[1], found[0]), html)


def _refuse(url: str, *_args: object, **_more: object) -> NoReturn:
    raise ValueError(f"a sheet asks for nothing from outside itself: {url}")
