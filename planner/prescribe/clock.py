"""The class clock of a session, block by block."""

from __future__ import annotations

from planner.domain.catalogue import Scheme, Shape
from planner.domain.clock import BRIEF, CHANGE_OVER, COOL_DOWN, WARM_UP, strength_minutes
from planner.domain.week import ClockEntry


def class_clock(scheme: Scheme | None, assistance: bool, shape: Shape | None) -> tuple[ClockEntry, ...]:
    """Blocks with their starts; they add up to ``planner.domain.clock.session_minutes``.

    Args:
        scheme: of the main lift, or None.
        assistance: whether anything is done beside it.
        shape: of the conditioning, or None.
    """
    strength = strength_minutes(scheme, assistance)
    conditioning = shape.cap_minutes if shape else 0
    blocks = (
        ("Brief", BRIEF),
        ("Warm-up", WARM_UP),
        ("Strength", strength),
        ("Change over", CHANGE_OVER if strength and conditioning else 0),
        ("Conditioning", conditioning),
        ("Cool-down", COOL_DOWN),
    )
    entries, start = [], 0
    for label, minutes in blocks:
        if minutes:
            entries.append(ClockEntry(label=label, start_minute=start, minutes=minutes))
            start += minutes
    return tuple(entries)
