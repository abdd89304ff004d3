"""Small words and numbers for all that is said to a coach."""

from __future__ import annotations

from collections.abc import Iterable

_SPELT = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip

SPOT_WORDS = {"opening": "first ", "turn": "", "after_each": "after each ", "closing": "last "}
"""Before the dose of a line that does not come in each turn."""


def spoken(name: str) -> str:
    """An id as said aloud."""
    return name.replace("_", " ")


def capital(text: str) -> str:
    """A text that begins with a capital; the rest, with its names, stays as it is."""
    return text[:1].upper() + text[1:]


def spelt(count: int) -> str:
    """A number up to twelve as a word, a larger one in figures."""
    return _SPELT[count] if 0 <= count < len(_SPELT) else str(count)


def listed(items: Iterable[str]) -> str:
    """Items as "a, b and c"."""
    words = list(items)
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def clock(seconds: int) -> str:
    """Minutes and seconds: 9:05."""
    return f"{seconds // 60}:{seconds % 60:02d}"
