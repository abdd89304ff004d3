"""Postures: how high an athlete's hips, shoulders and centre of mass are, in metres.

A posture on the feet is the angles of shank, thigh and trunk from the vertical, in the plane; lengths and
masses of the segments are published shares of stature and body mass (``shared/reference/body_segments.csv``,
``body_heights.csv``). Lying, propped, hanging and inverted postures are given outright. What this leaves out
is said in ``docs/stimulus.md``.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import cos, radians
from typing import Literal, get_args

ANKLE, KNEE, HIP, SHOULDER = 0.039, 0.285, 0.530, 0.818
"""Heights when standing, in shares of stature (Drillis and Contini 1966, from memory)."""
SHANK, THIGH, TRUNK = KNEE - ANKLE, HIP - KNEE, SHOULDER - HIP
UPPER_ARM, FOREARM, GRIP = 0.186, 0.146, 0.05
"""Lengths in shares of stature, the same source; ``GRIP`` is from the wrist to the middle of the fist."""
REACH = UPPER_ARM + FOREARM + GRIP
FOOT_MASS, SHANK_MASS, THIGH_MASS, TRUNK_MASS, ARM_MASS = 2 * 0.0145, 2 * 0.0465, 2 * 0.100, 0.578, 2 * 0.050
"""Shares of body mass, both sides (Dempster as adapted by Winter, confirmed on secondary pages)."""
ABOVE_HIPS = TRUNK_MASS + ARM_MASS
"""Head, arms and trunk: what hips and legs carry."""
SHANK_CENTRE, THIGH_CENTRE, TRUNK_CENTRE, ARM_CENTRE, ABOVE_HIPS_CENTRE = 0.567, 0.567, 0.660, 0.530, 0.626
"""Centres of mass along a segment: of shank and thigh from below, of the trunk from the hip, of the arm from
the shoulder; of head, arms and trunk together from the hip (the same source)."""

Stance = Literal["feet", "hands", "lying", "hanging"]
"""What carries the body: its feet, hands and feet or hands alone, its back or belly, or its grip."""


@dataclass(frozen=True)
class Body:
    """An athlete's body.

    Attributes:
        mass_kg: body mass, kg.
        stature_m: height, metres.
    """

    mass_kg: float
    stature_m: float


@dataclass(frozen=True)
class Posture:
    """How the body is held; all heights in shares of stature.

    Attributes:
        stance: what carries it.
        angles: of shank, thigh and trunk from the vertical, degrees; on the feet.
        given: heights of centre of mass and shoulder, where there are no angles.
    """

    stance: Stance
    angles: tuple[int, int, int] = (0, 0, 0)
    given: tuple[float, float] | None = None

    @cached_property
    def knee(self) -> float:
        """Height of the knee."""
        return ANKLE + SHANK * cos(radians(self.angles[0]))

    @cached_property
    def hip(self) -> float:
        """Height of the hip."""
        return self.knee + THIGH * cos(radians(self.angles[1]))

    @cached_property
    def shoulder(self) -> float:
        """Height of the shoulder."""
        return self.given[1] if self.given else self.hip + TRUNK * cos(radians(self.angles[2]))

    @cached_property
    def legs(self) -> float:
        """Feet, shanks and thighs: mass times height, in shares of body mass and stature."""
        return (
            FOOT_MASS * ANKLE / 2
            + SHANK_MASS * (ANKLE + SHANK_CENTRE * (self.knee - ANKLE))
            + THIGH_MASS * (self.knee + THIGH_CENTRE * (self.hip - self.knee))
        )

    @cached_property
    def centre(self) -> float:
        """Height of the centre of mass, the arms hanging."""
        if self.given:
            return self.given[0]
        trunk = TRUNK_MASS * (self.hip + TRUNK_CENTRE * (self.shoulder - self.hip))
        arms = ARM_MASS * (self.shoulder - ARM_CENTRE * (UPPER_ARM + FOREARM))
        return self.legs + trunk + arms


def _on_feet(shank: int, thigh: int, trunk: int) -> Posture:
    return Posture("feet", (shank, thigh, trunk))


PostureName = Literal[
    "stand", "deep_squat", "half_squat", "quarter_squat", "dip", "pull", "low_pull", "hinge", "at_knee",
    "lunge", "bent_over", "prone", "supine", "plank", "push_up_low", "knee_plank", "knee_push_up_low",
    "incline", "incline_low", "pike", "pike_low", "handstand", "handstand_low", "bridge", "sitting",
    "dip_high", "dip_low", "hang", "bar_at_chin", "bar_at_chest", "over_bar", "row_hang", "row_up",
    "kneel", "kneel_low",
]  # fmt: skip
POSTURE_NAMES: tuple[PostureName, ...] = get_args(PostureName)
POSTURES: dict[PostureName, Posture] = {
    "stand": _on_feet(0, 0, 0),
    "deep_squat": _on_feet(30, 93, 36),
    "half_squat": _on_feet(25, 75, 30),
    "quarter_squat": _on_feet(20, 50, 20),
    "dip": _on_feet(15, 28, 5),
    "pull": _on_feet(15, 62, 60),
    "low_pull": _on_feet(25, 85, 65),
    "hinge": _on_feet(5, 25, 75),
    "at_knee": _on_feet(5, 20, 45),
    "lunge": _on_feet(5, 88, 3),
    "bent_over": _on_feet(8, 25, 65),
    # Given outright; the first six from memory, the rest a design choice that follows from the lengths above.
    "prone": Posture("lying", given=(0.065, 0.065)),
    "supine": Posture("lying", given=(0.065, 0.065)),
    "plank": Posture("hands", given=(0.265, 0.382)),
    "push_up_low": Posture("hands", given=(0.085, 0.105)),
    "bridge": Posture("lying", given=(0.124, 0.065)),
    "sitting": Posture("lying", given=(0.179, 0.353)),
    "knee_plank": Posture("hands", given=(0.225, 0.382)),
    "knee_push_up_low": Posture("hands", given=(0.095, 0.105)),
    "incline": Posture("hands", given=(0.400, 0.640)),
    "incline_low": Posture("hands", given=(0.270, 0.400)),
    "pike": Posture("hands", given=(0.430, 0.350)),
    "pike_low": Posture("hands", given=(0.330, 0.160)),
    "handstand": Posture("hands", given=(0.630, 0.382)),
    "handstand_low": Posture("hands", given=(0.430, 0.180)),
    "dip_high": Posture("hands", given=(0.582, 0.818)),
    "dip_low": Posture("hands", given=(0.420, 0.650)),
    "hang": Posture("hanging", given=(0.650, 0.900)),
    "bar_at_chin": Posture("hanging", given=(0.930, 1.180)),
    "bar_at_chest": Posture("hanging", given=(0.980, 1.230)),
    "over_bar": Posture("hanging", given=(1.410, 1.660)),
    "row_hang": Posture("hanging", given=(0.300, 0.400)),
    "row_up": Posture("hanging", given=(0.430, 0.640)),
    "kneel": Posture("lying", given=(0.340, 0.533)),
    "kneel_low": Posture("lying", given=(0.150, 0.150)),
}
"""Angles are a design choice (``shared/reference/posture_angles.csv``)."""
