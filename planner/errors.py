"""What can go wrong, in words for a coach."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


class PlannerError(Exception):
    """Anything the planner says to a coach instead of a traceback."""

    exit_code = 2


@dataclass(frozen=True)
class Place:
    """Where in a file something is wrong.

    Attributes:
        file: the file.
        line: its line, counted from 1, or None where the whole file is meant.
        key: the key, dotted from the top: ``movements.air_squat.doses``.
    """

    file: Path
    line: int | None = None
    key: str = ""

    def __str__(self) -> str:
        """File, line and key on one line."""
        where = f"{self.file}" + (f":{self.line}" if self.line else "")
        return f"{where}: {self.key}" if self.key else where


class DataError(PlannerError):
    """A file that cannot be used: what is wrong, where, and what would be right.

    Args:
        what: the fault in one sentence.
        place: where it is.
        advice: what would be right; may be empty.
    """

    def __init__(self, what: str, place: Place | None = None, advice: str = "") -> None:
        self.what, self.place, self.advice = what, place, advice
        parts = [f"{place}: {what}" if place else what]
        if advice:
            parts.append(advice)
        super().__init__("\n".join(parts))


class RuleError(DataError):
    """A rule that cannot mean what it says, such as a selector that matches nothing."""


Clashing = tuple[tuple[str, ...], ...]
"""Clashes in words: of each, what cannot all be together."""


def numbered(clashes: Clashing) -> list[str]:
    """All sentences, each with the number of its clash where one could not tell them apart otherwise."""
    if len(clashes) == 1 or all(len(clash) == 1 for clash in clashes):
        return [said for clash in clashes for said in clash]
    return [f"{number}. {said}" for number, clash in enumerate(clashes, 1) for said in clash]


class NoPlanError(PlannerError):
    """The musts cannot all hold.

    Args:
        what: the headline.
        clashes: of each clash, what cannot all be together, one sentence each.
        remedies: what would help, one sentence each.
        certain: whether it is proved that there is no week; otherwise none was found in the time.
    """

    exit_code = 3

    def __init__(
        self, what: str, clashes: Clashing = (), remedies: tuple[str, ...] = (), *, certain: bool = True
    ) -> None:
        self.what, self.clashes, self.remedies, self.certain = what, clashes, remedies, certain
        lines = [what, *(f"  - {c}" for c in numbered(clashes))]
        if remedies:
            lines += ["What would help:", *(f"  - {r}" for r in remedies)]
        super().__init__("\n".join(lines))


class SolverFault(PlannerError):  # noqa: N818  (a fault of ours, not an error of the coach)
    """A fault of ours: an invalid model, or a solved week that fails its audit."""

    exit_code = 70
