"""The command line: each command reads, calls one verb, writes, and says what it did."""

from __future__ import annotations

from planner.cli.app import COMMANDS, main, make_app

app = make_app(COMMANDS)

__all__ = ["app", "main"]
