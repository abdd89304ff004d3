"""The class clock: how many minutes each part of a session takes, shared by the solver and the sheet."""

from __future__ import annotations

from math import ceil

from planner.domain.catalogue import Scheme, Shape

BRIEF = 2
"""Minutes: what the day is about, what to watch; common practice."""
WARM_UP = 9
"""Minutes of raise, activate and mobilise, potentiate; 5 to 10 is usual for the general part."""
CHANGE_OVER = 3
"""Minutes from strength to conditioning: bars stripped, stations set; common practice."""
COOL_DOWN = 4
"""Minutes; common practice."""
ASSISTANCE = 2
"""Minutes that assistance adds: most of it is done in the rests of the main lift; common practice."""


def strength_minutes(scheme: Scheme | None, assistance: bool) -> int:
    """Minutes of the strength piece, build-up included; 0 where there is none.

    Args:
        scheme: of the main lift.
        assistance: whether anything is done beside it.
    """
    if scheme is None:
        return 0
    return ceil(scheme.seconds / 60) + (ASSISTANCE if assistance else 0)


def class_blocks(scheme: Scheme | None, assistance: bool, shape: Shape | None) -> tuple[tuple[str, int], ...]:
    """The blocks of a class in their order, each with its minutes; those that are not there have none.

    The change-over is counted only where there is something to change over to and from.

    Args:
        scheme: of the main lift, or None.
        assistance: whether anything is done beside it.
        shape: of the conditioning, or None.
    """
    strength = strength_minutes(scheme, assistance)
    conditioning = shape.cap_minutes if shape else 0
    return (
        ("Brief", BRIEF),
        ("Warm-up", WARM_UP),
        ("Strength", strength),
        ("Change over", CHANGE_OVER if strength and conditioning else 0),
        ("Conditioning", conditioning),
        ("Cool-down", COOL_DOWN),
    )


def session_minutes(scheme: Scheme | None, assistance: bool, shape: Shape | None) -> int:
    """Minutes of the whole class, from the first word to the last; arguments as for ``class_blocks``."""
    return sum(minutes for _, minutes in class_blocks(scheme, assistance, shape))
