"""The ``planner`` command, and ``python -m planner``; ready for Ctrl-C before anything large is imported."""

from __future__ import annotations

import gc
import os
import signal
import sys

SELDOM = 50_000
"""New objects before Python looks for circles among them: a command makes many that stay, and few circles."""
INTERRUPTED, NO_ROOM = 130, 74
NOT_SAID = "what the command says cannot be written"


def _at_once(*_: object) -> None:
    """Before a command has begun there is nothing to unwind, and importing is no place for an exception."""
    os.write(2, b"Stopped. Nothing was changed or written.\n")
    os._exit(INTERRUPTED)


def main() -> None:
    """Run a command; ends with its exit code."""
    signal.signal(signal.SIGINT, _at_once)
    gc.set_threshold(SELDOM)
    code, screen = 0, sys.stdout
    try:
        from planner import stopping
        from planner.cli import main as run

        stopping.listen()
        for stream in (sys.stdout, sys.stderr):
            # Where the terminal cannot show a sign it shows a question mark.
            if hasattr(stream, "reconfigure"):
                stream.reconfigure(errors="replace")
        run()
    except KeyboardInterrupt:
        code = INTERRUPTED
    except OSError as error:
        code = NO_ROOM
        if not isinstance(error, BrokenPipeError):
            _say(f"{NOT_SAID}: {error.strerror}")
    except SystemExit as ended:
        code = ended.code if isinstance(ended.code, int) else int(ended.code is not None)
        # So the libraries say that whoever reads has enough, as with "| head".
        if sys.stdout is not screen or isinstance(ended.__context__, BrokenPipeError):
            code = NO_ROOM
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if code == INTERRUPTED:
        _say(stopping.said())
    code = _flushed(code)
    if code == INTERRUPTED:
        stopping.leave()
    sys.exit(code)


def _say(text: str) -> None:
    try:
        print(text, file=sys.stderr)  # noqa: T201
    except OSError:
        return  # then there is nowhere left to say it


def _flushed(code: int) -> int:
    """The exit code, once it is known whether all that was said came out."""
    for stream in (sys.stderr, sys.stdout):
        try:
            stream.flush()
        except OSError as error:
            if code != NO_ROOM and not isinstance(error, BrokenPipeError):
                _say(f"{NOT_SAID}: {error.strerror}")
            code = NO_ROOM
            # The interpreter tries once more as it ends.
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    return code


if __name__ == "__main__":
    main()
