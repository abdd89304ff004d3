"""Percent of 1RM by repetitions: the published table, and how it is read between and beyond its rows.

Source: training load chart of the National Strength and Conditioning Association, rows 1 to 10 and 12;
status: confirmed on secondary pages. The row for 15 is from a secondary list. It is an average over many
people, never a promise for one (Nuzzo and others, Sports Med 2024;54(2):303-321).
See ``shared/reference/percent_by_reps.csv``.
"""

from __future__ import annotations

PERCENT_BY_REPS: dict[int, int] = {
    1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 12: 70, 15: 65,
}  # fmt: skip
"""Reps that can just be done, and the percent of 1RM at which; 11, 13 and 14 are interpolated."""
BEYOND_PER_REP_TENTHS = 10
"""Beyond 15 reps: one percent less a rep; common practice, no table goes there."""
LEAST_PERCENT = 40
"""The table is not stretched below this; common practice."""


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
