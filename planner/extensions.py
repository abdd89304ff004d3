"""What other installed packages add: sheets, verbs and kinds of rules, each an entry point of its group.

A package says so in its own ``pyproject.toml``; DEVELOPERS.md shows how:

    [project.entry-points."planner.sheets"]
    tally = "my_package.tally:KIND"
"""

from __future__ import annotations

from importlib.metadata import entry_points
from typing import Any

from planner.errors import DataError

SHEETS, VERBS, RULE_KINDS = "planner.sheets", "planner.verbs", "planner.rule_kinds"


def added(group: str) -> dict[str, Any]:
    """What is added to one group, by name, in the order of the names.

    Raises:
        DataError: a package has something that cannot be loaded.
    """
    found = {}
    for entry in sorted(entry_points(group=group), key=lambda e: e.name):
        try:
            found[entry.name] = entry.load()
        except Exception as error:
            package = entry.dist.name if entry.dist else "unknown"
            raise DataError(
                f'the package {package} adds "{entry.name}" to {group}, and it cannot be loaded: {error}',
                advice="Mend that package, or uninstall it.",
            ) from error
    return found
