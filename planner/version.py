"""Which version of the program this is."""

from __future__ import annotations

DISTRIBUTION = "weekly-programming-planner"


def program_version() -> str:
    """As installed; of a checkout that never was, one that no release has."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version(DISTRIBUTION)
    except PackageNotFoundError:
        return "0+unknown"
