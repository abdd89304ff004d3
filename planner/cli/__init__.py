"""The command line: each command reads, calls one verb, writes, and says what it did."""

from __future__ import annotations

# In the order in which the help lists the commands.
from planner.cli import week  # isort: skip
from planner.cli import record  # isort: skip
from planner.cli import asking  # isort: skip
from planner.cli import life  # isort: skip
from planner.cli import catalogue  # isort: skip
from planner.cli.base import app

__all__ = ["app", "asking", "catalogue", "life", "main", "record", "week"]


def main() -> None:
    """The ``planner`` command."""
    app()
