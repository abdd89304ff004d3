"""Where a movement takes the body and its load: what the work of one unit of it is computed from."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Annotated, Literal, get_args

from pydantic import AfterValidator, Field, model_validator

from planner.domain.base import Value
from planner.domain.postures import POSTURE_NAMES

Part = Literal["legs", "hips", "trunk", "arms", "lungs"]
"""Who does the work; ``lungs`` where it is a gait, a machine or a hold, and nobody counts joints."""
PARTS: tuple[Part, ...] = get_args(Part)
PaceKind = Literal["ballistic", "steady", "slow", "held"]
PlaceName = Literal["floor", "hands", "hips", "waist", "chest", "rack", "eyes", "overhead", "target"]
"""Where a load is: on the floor, in hanging hands, on the hips, at the waist, hugged, at the shoulders, at
eye height at arm's length, locked out overhead, at a mark on the wall."""
PLACES: tuple[PlaceName, ...] = get_args(PlaceName)


def _stop(written: str) -> str:
    posture, _, place = written.partition(" ")
    for word, known, what in (
        (posture, POSTURE_NAMES, "posture"),
        (place or "hands", PLACES, "height of a load"),
    ):
        if word not in known:
            near = get_close_matches(word, known, 1)
            hint = f'Did you mean "{near[0]}"?' if near else f"These are: {', '.join(known)}."
            raise ValueError(f'there is no {what} "{word}". {hint}')
    return written


Stop = Annotated[str, AfterValidator(_stop)]
"""A posture, and where the load is: ``stand overhead``; without a load the posture alone."""


class Motion(Value):
    """What one unit of a movement moves.

    One of three: a ``path`` that is gone through and back to its first stop; ``met`` (or ``carried``) for
    gaits, holds and what is not counted joint by joint; ``by_pace`` where a published conversion makes power
    of its pace.

    Attributes:
        path: stops in order; from the last it goes back to the first.
        flight_m: height of the flight of a jump, metres.
        climb_m: what body and load rise beside the path: a box, a rope, metres.
        elastic_percent: of the work, what tendons give back.
        thrown: whether the load is thrown or dropped, so that nobody lowers it.
        done_by: who does it all, where that does not follow from the postures.
        resistance_kg: of a band, as the mass that pulls as much; of its stretch the load's path is the
            length.
        met: energy cost in multiples of rest, without a load (Compendium 2011, or common practice).
        carried: whether the load is carried while walking.
        dragged_percent: of the weight on a sled, what it takes to move it.
        by_pace: the published conversion by which its pace says the power: rowing by metres, a display's
            calories, running.
        pace: ballistic, steady, slow or held.
        source: of ``met``; empty where it is common practice.
    """

    path: tuple[Stop, ...] = ()
    flight_m: float = Field(0, ge=0, le=1)
    climb_m: float = Field(0, ge=0, le=6)
    elastic_percent: int = Field(0, ge=0, le=90)
    thrown: bool = False
    done_by: Part | None = None
    resistance_kg: float | None = Field(None, gt=0, le=100)
    met: float | None = Field(None, ge=1, le=23)
    carried: bool = False
    dragged_percent: int = Field(0, ge=0, le=100)
    by_pace: Literal["row", "calories", "run"] | None = None
    pace: PaceKind = "steady"
    source: str = ""

    @model_validator(mode="after")
    def _one_of_three(self) -> Motion:
        walked = self.met is not None or self.carried
        if (bool(self.path) + walked + (self.by_pace is not None)) != 1:
            raise ValueError("say one of path, met (or carried) and by_pace: what is moved, or what it costs")
        if len(self.path) == 1 and not (self.flight_m or self.climb_m):
            raise ValueError("a path has two stops at least: from where to where")
        return self
