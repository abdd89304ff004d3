"""Ctrl-C: work ends within a second, what was kept is known, and nothing is half written.

Python hands a signal to the program's own code only between two of its steps, so a search that runs for
seconds in the solver's library would swallow it. ``listen`` therefore has the signal wake a thread, which
ends whatever was announced with ``stoppable``; the first step after that raises KeyboardInterrupt.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from types import TracebackType
from typing import NoReturn, Self

EXIT_CODE = 130
_AGAIN_S = 0.05
"""A search that has only just begun may not hear the first call."""
_PATIENCE_S = 0.7
"""After this long what does not end by itself is left behind: nothing that is kept hangs on it."""
_HELD_S = 5.0
"""After this long not even a step that is not to be torn apart: the store and the disk mend themselves."""
MOST_SAID = 4
_SHOW_CURSOR = "\x1b[?25h"

_asked = threading.Event()
_stops: dict[object, Callable[[], object]] = {}
_kept: list[str] = []
_held = 0
_told = False


def listen() -> None:
    """From now on Ctrl-C ends announced work too. To be called once, by the main thread."""
    reader, writer = os.pipe()
    os.set_blocking(writer, False)
    signal.set_wakeup_fd(writer, warn_on_full_buffer=False)
    signal.signal(signal.SIGINT, _interrupt)
    sys.unraisablehook = _unraisable
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
    key = object()
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
def undivided() -> Iterator[None]:
    """A short step that is done before a stop counts.

    Raises:
        KeyboardInterrupt: a stop was asked for, before or meanwhile.
    """
    global _held  # noqa: PLW0603  (one program, one Ctrl-C)
    check()
    _held += 1
    try:
        yield
    finally:
        _held -= 1
        check()


class keeping:  # noqa: N801  (it reads as what is done)
    """A step whose last part is not torn apart: once ``hold`` was called it is done before a stop counts."""

    def __init__(self) -> None:
        self.what, self.holds = "", False

    def __enter__(self) -> Self:
        return self

    def hold(self, what: str) -> None:
        """From here on it is done; short, and waiting for nobody.

        Args:
            what: is then kept, in words for a coach: "2026-W49, chose B"; empty where nobody need be told.
        """
        global _held  # noqa: PLW0603  (one program, one Ctrl-C)
        check()
        _held += 1
        self.what, self.holds = what, True

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        global _held  # noqa: PLW0603
        if not self.holds:
            return
        if kind is None and self.what:
            _kept.append(self.what)
        _held -= 1
        check()


def said() -> str:
    """What a stopped command says: what was kept or written before, in order."""
    if not _kept:
        return "Stopped. Nothing was changed or written."
    more = len(_kept) - MOST_SAID
    listed = [*_kept[:MOST_SAID], f"and {more} more"] if more > 0 else _kept
    return f"Stopped. Kept before that: {'; '.join(listed)}."


def leave() -> NoReturn:
    """Ends the process, and those that it started, without waiting for what still runs in a library."""
    processes = sys.modules.get("multiprocessing")
    for child in processes.active_children() if processes else ():
        child.kill()
    os._exit(EXIT_CODE)


def _interrupt(_number: int, _frame: object) -> None:
    """Once is enough: a second one would strike what cleans up after the first."""
    global _told  # noqa: PLW0603
    _asked.set()
    if not _held and not _told:
        _told = True
        raise KeyboardInterrupt


def _unraisable(what: sys.UnraisableHookArgs) -> None:
    """Where Python cannot pass a stop on, as while it frees something, the watch ends the command."""
    if what.exc_type is not KeyboardInterrupt:
        sys.__unraisablehook__(what)


def _watch(reader: int) -> None:
    while signal.SIGINT in os.read(reader, 1):
        _asked.set()
        deadline = time.monotonic() + _PATIENCE_S
        while time.monotonic() < deadline + (_HELD_S if _held else 0):
            for stop in tuple(_stops.values()):
                stop()
            time.sleep(_AGAIN_S)
        if os.isatty(2):
            os.write(2, _SHOW_CURSOR.encode())
        os.write(2, f"{said()}\n".encode())
        leave()
