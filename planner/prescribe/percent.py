"""Percent of 1RM by repetitions: the published table, and how it is read between and beyond its rows.

Source: training load chart of the National Strength and Conditioning Association, rows 1 to 10 and 12;
status: confirmed on secondary pages. The row for 15 is from a secondary list. It is an average over many
people, never a promise for one (Nuzzo and others, Sports Med 2024;54(2):303-321).
See ``shared/reference/percent_by_reps.csv``.
"""

from __future__ import annotations

from itertools import accumulate, pairwise

from planner.domain.sets import Sets, WorkSet

PERCENT_BY_REPS: dict[int, int] = {
    1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 12: 70, 15: 65,
}  # fmt: skip
"""Reps that can just be done, and the percent of 1RM at which; 11, 13 and 14 are interpolated."""
BEYOND_PER_REP_TENTHS = 10
"""Beyond 15 reps: one percent less a rep; common practice, no table goes there."""
LEAST_PERCENT = 40
"""The table is not stretched below this; common practice."""
HEAVY_RESERVE = 1
"""Left in reserve on a set that is called heavy and no more is said; common practice."""
STEP_UP_PERCENT = 5
"""From set to set towards a heavy one, in percent of that one's load; common practice."""
FIRST_WAVE_RESERVE = 3
"""Left in the first wave, one less in each further; common practice."""
BACK_OFF_PERCENT = 85
"""Of the heavy set's load, on the sets after it; common practice."""


def percent_of_1rm(reps: int) -> float:
    """Percent of 1RM at which this many reps, and no more, can be done.

    Rows of the table as published; between two rows on the straight line, to a tenth; beyond the last row
    one percent less for each rep, not below ``LEAST_PERCENT``.

    Args:
        reps: to failure, at least 1.

    Raises:
        ValueError: for fewer than one rep.
    """
    if reps < 1:
        raise ValueError(f"{reps} reps: percent of 1RM is known from 1 rep on")
    if reps in PERCENT_BY_REPS:
        return float(PERCENT_BY_REPS[reps])
    last = max(PERCENT_BY_REPS)
    if reps > last:
        return max(LEAST_PERCENT, PERCENT_BY_REPS[last] - (reps - last) * BEYOND_PER_REP_TENTHS / 10)
    low = max(r for r in PERCENT_BY_REPS if r < reps)
    high = min(r for r in PERCENT_BY_REPS if r > reps)
    step = (PERCENT_BY_REPS[high] - PERCENT_BY_REPS[low]) / (high - low)
    return round(PERCENT_BY_REPS[low] + step * (reps - low), 1)


def percent_for(reps: int, reserve: int = 0) -> float:
    """Percent of 1RM for a set of ``reps`` that leaves ``reserve`` more undone.

    Args:
        reps: done in the set.
        reserve: left in reserve, at least 0.
    """
    if reserve < 0:
        raise ValueError(f"{reserve} reps in reserve: it cannot be less than nought")
    return percent_of_1rm(reps + reserve)


def set_percents(work: Sets, usual: float) -> tuple[float, ...]:
    """Percent of 1RM of each work set: as stated, else by reps and reserve, else as is usual for the form.

    Args:
        work: the sets.
        usual: of a set across of which neither is said, as far as its reps allow.
    """
    said = [_said(one, work) for one in work.sets]
    if None not in said:
        return tuple(x for x in said if x is not None)
    return tuple(mine or other for mine, other in zip(said, _usual(work, usual), strict=True))


def _said(one: WorkSet, work: Sets) -> float | None:
    if one.percent is not None:
        return float(one.percent)
    return None if one.reserve is None else percent_for(_in_one_go(one, work), one.reserve)


def _in_one_go(one: WorkSet, work: Sets) -> int:
    """Reps without a rest: of a cluster, those of its longest part; of a range the fewest."""
    return max(work.cluster, default=one.least or one.reps)


def _usual(work: Sets, usual: float) -> tuple[float, ...]:
    """What is usual for each set where nothing is said of it."""
    sets, last = work.sets, len(work.sets) - 1
    if work.form == "find":
        return (percent_for(sets[0].reps),)
    heavy = [percent_for(one.least or one.reps, HEAVY_RESERVE) for one in sets]
    if work.form == "ascending":
        top = _said(sets[last], work) or heavy[last]
        below = [top * (100 - STEP_UP_PERCENT * (last - i)) / 100 for i in range(len(sets))]
        return tuple(max(LEAST_PERCENT, round(min(x), 1)) for x in zip(heavy, below, strict=True))
    if work.form == "back_off":
        top = _said(sets[0], work) or heavy[0]
        after = round(top * BACK_OFF_PERCENT / 100, 1)
        return (top, *(min(x, after) for x in heavy[1:]))
    if work.form == "waves":
        reserves = (max(HEAVY_RESERVE, FIRST_WAVE_RESERVE - wave) for wave in waves_of(work))
        return tuple(percent_for(one.reps, left) for one, left in zip(sets, reserves, strict=True))
    if work.unit != "reps":
        return (usual,) * len(sets)
    return tuple(min(usual, percent_for(_in_one_go(one, work), HEAVY_RESERVE)) for one in sets)


def waves_of(work: Sets) -> tuple[int, ...]:
    """For each set the number of its wave, from 0: a wave begins where the reps go up again."""
    starts = (after.reps > before.reps for before, after in pairwise(work.sets))
    return tuple(accumulate(starts, initial=0))
