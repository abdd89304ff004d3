"""Lays out many pages as PDF in several processes, since each takes seconds."""

from __future__ import annotations

import gc
import multiprocessing
import os
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from functools import partial

from planner.render.pdf import pdf_bytes

MOST_PROCESSES = 4
FEW_PAGES = 3
"""So little to lay out that a second process would take longer to start than it saves."""

Printer = Callable[[Mapping[str, str]], dict[str, bytes]]


@contextmanager
def printer(count: int, processes: int | None = None) -> Iterator[Printer]:
    """Starts the processes while the pages are still being written.

    It yields a function from pages by name to documents by name. Order and bytes do not depend on the
    number of processes. The function raises DataError if the library is not installed.

    Args:
        count: how many pages there will be.
        processes: the most to use; if None, one for each processor, up to four.
    """
    most = min(processes or min(MOST_PROCESSES, os.cpu_count() or 1), count)
    if most == 1 or (processes is None and count <= FEW_PAGES):
        yield _one_by_one
        return
    try:
        # Garbage collection would take a tenth of the time of a process that ends after a few documents.
        pool = ProcessPoolExecutor(most, multiprocessing.get_context("spawn"), gc.disable)
        for _ in range(most):
            pool.submit(pdf_bytes, "")
    except OSError:
        # No other process can be started.
        yield _one_by_one
        return
    with pool:
        yield partial(_side_by_side, pool)


def _one_by_one(pages: Mapping[str, str]) -> dict[str, bytes]:
    return {name: pdf_bytes(html) for name, html in pages.items()}


def _side_by_side(pool: Executor, pages: Mapping[str, str]) -> dict[str, bytes]:
    # The longest first, so that no process is left with a long one at the end.
    names = sorted(pages, key=lambda name: (-len(pages[name]), name))
    try:
        made = dict(zip(names, pool.map(pdf_bytes, [pages[name] for name in names]), strict=True))
    except BrokenProcessPool:
        # A process was killed.
        return _one_by_one(pages)
    return {name: made[name] for name in pages}
