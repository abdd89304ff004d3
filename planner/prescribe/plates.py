"""What bars, plates, bells and the like at hand can weigh.

Everything is exact, in whole grams, so that 1.25 kg plates and pound plates both add up.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from functools import lru_cache

GRAMS = 1000

Loading = tuple[float, tuple[float, ...]]
"""Total in kg with bar and collars, and the plates of one side in kg, heaviest first."""


TABLE_STEP = 100 * GRAMS
"""Sides are tabled up to a multiple of this, so that one table serves many targets."""


def grams(kg: float) -> int:
    """Kilograms in whole grams."""
    return round(kg * GRAMS)


def _sides(plates: tuple[tuple[int, int], ...], most: int) -> dict[int, tuple[int, ...]]:
    """Every mass that one side can have up to ``most`` grams, with the fewest plates that make it.

    Two plates of a kind make a pair, one for each side. Sizes are taken from the heaviest down, and a
    way to a mass that needs fewer plates, or as many of which the first are heavier, replaces one found
    before, so the loading is the one that a lifter would reach for: 20+20+5, not 15+15+15 (common practice).
    """
    made: dict[int, tuple[int, ...]] = {0: ()}
    for plate, pairs in plates:
        for mass, used in list(made.items()):
            for n in range(1, pairs + 1):
                total = mass + n * plate
                if total > most:
                    break
                way, before = used + (plate,) * n, made.get(total)
                if before is None or (len(way), before) < (len(before), way):
                    made[total] = way
    return made


@lru_cache(maxsize=256)
def _table(plates: tuple[tuple[int, int], ...], steps: int) -> tuple[list[int], dict[int, tuple[int, ...]]]:
    """Masses of a side up to so many steps, ascending, and the plates of each."""
    made = _sides(plates, steps * TABLE_STEP)
    return sorted(made), made


def _pairs(plates: Mapping[float, int]) -> tuple[tuple[int, int], ...]:
    return tuple(sorted(((grams(kg), n // 2) for kg, n in plates.items() if n > 1), reverse=True))


def _loading(empty: int, side: int, used: tuple[int, ...]) -> Loading:
    return (empty + 2 * side) / GRAMS, tuple(p / GRAMS for p in sorted(used, reverse=True))


def makeable(target_kg: float, bar_kg: float, plates: Mapping[float, int], collars_kg: float = 0) -> Loading:
    """The heaviest load, not above the target, that can be made with the same plates on both sides.

    Args:
        target_kg: wanted, bar and collars included.
        bar_kg: mass of the empty bar.
        plates: how many single plates of each mass are at hand for this bar.
        collars_kg: mass of the pair of collars.

    Returns:
        The load and one side's plates. The empty bar where the target is below it: there is no lighter load.
    """
    empty = grams(bar_kg) + grams(collars_kg)
    most = (grams(target_kg) - empty) // 2
    if most < 0:
        return _loading(empty, 0, ())
    masses, made = _table(_pairs(plates), most // TABLE_STEP + 1)
    side = masses[bisect_right(masses, most) - 1]
    return _loading(empty, side, made[side])


def nearest_makeable(
    target_kg: float,
    bar_kg: float,
    plates: Mapping[float, int],
    collars_kg: float = 0,
    *,
    up_from_percent: int = 50,
) -> Loading:
    """The load below the target or the one above it, whichever is to be preferred.

    Args:
        target_kg: wanted, bar and collars included.
        bar_kg: mass of the empty bar.
        plates: how many single plates of each mass are at hand for this bar.
        collars_kg: mass of the pair of collars.
        up_from_percent: how far, in percent of the way from the load below to the one above, the target must
            be beyond the lower one for the upper to be taken; 50 is the nearest, and on the point the lower.
    """
    below = makeable(target_kg, bar_kg, plates, collars_kg)
    empty, wanted, pairs = grams(bar_kg) + grams(collars_kg), grams(target_kg), _pairs(plates)
    if not pairs or wanted <= grams(below[0]):
        return below
    # With any pair left over, adding it to the load below passes the target; so the next load above is no
    # further than the heaviest plate.
    most = (wanted - empty) // 2
    masses, above = _table(pairs, (most + pairs[0][0]) // TABLE_STEP + 1)
    next_up = bisect_right(masses, most)
    if next_up == len(masses):
        return below
    side = masses[next_up]
    way = empty + 2 * side - grams(below[0])
    if (wanted - grams(below[0])) * 100 > way * up_from_percent:
        return _loading(empty, side, above[side])
    return below


def nearest_mass(target_kg: float, masses: Iterable[float]) -> float | None:
    """The mass at hand that is nearest to the target; of two as near, the lighter; None if there is none.

    Args:
        target_kg: wanted.
        masses: at hand, in kg.
    """
    return min(masses, key=lambda kg: (abs(grams(kg) - grams(target_kg)), kg), default=None)
