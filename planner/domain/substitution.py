"""What a stand-in costs, and how much of a stand-in replaces how much of the original.

All costs are integers, so that the solver, the audit and the sheet agree to the last digit.
"""

from __future__ import annotations

from planner.domain.catalogue import Movement, Tier
from planner.domain.timing import dose_tenths

WORST_COST = 100
"""No stand-in costs more."""
PATTERN_COST = 60
"""Cost of sharing no pattern at all."""
MAIN_PATTERN_COST = 10
"""Cost of being counted as another pattern."""
UNIT_COST = 8
"""Cost of counting in another unit."""
MODALITY_COST = 6
"""Cost of changing between loaded, bodyweight and cyclic."""
LOAD_LOST_COST = 8
"""Cost of losing the load altogether."""
TAKES_COST = 3
"""Cost of each step of difference in grip, overhead or lower back."""
HARDER_COST, EASIER_COST = 8, 2
"""Cost of each level of skill that the stand-in asks more, or less."""
SIDES_COST = 3
"""Cost of changing between both sides together, alternating, and one side after the other."""
NEAREST_DOSES = 2
"""How many doses are offered beside the number itself."""


def substitution_cost(original: Movement, stand_in: Movement) -> int:
    """What is lost when one movement stands for another: 0 (the same) to 100 (nothing in common).

    A cost that the catalogue sets by hand wins. Otherwise the shared pattern weighs most, then what an
    athlete would notice: counted as another pattern, another unit, no load, another modality, harder or
    easier to learn, another demand on grip, shoulders or back, another way of taking sides. That a change
    of pattern outweighs all the rest is common practice; the figures are a design choice of ours, not
    published. A computed cost is at least 1, so only a movement itself, or a cost set by hand, is 0. A cost
    set by hand holds in its own direction only.

    Args:
        original: the movement on the gym floor.
        stand_in: the movement that would replace it.
    """
    if original.id == stand_in.id:
        return 0
    by_hand = original.substitutes.get(stand_in.id)
    if by_hand is not None:
        return by_hand
    overlap_percent = sum(min(share, stand_in.patterns.get(p, 0)) for p, share in original.patterns.items())
    cost = (PATTERN_COST * (100 - overlap_percent) + 50) // 100
    cost += MAIN_PATTERN_COST * (original.main_pattern != stand_in.main_pattern)
    cost += UNIT_COST * (original.unit != stand_in.unit)
    cost += MODALITY_COST * (original.modality != stand_in.modality)
    cost += LOAD_LOST_COST * (original.modality == "loaded" and stand_in.modality != "loaded")
    cost += SIDES_COST * (original.sides != stand_in.sides)
    cost += _skill_cost(stand_in.skill - original.skill) + TAKES_COST * _takes_steps(original, stand_in)
    return max(1, min(WORST_COST, cost))


def stand_in_dose(original: Movement, dose: int, stand_in: Movement, tier: Tier) -> tuple[int, ...]:
    """How much of a stand-in may replace a dose of the original, the best first.

    The number is kept first where both count in the same unit and the stand-in's own doses reach from below
    it to above it. Then come the doses of the stand-in that take about as long, two at most: for where the
    number would make the piece too short or too long.

    Args:
        original: the movement on the gym floor.
        dose: of the original, in its unit, for one round.
        stand_in: the movement that replaces it.
        tier: how heavy the dose of the original is; a stand-in without that tier offers those it has.

    Returns:
        Doses in the stand-in's unit; empty where the stand-in has none.
    """
    if original.id == stand_in.id:
        return (dose,)
    tiers: tuple[Tier, ...] = (tier,) if stand_in.doses.get(tier) else tuple(stand_in.doses)
    own = [(n, t) for t in tiers for n in stand_in.doses[t] if n > 1 or len(stand_in.doses[t]) == 1]
    if not own:
        return ()
    numbers = [n for n, _ in own]
    kept = (
        (dose,)
        if original.unit == stand_in.unit and min(numbers) <= dose <= min(max(numbers), stand_in.cap)
        else ()
    )
    wanted_tenths = dose_tenths(original, dose, tier)
    nearest = sorted(own, key=lambda x: (abs(dose_tenths(stand_in, x[0], x[1]) - wanted_tenths), x[0]))
    by_time = tuple(dict.fromkeys(n for n, _ in nearest))[:NEAREST_DOSES]
    return tuple(dict.fromkeys((*kept, *by_time)))


def _skill_cost(levels_harder: int) -> int:
    return HARDER_COST * levels_harder if levels_harder > 0 else EASIER_COST * -levels_harder


def _takes_steps(original: Movement, stand_in: Movement) -> int:
    before, after = original.takes, stand_in.takes
    return (
        abs(before.grip - after.grip)
        + abs(before.overhead - after.overhead)
        + abs(before.back - after.back)
    )  # fmt: skip
