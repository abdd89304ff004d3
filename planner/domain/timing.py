"""How long doses, sets, rounds and pieces take, and how hard a day is expected to feel.

All in integers (tenths of a second), so that the solver, the audit and the sheet agree to the last digit.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil
from typing import Any, Literal, NamedTuple

from planner.domain.catalogue import Movement, Part, Scheme, Shape, Spot, Tier, TimeDomain
from planner.domain.line import line_units

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


class TimedLine(NamedTuple):
    """What the time of a conditioning line depends on.

    Attributes:
        movement: the movement.
        dose: each time it comes; the sum where there are ``numbers`` or a ladder.
        tier: how heavy.
        spot: where in the piece it comes.
        numbers: its own number in each round, where they are not the ladder's.
    """

    movement: Movement
    dose: int
    tier: Tier
    spot: Spot = "turn"
    numbers: tuple[int, ...] = ()

    def rungs(self, shape: Shape) -> tuple[int, ...]:
        """Its number in each round, where they differ or are the ladder's; empty where it has one dose."""
        return self.numbers or (shape.ladder if self.spot == "turn" else ())


def line_tenths(movement: Movement, dose: int, tier: Tier, rungs: tuple[int, ...] = ()) -> int:
    """Tenths of a second of a line each time it comes, or in all its rungs where there are any."""
    if rungs:
        return sum(dose_tenths(movement, rung, tier) for rung in rungs)
    return dose_tenths(movement, dose, tier)


def own_share(dose: int, part: Part) -> int:
    """What one athlete does of a dose: of a shared total her part, rounded up."""
    return -(-dose // part.shares)


def work_tenths(line: TimedLine, shape: Shape) -> int:
    """Tenths of a second that a line takes in one round (the whole piece where doses count over it).

    Of a pair only one works at a time, in a shared total and where they take turns.
    """
    part = shape.part(line.spot)
    rungs = tuple(own_share(n, part) for n in line.rungs(shape))
    each = line_tenths(line.movement, own_share(line.dose, part), line.tier, rungs)
    return each * part.turns * (1 if rungs else part.times)


def work_units(line: TimedLine, shape: Shape) -> int:
    """Units that one athlete does in one round (the whole piece where doses count over it)."""
    rungs, part = line.rungs(shape), shape.part(line.spot)
    times = 1 if rungs else part.times
    dose = sum(own_share(n, part) for n in rungs) if rungs else own_share(line.dose, part)
    return line_units(line.movement, dose, times)


def walking_tenths(shape: Shape) -> int:
    """Tenths of a second from each line to the next, in one round (the whole ladder, or the whole piece)."""
    return shape.steps * TRANSITION_TENTHS


def turning_tenths(shape: Shape) -> int:
    """The same without the ways to what comes once, before and after all turns."""
    return (shape.steps - shape.opening - shape.closing) * TRANSITION_TENTHS


def round_tenths(lines: Iterable[tuple[Any, ...]], shape: Shape) -> int:
    """Tenths of a second of one round (the whole ladder, or the whole piece): every line, and the ways."""
    timed = [TimedLine(*line) for line in lines]
    steps = shape.steps if shape.whole else len(timed) * (len(shape.ladder) or 1)
    return sum(work_tenths(line, shape) for line in timed) + steps * TRANSITION_TENTHS


def piece_seconds(one_round_tenths: int, shape: Shape, domain: TimeDomain) -> int:
    """Predicted seconds of working time for all rounds, fatigue included, typical athlete.

    For a piece that the clock ends this is the time in which ``shape.rounds`` rounds would be done.
    """
    resting = shape.rest_s * (shape.turns - 1)
    return ceil(one_round_tenths * shape.rounds * (100 + domain.fatigue_percent) / 1000) + resting


VERSION_PERCENT: dict[str, tuple[int, int]] = {"rounds": (75, 150), "slots": (75, 115)}
"""Where the clock ends a piece, a kit version keeps the time whatever it does; its rounds may be this much
quicker or slower than the gym floor's before it is another piece (in a slot, before it eats the rest)."""


def version_window(shape: Shape, *, floor: bool) -> tuple[int, int]:
    """Least and most tenths of one round: the shape's own on the gym floor and where a piece is for time."""
    least, most = (shape if floor else shape.alone).window_tenths
    if floor or shape.whole or shape.fixed_minutes is None:
        return least, most
    low, high = VERSION_PERCENT["slots" if shape.every_s else "rounds"]
    return least * low // 100, -(-most * high // 100)


def session_rating(main: Scheme | None, shape: Shape | None, further: int = 0) -> int:
    """Expected session rating on the 0 to 10 scale: 1, and what each piece adds; common practice.

    Args:
        main: scheme of the main lift, the hardest where there are several.
        shape: of the conditioning, the hardest where there are several.
        further: how many pieces there are beyond these; each adds one.
    """
    return min(10, 1 + (main.effort if main else 0) + (shape.effort if shape else 0) + further)


def hardness_of(rating: int) -> Hardness:
    """Easy, medium or hard, from the session's expected rating."""
    if rating >= HARD_FROM:
        return "hard"
    return "easy" if rating <= EASY_TO else "medium"
