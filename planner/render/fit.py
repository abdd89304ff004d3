"""How large type can be for a text to fill its page and not run over it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache

from planner.render.face import face


@lru_cache(maxsize=20_000)  # the same words are measured at every size that is tried
def width_em(text: str, *, bold: bool = False) -> float:
    """Width of a text in its own type size, in the face that the sheets are set in."""
    return face(bold=bold).width(text)


def line_count(text: str, width_ems: float, *, bold: bool = False, lead: str = "", apart: float = 0.0) -> int:
    """Lines that a text takes in a column, broken between words.

    Args:
        text: the text.
        width_ems: of the column, in the type's own size.
        bold: whether it is set bold.
        lead: words in bold before it.
        apart: what there is between the two besides a space.
    """
    before = _widths(lead, bold=True)
    if before:
        before = (*before[:-1], before[-1] + apart)
    return wrapped(before + _widths(text, bold=bold), width_em(" ", bold=bold), width_ems)


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
