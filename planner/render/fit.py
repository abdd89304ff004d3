"""How large type can be for a text to fill its page and not run over it.

Which font a machine has is not known beforehand, so letters are taken to be as wide as in DejaVu Sans, the
widest face that a sheet can fall back to: in another the page has a little room to spare.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache

_NARROW, _THIN, _WIDE, _CAPITAL, _OTHER = 0.31, 0.41, 0.97, 0.7, 0.607
_DIGIT, _SIGN = 0.637, 0.838
_BOLD = 1.12


@lru_cache(maxsize=20_000)  # the same words are measured at every size that is tried
def width_em(text: str, *, bold: bool = False) -> float:
    """Width of a text in its own type size."""
    width = sum(_letter(letter) for letter in text)
    return width * _BOLD if bold else width


def _letter(letter: str) -> float:
    if letter in " .,:;'|ijl":
        return _NARROW
    if letter in "frt()-[]/!I":
        return _THIN
    if letter in "mwMW%@\N{EN DASH}":
        return _WIDE
    if letter in "+=<>\N{MULTIPLICATION SIGN}":
        return _SIGN
    if letter.isdigit():
        return _DIGIT
    return _CAPITAL if letter.isupper() else _OTHER


def line_count(text: str, width_ems: float, *, bold: bool = False) -> int:
    """Lines that a text takes in a column, broken between words.

    Args:
        text: the text.
        width_ems: of the column, in the type's own size.
        bold: whether it is set bold.
    """
    return wrapped(_widths(text, bold=bold), width_em(" ", bold=bold), width_ems)


@lru_cache(maxsize=5_000)
def _widths(text: str, *, bold: bool) -> tuple[float, ...]:
    return tuple(width_em(word, bold=bold) for word in text.split())


def wrapped(widths: Iterable[float], space: float, room: float) -> int:
    """Lines that words of these widths take, all in one measure; a word wider than the room is broken.

    Args:
        widths: of the words, in order.
        space: between two words.
        room: width of the column.
    """
    lines, used = 1, 0.0
    for width in widths:
        if used and used + space + width > room:
            lines, used = lines + 1, width
        else:
            used += width + (space if used else 0)
        while used > room:
            lines, used = lines + 1, used - room
    return lines


def largest(fits: Callable[[float], bool], most: float, least: float, step: float = 0.02) -> float:
    """The largest size at which everything fits; the least where nothing does.

    Args:
        fits: whether it fits at a size.
        most: to begin with.
        least: not to go below.
        step: between one size and the next.
    """
    size = most
    while size > least and not fits(size):
        size -= step
    return round(max(size, least), 3)
