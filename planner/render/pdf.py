"""A sheet as PDF, with an optional library."""

from __future__ import annotations

import hashlib
import logging
import re
from functools import lru_cache
from typing import Any

from planner.domain.mark import MARK
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
        from weasyprint.urls import URLFetcher
    except (ImportError, OSError) as error:
        raise DataError(
            f"PDF needs a library that is not installed here: {error}",
            advice="In the folder that the planner was installed from: pip install '.[pdf]' (on Debian also "
            "apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0). Or write --format html.",
        ) from error
    # Its warnings are about style rules for browsers, and would only confuse.
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    # Nothing but what the page itself holds: its faces.
    document: Any = HTML(string=_written_out(html), url_fetcher=URLFetcher(allowed_protocols=("data",)))
    # The mark stands where it is not compressed: in the file's identifier.
    identifier = f"{MARK} {hashlib.sha256(html.encode()).hexdigest()[:32]}"
    data: bytes = document.write_pdf(font_config=_faces(), pdf_identifier=identifier.encode())
    return data


@lru_cache(maxsize=1)
def _faces() -> Any:
    """Where the library keeps the faces that it has unpacked: for every page of a process the same ones."""
    from weasyprint.text.fonts import FontConfiguration

    return FontConfiguration()


def _written_out(html: str) -> str:
    """The page with CSS variables replaced by values, which the library would resolve for every element."""
    named = {
        name.strip(): value.strip()
        for rules in ROOT_RULES.findall(html)
        for name, _, value in (rule.partition(":") for rule in rules.split(";"))
        if value
    }
    return re.sub(r"var\((--[\w-]+)\)", lambda found: named.get(found[1], found[0]), html)
