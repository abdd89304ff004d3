"""Strength without the load: reps near failure, slower, with shorter rests, under a name of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.catalogue import Movement, Scheme
from planner.domain.gym import Athlete
from planner.domain.lifting import load_in_hands_kg, one_rm_kg
from planner.domain.week import Load
from planner.domain.words import capital, spelt
from planner.domain.work import effort_of, force_share
from planner.prescribe.percent import LEAST_PERCENT, percent_for
from planner.prescribe.sentences import LIMITED_SHORT

LEFT = 2
"""Reps short of failure at which a set ends; common practice."""
MOST_REPS, LEAST_REPS, LEAST_WITHOUT = 25, 3, 6
"""Of a set; the last where there is no percent of a 1RM to go by."""
ROUND_REPS = (12, 15, 18, 20, 25)
"""Long sets are said in these."""
LONG_FROM, LONG_SETS, LONG_REST_S = 12, 4, 75
"""Sets of so many reps are no more than these, with this rest in seconds; common practice."""
SET_SECONDS = 75
"""A slow set is no longer than this; common practice."""
HEAVY_PERCENT = 80
"""Of the most that can be lifted once, what a heavy usual mass is taken to be; common practice."""
SLOW_SECONDS, SLOW_FROM = 5.0, 20
"""Seconds a rep of three down and a pause; asked for where more reps than this would be in a load."""


@dataclass(frozen=True)
class WithoutLoad:
    """Sets that take the place of a scheme's.

    Attributes:
        sets: how many.
        reps: of each, of each side where the movement is per side.
        rest_s: after each, seconds.
        seconds: of one rep.
        how: as a sentence, without its full stop.
        title: their own name.
    """

    sets: int
    reps: int
    rest_s: int
    seconds: float
    how: str
    title: str


def without_load(
    movement: Movement,
    original: Movement,
    scheme: Scheme,
    loads: Sequence[Load | None],
    athletes: Sequence[Athlete],
) -> WithoutLoad | None:
    """Sets of a lift whose load cannot be had; None where the scheme is not one of strength or muscle.

    How hard a rep is follows from the work on one side against that of the floor's lift at its 1RM; the table
    of reps and percent says how many can be done, of which two stay undone.

    Args:
        movement: what is lifted.
        original: what it stands for, or itself.
        scheme: whose load cannot be had.
        loads: of each athlete; None without a load.
        athletes: in the same order.
    """
    if scheme.goal not in {"strength", "hypertrophy"} or scheme.unit != "reps" or movement.unit != "reps":
        return None
    percents = [
        _percent(movement, original, load, athlete) for load, athlete in zip(loads, athletes, strict=True)
    ]
    slow = movement.motion is not None and movement.motion.pace == "slow"
    least = LEAST_REPS if any(load is not None and load.percent_1rm for load in loads) else LEAST_WITHOUT
    reps = max(least, min(MOST_REPS, _most(max(percents)) - LEFT))
    drawn_out = not slow and reps > SLOW_FROM
    seconds = max(movement.pace.seconds, SLOW_SECONDS if drawn_out else scheme.seconds_per_rep)
    if slow or drawn_out:
        reps = max(least, min(reps, int(SET_SECONDS / seconds)))
    long = reps >= LONG_FROM or slow
    reps = max((n for n in ROUND_REPS if n <= reps), default=reps)
    sets = min(scheme.limited_sets, LONG_SETS) if long else scheme.limited_sets
    rest = min(scheme.rest_s, LONG_REST_S) if long else scheme.rest_s
    kind = "slow set" if slow or drawn_out else "set"
    title = capital(f"{spelt(sets)} {kind}{'' if sets == 1 else 's'} of {spelt(reps)}, two short of failure")
    how = f"{'three seconds down, ' if drawn_out else ''}{LIMITED_SHORT}"
    return WithoutLoad(sets, reps, rest, seconds, how, title)


def _percent(movement: Movement, original: Movement, load: Load | None, athlete: Athlete) -> float:
    """How hard a rep is, in percent of the most that can be done once."""
    if load is not None and load.percent_1rm is not None and movement.lift is not None:
        return load.percent_1rm
    best = one_rm_kg(original, athlete)
    if best is None and original.kg:
        best = load_in_hands_kg(original, "heavy", athlete) * 100 / HEAVY_PERCENT
    whole = effort_of(original, best or 0.0, athlete.body)
    mine = effort_of(movement, (load.kg if load else 0.0) * movement.implements, athlete.body)
    if whole is None or mine is None or not best:
        return LEAST_PERCENT
    return 100 * force_share(movement, mine, original, whole)


def _most(percent: float) -> int:
    """Reps that can just be done at a percent of the most."""
    return max((n for n in range(1, MOST_REPS + LEFT + 1) if percent_for(n) >= percent), default=1)
