"""What an athlete lifts, whatever is at hand: 1RM by lift share, what a tier asks for, usual masses."""

from __future__ import annotations

from planner.domain.catalogue import Movement, Tier
from planner.domain.complexes import Complex
from planner.domain.gym import Athlete, athlete_index
from planner.domain.line import BARBELL
from planner.domain.work import Effort, effort_of

TIER_LOAD_PERCENT: dict[Tier, int] = {"open": 57, "light": 57, "moderate": 67, "heavy": 80}
"""Conditioning load in percent of the movement's 1RM; common practice.

Light is about what can be moved fifteen or twenty times without a break. With ``UP_FROM_PERCENT`` it makes a
light bar of 40 to 45 kg for a man who thrusts 75 kg once, and of 27.5 to 30 kg for a woman who does 50 kg.
"""
DEADLIFT_TIER_PERCENT: dict[Tier, int] = {"open": 45, "light": 45, "moderate": 57, "heavy": 70}
"""The same for lifts that are a share of the deadlift: its 1RM is so high that less is felt as much; common
practice."""
REFERENCE_SHARES: dict[str, tuple[str, int, str]] = {
    "front_squat": ("back_squat", 85, "coaching ratios, confirmed on secondary pages"),
    "deadlift": ("back_squat", 115, "coaching convention 110 to 120, confirmed on secondary pages"),
    "clean_and_jerk": ("back_squat", 77, "national coaching figures 77 to 81, confirmed on secondary pages"),
    "snatch": ("clean_and_jerk", 80, "coaching literature, confirmed on secondary pages"),
    "strict_press": ("clean_and_jerk", 60, "coaching ratios, confirmed on secondary pages"),
    "bench_press": ("back_squat", 75, "rule of thumb 3 to 4, confirmed on secondary pages"),
    "back_squat": ("front_squat", 118, "the inverse of 85"),
}
"""A reference lift that the gym has not tested, from one that it has: (lift, percent, source)."""
TIER_ORDER: tuple[Tier, ...] = ("light", "moderate", "heavy")

CLASSES_FROM_KG = (9, 14, 20, 28, 50, 72, 100)
"""Between two of these one load serves all; in conditioning the weakest lift sets it. Common masses of bells,
and bars of light, middling and heavy lifts, each fall together; a design choice."""
TYPICAL = Athlete(
    id="man",
    name="Typical man",
    bar_kg=20,
    lifts={
        "back_squat": 115, "front_squat": 97.5, "deadlift": 140, "strict_press": 57.5, "bench_press": 85,
        "clean_and_jerk": 85, "snatch": 65,
    },
)  # fmt: skip
"""Whose power the costs of stand-ins go by, the same in every gym: the man of a new gym's folder; common
practice."""


def reference_kg(lift: str, athlete: Athlete) -> float | None:
    """1RM of a reference lift: as tested, else by the usual share of one that is; None if nothing helps.

    Args:
        lift: id of the reference lift.
        athlete: whose.
    """
    share, seen = 1.0, {lift}
    while lift not in athlete.lifts:
        if lift not in REFERENCE_SHARES:
            return None
        lift, percent, _ = REFERENCE_SHARES[lift]
        if lift in seen:
            return None
        seen.add(lift)
        share *= percent / 100
    return athlete.lifts[lift] * share


def one_rm_kg(movement: Movement, athlete: Athlete) -> float | None:
    """1RM of a movement by its share of a reference lift, of a complex its weakest; None where it has none.

    Args:
        movement: the movement.
        athlete: whose.
    """
    if isinstance(movement, Complex):
        known = (one_rm_kg(part, athlete) for part, _ in movement.of)
        return min((kg for kg in known if kg is not None), default=None)
    if movement.lift is None:
        return None
    base = reference_kg(movement.lift.of, athlete)
    return None if base is None else base * movement.lift.percent / 100


def tier_percent(movement: Movement, tier: Tier) -> int:
    """Percent of the movement's 1RM for a tier in conditioning."""
    on_deadlift = movement.lift is not None and movement.lift.of == "deadlift"
    return (DEADLIFT_TIER_PERCENT if on_deadlift else TIER_LOAD_PERCENT)[tier]


def usual_kg(movement: Movement, tier: Tier, athlete: Athlete) -> float | None:
    """The usual mass for a tier where there is no lift to compute from; the nearest tier's if it has none."""
    if not movement.kg:
        return None
    at = TIER_ORDER.index(tier) if tier in TIER_ORDER else 0
    known = [t for t in TIER_ORDER if t in movement.kg]
    if not known:
        return next(iter(movement.kg.values()))[athlete_index(athlete)]
    nearest = min(known, key=lambda t: (abs(TIER_ORDER.index(t) - at), TIER_ORDER.index(t)))
    return movement.kg[nearest][athlete_index(athlete)]


def conditioning_target_kg(movement: Movement, item: str, tier: Tier, athlete: Athlete) -> float | None:
    """What a movement alone would ask for in conditioning; None where nothing is known.

    On a bar the 1RM comes first, on any other implement the usual mass.

    Args:
        movement: the movement.
        item: the implement.
        tier: how heavy.
        athlete: whose.
    """
    one_rm = one_rm_kg(movement, athlete)
    by_rm = None if one_rm is None else one_rm * tier_percent(movement, tier) / 100
    usual = usual_kg(movement, tier, athlete)
    first, second = (by_rm, usual) if item == BARBELL else (usual, by_rm)
    return first if first is not None else second


def load_class(movement: Movement, tier: Tier, item: str, athlete: Athlete) -> int:
    """Which loads serve for a line: those of one class do for each other; 0 where nothing is known.

    Args:
        movement: the movement.
        tier: how heavy.
        item: the implement.
        athlete: whose.
    """
    wanted = conditioning_target_kg(movement, item, tier, athlete)
    return 0 if wanted is None else 1 + sum(wanted >= kg for kg in CLASSES_FROM_KG)


def load_in_hands_kg(movement: Movement, tier: Tier, athlete: Athlete) -> float:
    """All that is in the hands in conditioning, both of a pair, kg; nought where no load is chosen."""
    if movement.modality != "loaded":
        return 0.0
    item = BARBELL if BARBELL in movement.setups[0].needs else ""
    return (conditioning_target_kg(movement, item, tier, athlete) or 0.0) * movement.implements


def typical_effort(movement: Movement) -> Effort | None:
    """What a unit takes of the typical man: moderate where the movement can be, else its nearest load."""
    tiers: tuple[Tier, ...] = tuple(movement.doses or movement.kg) or ("light",)
    tier: Tier = "moderate" if "moderate" in tiers or movement.lift else tiers[0]
    return effort_of(movement, load_in_hands_kg(movement, tier, TYPICAL), TYPICAL.body, tier)
