"""The class clock of a session, block by block."""

from __future__ import annotations

from planner.domain.catalogue import Scheme, Shape
from planner.domain.clock import USUAL, ClassFrame, class_blocks
from planner.domain.week import ClockEntry


def class_clock(
    scheme: Scheme | None, assistance: bool, shape: Shape | None, frame: ClassFrame = USUAL
) -> tuple[ClockEntry, ...]:
    """Blocks with their starts; they add up to ``planner.domain.clock.session_minutes``.

    Args:
        scheme: of the main lift, or None.
        assistance: whether anything is done beside it.
        shape: of the conditioning, or None.
        frame: minutes of the other blocks.
    """
    entries, start = [], 0
    for label, minutes in class_blocks(scheme, assistance, shape, frame):
        if minutes:
            entries.append(ClockEntry(label=label, start_minute=start, minutes=minutes))
            start += minutes
    return tuple(entries)
