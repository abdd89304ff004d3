"""Drafts a balanced training week for a functional-fitness gym, in every kit version.

The verbs, the same as those of the command line:

    from pathlib import Path
    from planner import audit, draft, read_week, sheet

    week = draft(Path("my-gym"), week="2026-W49", seed=1)
    Path("week.html").write_text(sheet(week), encoding="utf-8")
    broken = [rule for rule in audit(week, Path("my-gym")) if rule.level == "must" and rule.measure]

They are looked up at their first use, so that ``planner --help`` does not wait for the solver.
"""

from __future__ import annotations

import sys
from types import ModuleType

TYPE_CHECKING = False  # as type checkers read it; the module of that name takes longer than all of this one
if TYPE_CHECKING:
    from planner.load.gym import read_week
    from planner.weeks.audit import audit
    from planner.weeks.draft import draft
    from planner.weeks.sheets import sheet

    __version__: str

__all__ = ["__version__", "audit", "draft", "read_week", "sheet"]

_VERBS = {
    "audit": "planner.weeks.audit",
    "draft": "planner.weeks.draft",
    "read_week": "planner.load.gym",
    "sheet": "planner.weeks.sheets",
}


class _Package(ModuleType):
    """This package; ``audit`` stays the verb here though a subpackage of the same name is imported."""

    def __setattr__(self, name: str, value: object) -> None:
        if not (name in _VERBS and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package


def __getattr__(name: str) -> object:
    if name in _VERBS:
        from importlib import import_module

        return getattr(import_module(_VERBS[name]), name)
    if name == "__version__":
        from planner.version import program_version

        return program_version()
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
