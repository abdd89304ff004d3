"""Work and power of a movement: joules of one unit, who does them, and watts at the movement's pace.

Work is the rise of body and load; phases that fall count a fifth. Gaits, carries and holds go by their
energy cost, of which a quarter is taken for work; machines by what their displays are computed from.
``docs/stimulus.md`` has the formulas, their sources and what they leave out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import cast

from planner.domain.catalogue import Movement, Tier
from planner.domain.motion import PARTS, Motion, Part, PlaceName
from planner.domain.postures import ABOVE_HIPS, POSTURES, REACH, Body, Posture, PostureName
from planner.domain.timing import TIER_PERCENT

GRAVITY = 9.81
"""m/s², as the published examples take it."""
LOWERING = 0.2
"""Of a phase that falls: eccentric work costs a fourth to a fifth of concentric (from memory)."""
EFFICIENCY = 0.25
"""Of metabolic power, what is mechanical (from memory)."""
WATTS_PER_MET = 1.22
"""Metabolic watts for each kg and MET: 3.5 ml of oxygen a minute at 20.9 J (from memory)."""
MOST_FORCE = 1.25
"""What a part can do more than the original asks of it, for that to count; a design choice."""
BAR_CENTRE_M, OTHER_CENTRE_M, TARGET_M = 0.225, 0.15, 2.9
"""Height of a load's middle on the floor, on discs of 450 mm or not; of a mark on the wall. Common
practice."""
BESIDE_SHOULDER: dict[str, float] = {
    "hands": -REACH, "waist": -0.10, "chest": -0.08, "rack": 0.0, "eyes": 0.10, "overhead": REACH,
}  # fmt: skip
"""Height of a load over the shoulder, in shares of stature."""


@dataclass(frozen=True)
class Effort:
    """What one unit of a movement takes.

    Attributes:
        joules: by who does it.
        seconds: that it takes, fresh.
        on_load: of the joules, those that raise or move the load.
    """

    joules: dict[Part, float]
    seconds: float
    on_load: float = 0.0

    @property
    def total(self) -> float:
        """Work, joules."""
        return sum(self.joules.values())

    @property
    def watts(self) -> float:
        """Power, watts."""
        return self.total / self.seconds

    def share(self, *parts: Part) -> float:
        """Part of the work that some do, 0 to 1."""
        return sum(self.joules[p] for p in parts) / self.total if self.total else 0.0


def effort_of(movement: Movement, load_kg: float, body: Body, tier: Tier = "open") -> Effort | None:
    """What one unit of a movement takes (a rep of one side where sides are taken in turn); None if not known.

    Args:
        movement: the movement.
        load_kg: all that is in the hands, kg; nought for none.
        body: of the athlete.
        tier: how heavy that is for the movement: reps slow down as it grows.
    """
    motion = movement.motion
    if motion is None:
        return None
    seconds = movement.pace.seconds * TIER_PERCENT[tier] / 100
    load = motion.resistance_kg or load_kg
    if motion.path:
        joules, on_load = _along(motion, load, body, "barbell" in movement.setups[0].needs)
    else:
        if motion.by_pace == "run":
            watts = _above_rest(running_met(60 / seconds) * WATTS_PER_MET * body.mass_kg, body)
        elif motion.by_pace:
            watts = row_watts(seconds) if motion.by_pace == "row" else display_watts(3600 / seconds)
        elif motion.carried:
            watts = _above_rest(carry_watts(body.mass_kg, load, 1 / seconds), body)
        else:
            assert motion.met is not None
            watts = _above_rest(motion.met * WATTS_PER_MET * body.mass_kg, body)
        drag = GRAVITY * load * motion.dragged_percent / 100 if motion.dragged_percent else 0.0
        joules, on_load = dict.fromkeys(PARTS, 0.0), drag
        joules[motion.done_by or "lungs"] = watts * seconds + drag
    return Effort(joules, seconds, on_load)


def force_share(movement: Movement, mine: Effort, original: Movement, whole: Effort) -> float:
    """How hard a rep is on one side against one of the original: the mean over who does the original's work.

    Args:
        movement: whose rep it is.
        mine: what it takes.
        original: with what it is compared.
        whole: what that takes.

    Returns:
        0 where nobody who does the original's work does any, 1 where all do as much; no part counts for more
        than ``MOST_FORCE``.
    """
    sides = _one_side(movement) / _one_side(original)
    known = ((whole.share(part), whole.joules[part], sides * mine.joules[part]) for part in PARTS)
    return sum(share * min(MOST_FORCE, has / had) for share, had, has in known if had)


def _one_side(movement: Movement) -> int:
    """Of what both sides would share, what falls on one: all of it, where they take turns."""
    return 1 if movement.sides == "both" else 2


# Published conversions -------------------------------------------------------------------------------------


def row_watts(seconds_a_metre: float) -> float:
    """Watts on a rowing machine: 2.80 / pace³ (the maker's constant; confirmed on secondary pages)."""
    return 2.80 / seconds_a_metre**3


def display_watts(calories_an_hour: float) -> float:
    """Watts behind a display's calories an hour: (4 kJ + 0.35 s) / 4.2, solved for power."""
    return max(0.0, (calories_an_hour * 4.2 - 0.35 * 3600) / (4 * 3.6))


def running_met(metres_a_minute: float) -> float:
    """Energy cost of running on the level, in METs: (3.5 + 0.2 S) / 3.5 (ACSM, confirmed)."""
    return (3.5 + 0.2 * metres_a_minute) / 3.5


def carry_watts(mass_kg: float, load_kg: float, metres_a_second: float) -> float:
    """Gross metabolic watts of walking with a load (Pandolf, Givoni and Goldman 1977, from memory)."""
    whole = mass_kg + load_kg
    standing = 1.5 * mass_kg + 2.0 * whole * (load_kg / mass_kg) ** 2
    return standing + whole * 1.5 * metres_a_second**2


def _above_rest(metabolic_watts: float, body: Body) -> float:
    return EFFICIENCY * max(0.0, metabolic_watts - WATTS_PER_MET * body.mass_kg)


# Along a path ----------------------------------------------------------------------------------------------


def _along(motion: Motion, load_kg: float, body: Body, bar: bool) -> tuple[dict[Part, float], float]:
    """Joules by who does them, and those on the load, of a path and back."""
    stops = [_stop(stop, bar, body) for stop in motion.path]
    whole = on_load = 0.0
    parts = dict.fromkeys(PARTS, 0.0)
    for (before, low), (after, high) in pairwise((*stops, stops[0])):
        falls = 0.0 if motion.thrown and high < low else LOWERING
        whole += _counted(GRAVITY * body.mass_kg * body.stature_m * (after.centre - before.centre), LOWERING)
        lifted = _counted(GRAVITY * load_kg * (high - low), falls)
        on_load += lifted
        for part, joules in _by_whom(before, after, load_kg, high - low, body):
            parts[part] += _counted(joules, LOWERING)
    beside = motion.flight_m + motion.climb_m
    jumped = GRAVITY * (body.mass_kg + load_kg) * beside * (1 + LOWERING)
    parts["legs"] += jumped
    total = (whole + on_load + jumped) * (1 - motion.elastic_percent / 100)
    on_load += GRAVITY * load_kg * beside * (1 + LOWERING)
    if motion.done_by:
        return dict.fromkeys(PARTS, 0.0) | {motion.done_by: total}, on_load
    counted = sum(parts.values()) or 1.0
    return {part: total * joules / counted for part, joules in parts.items()}, on_load


def _stop(written: str, bar: bool, body: Body) -> tuple[Posture, float]:
    name, _, place = written.partition(" ")
    posture = POSTURES[cast("PostureName", name)]
    return posture, _load_height(posture, cast("PlaceName", place or "hands"), bar, body)


def _load_height(posture: Posture, place: PlaceName, bar: bool, body: Body) -> float:
    """Height of a load, metres."""
    if place == "floor":
        return BAR_CENTRE_M if bar else OTHER_CENTRE_M
    if place == "target":
        return TARGET_M
    if (
        place == "hips"
    ):  # lying, the hips rise twice as far as the centre of mass between them and the shoulders
        return body.stature_m * (posture.hip if posture.stance == "feet" else 2 * posture.centre)
    return max(OTHER_CENTRE_M, (posture.shoulder + BESIDE_SHOULDER[place]) * body.stature_m)


def _by_whom(
    before: Posture, after: Posture, load_kg: float, load_rise: float, body: Body
) -> Iterator[tuple[Part, float]]:
    """Joules of a phase by who does it; below nought where it falls."""
    mass, stature = body.mass_kg, body.stature_m
    centre = GRAVITY * mass * stature * (after.centre - before.centre)
    stances = {before.stance, after.stance}
    shoulder = stature * (after.shoulder - before.shoulder)
    if stances == {"feet"}:
        hip = stature * (after.hip - before.hip)
        legs = GRAVITY * (mass * stature * (after.legs - before.legs) + ABOVE_HIPS * mass * hip)
        yield "legs", legs + GRAVITY * load_kg * hip
        yield "hips", centre - legs + GRAVITY * load_kg * (shoulder - hip)
        yield "arms", GRAVITY * load_kg * (load_rise - shoulder)
    elif "feet" in stances:
        yield "legs", centre + GRAVITY * load_kg * shoulder
        yield "arms", GRAVITY * load_kg * (load_rise - shoulder)
    elif stances == {"lying"}:
        yield "trunk", centre
        yield "arms", GRAVITY * load_kg * load_rise
    else:
        yield "arms", centre + GRAVITY * load_kg * load_rise


def _counted(joules: float, falling: float) -> float:
    return joules if joules >= 0 else -joules * falling
