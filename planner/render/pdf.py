"""A sheet as PDF, by a library that need not be installed."""

from __future__ import annotations

import logging
from typing import Any, NoReturn

from planner.errors import DataError


def pdf_bytes(html: str) -> bytes:
    """A self-contained page as PDF, with its fonts inside, and nothing fetched from anywhere.

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
    # What it cannot draw is in the browser's style rules, and is not the reader's business.
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    document: Any = HTML(string=html, url_fetcher=_refuse)
    data: bytes = document.write_pdf()
    return data


def _refuse(url: str, *_args: object, **_more: object) -> NoReturn:
    raise ValueError(f"a sheet asks for nothing from outside itself: {url}")
