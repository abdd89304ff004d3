"""The class clock of a session, block by block."""

from __future__ import annotations

from collections.abc import Iterable

from planner.domain.clock import USUAL, ClassFrame, blocks_of
from planner.domain.week import ClockEntry


def class_clock(pieces: Iterable[tuple[str, int]], frame: ClassFrame = USUAL) -> tuple[ClockEntry, ...]:
    """Blocks with their starts.

    Args:
        pieces: kind and minutes of each, in order.
        frame: minutes of the other blocks.
    """
    entries, start = [], 0
    for label, minutes in blocks_of(pieces, frame):
        if minutes:
            entries.append(ClockEntry(label=label, start_minute=start, minutes=minutes))
            start += minutes
    return tuple(entries)
