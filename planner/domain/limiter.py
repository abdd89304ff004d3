"""What a line taxes: the one thing that gives first, against what an athlete can do without stopping."""

from __future__ import annotations

from typing import Literal, get_args

from planner.domain.catalogue import Movement, Tier
from planner.domain.groups import GROUPS
from planner.domain.timing import dose_tenths
from planner.domain.work import Effort

Limiter = Literal["lungs", "legs", "grip", "pushing", "pulling", "trunk", "skill"]
LIMITERS: tuple[Limiter, ...] = get_args(Limiter)
REPS: dict[Tier, int] = {"open": 20, "light": 18, "moderate": 13, "heavy": 8}
"""Reps that a typical athlete does without a break at what each tier asks for (table of reps and percent); of
what has no load twice as many as go at a steady pace; common practice."""
GRIP_S: tuple[int, int, int] = (10_000, 120, 45)
"""Seconds for which hands hold on, by what a movement takes of the grip; common practice."""
HELD_S = 60
"""Seconds of a hold, or of slow work of trunk, that a typical athlete keeps up; common practice."""
LUNG_WATTS, LUNG_SECONDS = 200, 60
"""Power that goes on, and the time after which more than that takes the breath; common practice."""
SKILLED = 3
PUSHED = {"pushing": GROUPS["push"], "pulling": GROUPS["pull"]}


def limiter_of(movement: Movement, dose: int, tier: Tier, effort: Effort | None) -> Limiter:
    """What gives first.

    Each is a share of what can be done without stopping: of legs, pushing, pulling and trunk their part of
    the work times the dose in sets; of the grip seconds held; of lungs power over what goes on, as far as the
    dose is long; of skill the dose in steady sets. The first of ``LIMITERS`` where two are alike.

    Args:
        movement: the movement.
        dose: without a break: of one round or rung, in the movement's unit.
        tier: how heavy.
        effort: what a unit takes; None if not known.
    """
    seconds = dose_tenths(movement, dose, tier) / 10
    fresh = movement.doses.get("open") is not None or movement.modality != "loaded"
    reps = max(2 * movement.pace.steady_to, 6) if fresh else REPS[tier]
    sets = seconds / HELD_S if movement.unit != "reps" else dose / reps
    parts = _parts(movement, effort)
    strain: dict[Limiter, float] = dict.fromkeys(LIMITERS, 0.0)
    for limiter, share in parts.items():
        strain[limiter] = share * sets
    watts = effort.watts if effort else 0.0
    strain["lungs"] = watts / LUNG_WATTS * min(1.0, seconds / LUNG_SECONDS)
    strain["grip"] = 0 if movement.modality == "cyclic" else seconds / GRIP_S[movement.takes.grip]
    if movement.skill == SKILLED:
        strain["skill"] = dose / max(1, movement.pace.steady_to)
    return max(LIMITERS, key=lambda limiter: strain[limiter])


def _parts(movement: Movement, effort: Effort | None) -> dict[Limiter, float]:
    """Shares of legs, pushing, pulling and trunk: of the work, and of arms by the patterns."""
    if effort is None or effort.share("lungs"):
        return {}
    arms, trunk = effort.share("arms"), effort.share("trunk")
    pulled = sum(movement.share_of(p) for p in PUSHED["pulling"])
    pushed = sum(movement.share_of(p) for p in PUSHED["pushing"])
    pulls = pulled / (pulled + pushed) if pulled + pushed else 0.5
    return {
        "legs": effort.share("legs", "hips"),
        "pushing": arms * (1 - pulls),
        "pulling": arms * pulls,
        "trunk": trunk,
    }
