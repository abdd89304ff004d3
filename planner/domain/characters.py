"""Characters that no name and no sentence needs, and that would upset a terminal, a sheet or a reader."""

from __future__ import annotations

import re

_BAD = (
    "\x00-\x09\x0b-\x1f\x7f-\x9f"  # controls, but for the line's end
    "\u2028\u2029\ufeff\ufffe\uffff"  # other line ends, and no characters at all
    "\u202a-\u202e\u2066-\u2069"  # what turns the direction of reading
    "\ud800-\udfff"  # halves of characters, left over from bytes that are no text
)
_UNPRINTABLE = re.compile(f"[{_BAD}]")


def unprintable(text: str) -> str:
    """The first such character as ``U+0007``; empty where there is none."""
    found = _UNPRINTABLE.search(text)
    return f"U+{ord(found.group()):04X}" if found else ""
