"""A fault: one text edit in one file, and the tests that must notice it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Fault:
    """One edit.

    Attributes:
        file: from the root of the tree.
        old: what is there, exactly once.
        new: what takes its place.
        tests: files or tests, and ``-k`` with its word, as pytest takes them; the quickest first.
        unseen: why no test can notice it; empty where one must.
    """

    file: str
    old: str
    new: str
    tests: str
    unseen: str = ""

    def applied(self, text: str) -> str:
        """The file's text with the fault in it.

        Raises:
            ValueError: the text that is to be replaced is not there exactly once.
        """
        found = text.count(self.old)
        if found != 1:
            raise ValueError(f"{self.file}: {self.old!r} is there {found} times, not once")
        return text.replace(self.old, self.new)

    def is_there(self, root: Path) -> bool:
        """Whether the text that is to be replaced is there exactly once."""
        path = root / self.file
        return path.is_file() and path.read_text(encoding="utf-8").count(self.old) == 1

    def put_into(self, root: Path) -> str:
        """Puts the fault into a tree; returns the file's text as it was."""
        path = root / self.file
        before = path.read_text(encoding="utf-8")
        path.write_text(self.applied(before), encoding="utf-8")
        return before
