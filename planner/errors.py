"""What can go wrong, in words for a coach."""

from __future__ import annotations

import errno
from dataclasses import dataclass
from pathlib import Path

LONGEST, LONGEST_LINE = 300, 1200
"""Characters of a path or a word in a message, and of one of its lines; more would hide what is said."""


def shortened(text: str, longest: int = LONGEST) -> str:
    """A path, word or line that fits a message, with nothing in it that would move the terminal's cursor."""
    plain = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)
    return plain if len(plain) <= longest else f"{plain[: longest // 2]} ... {plain[-longest // 4 :]}"


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
        column: in a text, the character of the line, counted from 1.
    """

    file: Path
    line: int | None = None
    key: str = ""
    column: int | None = None

    def __str__(self) -> str:
        """File, line and key on one line."""
        where = ":".join([shortened(str(self.file)), *(str(n) for n in (self.line, self.column) if n)])
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
        lines = "\n".join(parts).split("\n")
        super().__init__("\n".join(shortened(line, LONGEST_LINE) for line in lines))


class DiskError(DataError):
    """Where the result should go there is no room, or the device fails: nothing is wrong with any input."""

    exit_code = 74


_FAILING = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EPIPE, errno.ENXIO, errno.ENODEV}
_RIGHT = {
    errno.ENAMETOOLONG: "Give it a shorter name.",
    errno.ENOSPC: "Make room on the disk, or name another place.",
    errno.EDQUOT: "Make room on the disk, or name another place.",
    errno.EFBIG: "Name a place where files may be larger.",
    errno.ELOOP: "Its links lead in a circle; name the file itself.",
    errno.ENOTDIR: "A part of its path is a file, not a folder.",
    errno.EROFS: "The disk is read-only; name another place.",
}


def of_system(error: OSError, what: str, path: Path | None = None, advice: str = "") -> DataError:
    """An error of the operating system, in words.

    Args:
        error: as it came.
        what: what could not be done: "the file cannot be written".
        path: the file or folder; as the system names it if None.
        advice: what would be right, where nothing better is known of such an error.

    Returns:
        A DiskError where the device is at fault, else a DataError.
    """
    kind = DiskError if error.errno in _FAILING else DataError
    place = path or (Path(str(error.filename)) if error.filename else None)
    said = _RIGHT.get(error.errno or 0, advice) or "Check its name and its permissions."
    return kind(f"{what}: {error.strerror or error}", Place(place) if place else None, said)


class RuleError(DataError):
    """A rule that cannot mean what it says, such as a selector that matches nothing."""


Clashing = tuple[tuple[str, ...], ...]
"""Clashes in words: of each, what cannot all be together."""


def clash_lines(clashes: Clashing) -> list[str]:
    """A line for each thing that clashes; where there are several clashes, each has one number."""
    if len(clashes) == 1 or all(len(clash) == 1 for clash in clashes):
        return [f"  - {said}" for clash in clashes for said in clash]
    width = len(str(len(clashes)))
    lines = []
    for number, (first, *others) in enumerate(clashes, 1):
        lines.append(f"  {number:>{width}}. {first}")
        lines += [f"  {'':{width}}  together with: {said}" for said in others]
    return lines


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
        lines = [what, *clash_lines(clashes)]
        if remedies:
            lines += ["What would help:", *(f"  - {r}" for r in remedies)]
        super().__init__("\n".join(lines))


class SolverFault(PlannerError):  # noqa: N818  (a fault of ours, not an error of the coach)
    """A fault of ours: an invalid model, or a solved week that fails its audit."""

    exit_code = 70
