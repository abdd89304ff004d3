"""What a stand-in costs, and how much of a stand-in replaces how much of the original.

A stand-in keeps the stimulus: pattern, and power where legs, hips and lungs do the work; of a lift, what
each side has to overcome. All costs are integers, so that the solver, the audit and the sheet agree to the
last digit.
"""

from __future__ import annotations

from math import log

from planner.domain.catalogue import Movement, Pattern, Scheme, Tier
from planner.domain.motion import PaceKind
from planner.domain.timing import dose_tenths
from planner.domain.work import force_share

WORST_COST = 100
"""No stand-in costs more."""
PATTERN_COST, STRANGE_COST = 25, 20
"""Cost of losing all of the pattern, in proportion where part is kept; and of sharing nothing, not even a
kindred one, beside that."""
KIN: tuple[tuple[Pattern, Pattern, float], ...] = (
    ("vertical_pull", "horizontal_pull", 0.6),
    ("vertical_push", "horizontal_push", 0.5),
    ("squat", "lunge", 0.6),
    ("squat", "jump", 0.5),
    ("hinge", "jump", 0.4),
    ("lunge", "jump", 0.4),
    ("cyclic", "jump", 0.4),
)
"""Patterns that serve for each other in part; common practice."""
POWER_COST, POWER_KEPT, POWER_MORE = 40, 1.2, 1.6
"""Cost of each e-fold of power lost, times the share that legs, hips and lungs have in the original's work;
what a stand-in may fall short for nought, and exceed."""
LOAD_COST = 5
"""Cost of each e-fold of work on the load, more or less, where both have one."""
STYLE: dict[PaceKind, int] = {"ballistic": 0, "steady": 1, "slow": 2, "held": 4}
STYLE_COST = 4
"""Cost of each step slower than the original moves."""
FORCE_COST, FORCE_KEPT, LEAST_FORCE = 20, 1.2, 0.1
"""The same for a lift: what one side has to overcome, whatever the time it takes."""
UNIT_COST = 6
"""Cost of counting in another unit."""
TAKES_COST = 1
"""Cost of each step of difference in grip, overhead or lower back."""
HARDER_COST, EASIER_COST = 6, 1
"""Cost of each level of skill that the stand-in asks more, or less."""
SIDES_COST = 2
"""Cost of changing between both sides together, alternating, and one side after the other."""
NEAREST_DOSES = 2
"""How many doses are offered beside the number itself."""


def substitution_cost(original: Movement, stand_in: Movement, *, lift: bool = False) -> int:
    """What is lost when one movement stands for another: 0 (the same) to 100 (nothing in common).

    A cost that the catalogue sets by hand wins, in its own direction only. Otherwise it is the pattern lost,
    then what the work loses of its power (of a lift, of the force on each side), then what an athlete would
    notice: slower, another load, unit, way of taking sides, demand on grip, shoulders or back, harder or
    easier to learn. That stimulus outweighs looks is common practice; the figures are ours, tuned on half of
    the questions of ``tests/facts/stand_ins.yaml``. A computed cost is at least 1, so only a movement itself,
    or a cost set by hand, is 0.

    Args:
        original: the movement on the gym floor.
        stand_in: the movement that would replace it.
        lift: whether it is done for strength: a lift or beside one, but not one that is for speed.
    """
    if original.id == stand_in.id:
        return 0
    by_hand = original.substitutes.get(stand_in.id)
    if by_hand is not None:
        return by_hand
    lost = pattern_lost(original, stand_in)
    cost = PATTERN_COST * lost + STRANGE_COST * (lost == 1) + _stimulus_cost(original, stand_in, lift=lift)
    cost += UNIT_COST * (original.unit != stand_in.unit)
    cost += SIDES_COST * (original.sides != stand_in.sides)
    cost += _skill_cost(stand_in.skill - original.skill) + TAKES_COST * _takes_steps(original, stand_in)
    return max(1, min(WORST_COST, round(cost)))


def for_strength(scheme: Scheme | None) -> bool:
    """Whether a line is done for strength: what stands in for it goes by force, not by power."""
    return scheme is not None and scheme.goal != "power"


def pattern_lost(original: Movement, stand_in: Movement) -> float:
    """Share of the original's patterns that a stand-in has not, kindred ones counted in part; 0 to 1."""
    mine: dict[Pattern, float] = {p: x / 100 for p, x in original.patterns.items()}
    other: dict[Pattern, float] = {p: x / 100 for p, x in stand_in.patterns.items()}
    kept = 0.0
    both = ((p, p, 1.0) for p in original.patterns)
    kin = (pair for a, b, worth in KIN for pair in ((a, b, worth), (b, a, worth)))
    for wanted, had, worth in (*both, *kin):
        taken = min(mine.get(wanted, 0.0), other.get(had, 0.0))
        if taken:
            kept += worth * taken
            mine[wanted] -= taken
            other[had] -= taken
    return 1 - kept


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


def _stimulus_cost(original: Movement, stand_in: Movement, *, lift: bool) -> float:
    """What is lost of power or force, pace and load; nought where what they move is not known."""
    before, after = original.typical, stand_in.typical
    if before is None or after is None or original.motion is None or stand_in.motion is None:
        return 0.0
    was, now = original.motion.pace, stand_in.motion.pace
    cost = 0.0
    if lift and was != "ballistic":  # slow is how a lift is made harder, fast is how it is made another
        cost += STYLE_COST * 4 * (now in {"ballistic", "held"})
        left = max(LEAST_FORCE, force_share(stand_in, after, original, before))
        cost += FORCE_COST * max(0.0, -log(left) - log(FORCE_KEPT))
    else:
        cost += STYLE_COST * max(0, STYLE[now] - STYLE[was])
        ratio = before.watts / after.watts
        lost = max(0.0, log(ratio) - log(POWER_KEPT), -log(ratio) - log(POWER_MORE))
        cost += POWER_COST * before.share("legs", "hips", "lungs") * lost
    if before.on_load and after.on_load:
        cost += LOAD_COST * abs(log(before.on_load / after.on_load))
    return cost


def _skill_cost(levels_harder: int) -> int:
    return HARDER_COST * levels_harder if levels_harder > 0 else EASIER_COST * -levels_harder


def _takes_steps(original: Movement, stand_in: Movement) -> int:
    before, after = original.takes, stand_in.takes
    return (
        abs(before.grip - after.grip)
        + abs(before.overhead - after.overhead)
        + abs(before.back - after.back)
    )  # fmt: skip
