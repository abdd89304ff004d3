"""``python -m planner``."""

from __future__ import annotations

from planner.cli import main

if __name__ == "__main__":
    main()
