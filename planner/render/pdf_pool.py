"""Many pages to PDF, in as many processes as there are processors: laying out takes seconds a document."""

from __future__ import annotations

import gc
import multiprocessing
import os
from collections.abc import Mapping
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool

from planner.render.pdf import pdf_bytes

MOST_PROCESSES = 4
FEW_LETTERS = 150_000
"""So little to lay out that a second process would take longer to start than it saves."""


def pdfs(pages: Mapping[str, str], processes: int | None = None) -> dict[str, bytes]:
    """Each page as PDF; the same bytes whatever the number of processes.

    Args:
        pages: self-contained pages by name.
        processes: at most; one for each processor, up to four, if None.

    Returns:
        The documents by name, in the order of the pages.

    Raises:
        DataError: the library is not installed, as a page on its own says.
    """
    most = processes or min(MOST_PROCESSES, os.cpu_count() or 1)
    count = min(most, len(pages))
    if count > 1 and (processes or sum(map(len, pages.values())) > FEW_LETTERS):
        # The longest first, so that none is left over for the end.
        names = sorted(pages, key=lambda name: (-len(pages[name]), name))
        try:
            # A process that ends after a few documents need not look for rubbish: a tenth of its time.
            with ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), gc.disable) as pool:
                made = dict(zip(names, pool.map(pdf_bytes, [pages[name] for name in names]), strict=True))
            return {name: made[name] for name in pages}
        except (BrokenProcessPool, OSError):
            # Where no other process may run, or one was ended from outside: here, one after another.
            pass
    return {name: pdf_bytes(html) for name, html in pages.items()}
