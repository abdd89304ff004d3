"""How long doses, sets, rounds and pieces take, and how hard a day is expected to feel.

All in integers (tenths of a second), so that the solver, the audit and the sheet agree to the last digit.
"""

from __future__ import annotations

from math import ceil
from typing import Literal

from planner.domain.catalogue import Movement, Scheme, Shape, Tier, TimeDomain

Hardness = Literal["easy", "medium", "hard"]
HARD_FROM, EASY_TO = 8, 5
"""Session ratings from which a day counts as hard, and up to which as easy; common practice."""

TRANSITION_TENTHS = 50
"""From one movement to the next: five seconds; common practice."""
TIER_PERCENT: dict[Tier, int] = {"open": 100, "light": 100, "moderate": 115, "heavy": 150}
"""Reps slow down and sets break as the load grows; common practice."""
QUICK_PERCENT, SLOW_PERCENT = 80, 130
"""A quick and a slow athlete's time against the typical one's; common practice."""


def dose_tenths(movement: Movement, dose: int, tier: Tier = "open") -> int:
    """Tenths of a second that a typical athlete needs for one dose, fresh; rounded up.

    Args:
        movement: the movement.
        dose: in its unit; for each side where the movement is per side.
        tier: how heavy.
    """
    pace = movement.pace
    beyond = max(0, dose - pace.steady_to)
    units = dose + beyond * pace.slower_percent / 100
    sides = 2 if movement.sides == "per_side" else 1
    return ceil(round(units * sides * pace.seconds * 10 * TIER_PERCENT[tier] / 100, 3))


def line_tenths(movement: Movement, dose: int, tier: Tier, ladder: tuple[int, ...] = ()) -> int:
    """Tenths of a second of a line in one round, or in the whole ladder where there is one."""
    if ladder:
        return sum(dose_tenths(movement, rung, tier) for rung in ladder)
    return dose_tenths(movement, dose, tier)


def round_tenths(lines: list[tuple[Movement, int, Tier]], shape: Shape) -> int:
    """Tenths of a second of one round (the whole ladder): every line, and the way from each to the next."""
    work = sum(line_tenths(m, dose, tier, shape.ladder) for m, dose, tier in lines)
    passes = len(shape.ladder) or 1
    return work + passes * len(lines) * TRANSITION_TENTHS


def piece_seconds(one_round_tenths: int, shape: Shape, domain: TimeDomain) -> int:
    """Predicted seconds of working time for all rounds, fatigue included, typical athlete.

    For a piece that the clock ends this is the time in which ``shape.rounds`` rounds would be done.
    """
    return ceil(one_round_tenths * shape.rounds * (100 + domain.fatigue_percent) / 1000)


VERSION_PERCENT: dict[str, tuple[int, int]] = {"rounds": (75, 150), "slots": (75, 115)}
"""Where the clock ends a piece, a kit version keeps the time whatever it does; its rounds may be this much
quicker or slower than the gym floor's before it is another piece (in a slot, before it eats the rest)."""


def version_window(shape: Shape, *, floor: bool) -> tuple[int, int]:
    """Least and most tenths of one round: the shape's own on the gym floor and where a piece is for time."""
    least, most = shape.window_tenths
    if floor or shape.fixed_minutes is None:
        return least, most
    low, high = VERSION_PERCENT["slots" if shape.every_s else "rounds"]
    return least * low // 100, -(-most * high // 100)


def session_rating(main: Scheme | None, shape: Shape | None) -> int:
    """Expected session rating on the 0 to 10 scale: 1, and what each piece adds; common practice."""
    return min(10, 1 + (main.effort if main else 0) + (shape.effort if shape else 0))


def hardness_of(rating: int) -> Hardness:
    """Easy, medium or hard, from the session's expected rating."""
    if rating >= HARD_FROM:
        return "hard"
    return "easy" if rating <= EASY_TO else "medium"
