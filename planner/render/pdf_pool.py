"""Lays out many pages as PDF in several processes, since each takes seconds."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from functools import partial

from planner.domain.progress import Progress, quiet
from planner.render.pdf import pdf_bytes
from planner.stopping import check, stoppable, undivided

MOST_PROCESSES = 4
FEW_PAGES = 3
"""So little to lay out that a second process would take longer to start than it saves."""

WARNINGS = "PYTHONWARNINGS"

Printer = Callable[[Mapping[str, str]], dict[str, bytes]]


@contextmanager
def printer(count: int, processes: int | None = None, progress: Progress = quiet) -> Iterator[Printer]:
    """Processes that get ready while the pages are still being written.

    It yields a function from pages by name to documents by name. Order and bytes do not depend on the
    number of processes. The function raises DataError if the library is not installed.

    Args:
        count: how many pages there will be.
        processes: at most; one for each processor, up to four, if None.
        progress: called with a label and a fraction done.
    """
    most = min(processes or min(MOST_PROCESSES, os.cpu_count() or 1), count)
    if most == 1 or (processes is None and count <= FEW_PAGES):
        yield partial(_one_by_one, progress)
        return
    with stoppable(_end):
        pool = _ready(most)
        if pool is None:
            yield partial(_one_by_one, progress)
            return
        with pool:
            yield partial(_side_by_side, pool, progress)


def _ready(processes: int) -> ProcessPoolExecutor | None:
    """Processes that have begun to load the library; None where no other process may run."""
    try:
        with undivided(), _no_warnings():
            # Garbage collection would take a tenth of the time of a process that ends after a few documents.
            pool = ProcessPoolExecutor(processes, multiprocessing.get_context("spawn"), gc.disable)
            # By now the library's own first process is there: its start lets Ctrl-C through again.
            with _deaf():
                for _ in range(processes):
                    pool.submit(pdf_bytes, "")
    except OSError:
        return None
    return pool


@contextmanager
def _no_warnings() -> Iterator[None]:
    """Processes started within do not warn of what is left behind when they are ended."""
    before = os.environ.get(WARNINGS)
    os.environ[WARNINGS] = "ignore"
    try:
        yield
    finally:
        if before is None:
            del os.environ[WARNINGS]
        else:
            os.environ[WARNINGS] = before


@contextmanager
def _deaf() -> Iterator[None]:
    """Processes started within do not hear Ctrl-C: this one ends them."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _end() -> None:
    for child in multiprocessing.active_children():
        child.kill()


def _one_by_one(progress: Progress, pages: Mapping[str, str]) -> dict[str, bytes]:
    return dict(_told(progress, pages, map(pdf_bytes, pages.values())))


def _told(progress: Progress, names: Collection[str], made: Iterable[bytes]) -> Iterator[tuple[str, bytes]]:
    """Names and documents, telling how far it is."""
    for number, found in enumerate(zip(names, made, strict=True), 1):
        progress("Laying out PDF", number / len(names))
        yield found


def _side_by_side(pool: Executor, progress: Progress, pages: Mapping[str, str]) -> dict[str, bytes]:
    # The longest first, so that none is left over for the end.
    names = sorted(pages, key=lambda name: (-len(pages[name]), name))
    try:
        made = dict(_told(progress, names, pool.map(pdf_bytes, [pages[name] for name in names])))
    except BrokenProcessPool:
        # One was ended from outside.
        check()
        return _one_by_one(progress, pages)
    return {name: made[name] for name in pages}
