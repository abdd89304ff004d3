"""Ctrl-C: work ends within a second, what was kept is known, and nothing is half written.

Python hands a signal to the program's own code only between two of its steps, so a search that runs for
seconds in the solver's library would swallow it. ``listen`` therefore has the signal wake a thread, which ends
whatever was announced with ``stoppable``; the first step after that raises KeyboardInterrupt.
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator

_AGAIN_S = 0.05
"""A search that has only just begun may not hear the first call."""

_asked = threading.Event()
_stops: dict[int, Callable[[], object]] = {}
_kept: list[str] = []
_held = 0


def listen() -> None:
    """From now on Ctrl-C ends announced work too. To be called once, by the main thread."""
    reader, writer = os.pipe()
    os.set_blocking(writer, False)
    signal.set_wakeup_fd(writer, warn_on_full_buffer=False)
    signal.signal(signal.SIGINT, _interrupt)
    threading.Thread(target=_watch, args=(reader,), name="ctrl-c", daemon=True).start()


@contextlib.contextmanager
def stoppable(stop: Callable[[], object]) -> Iterator[None]:
    """Announce work in a library, in whatever thread; what it gave is not used once a stop was asked for.

    Args:
        stop: ends the work soon; may be called again, and from another thread.

    Raises:
        KeyboardInterrupt: a stop was asked for, before or meanwhile.
    """
    check()
    key = id(stop)
    _stops[key] = stop
    try:
        yield
    finally:
        _stops.pop(key, None)
    check()


def check() -> None:
    """Go no further once a stop was asked for.

    Raises:
        KeyboardInterrupt: it was.
    """
    if _asked.is_set():
        raise KeyboardInterrupt


@contextlib.contextmanager
def keeping(what: str) -> Iterator[None]:
    """A short step that is not to be torn apart: it is done before a stop counts, and then it is known as kept.

    Args:
        what: that is kept, in words for a coach: "candidate B of 2026-W49".
    """
    global _held  # noqa: PLW0603  (one program, one Ctrl-C)
    _held += 1
    try:
        yield
        _kept.append(what)
    finally:
        _held -= 1
    if not _held:
        check()


def kept() -> tuple[str, ...]:
    """What was kept or written so far, in order."""
    return tuple(dict.fromkeys(_kept))


def forget() -> None:
    """Begin anew: nothing is asked for, nothing was kept."""
    _asked.clear()
    _kept.clear()


def _interrupt(_number: int, _frame: object) -> None:
    _asked.set()
    if not _held:
        raise KeyboardInterrupt


def _watch(reader: int) -> None:
    while signal.SIGINT in os.read(reader, 1):
        _asked.set()
        while _stops:
            for stop in tuple(_stops.values()):
                stop()
            time.sleep(_AGAIN_S)
