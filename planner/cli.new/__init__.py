"""The command line: each command reads, calls one verb, writes, and says what it did."""

from __future__ import annotations

from planner.cli import asking, catalogue, life, record, week
from planner.cli.base import app

__all__ = ["app", "asking", "catalogue", "life", "main", "record", "week"]


def main() -> None:
    """The ``planner`` command."""
    app()
