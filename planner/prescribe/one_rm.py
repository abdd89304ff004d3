"""A member's 1RM: which lift it is of, whether it is usual, and what a set to failure says of it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from planner.domain.catalogue import Catalogue, Movement
from planner.domain.gym import Gym
from planner.domain.lifting import one_rm_kg as lift_one_rm_kg
from planner.domain.words import spoken
from planner.errors import DataError
from planner.prescribe.estimators import MOST_REPS, spread_kg

USUAL_PERCENT = (33, 200)
"""A 1RM is usual from a third of the lighter reference athlete's to twice the heavier's; a design choice."""


@dataclass(frozen=True)
class Reading:
    """Which lift a 1RM is taken to be of.

    Attributes:
        of: its name.
        percent: what is lifted, in percent of it: 100 where the 1RM is the lift's own.
        other: name of the other lift that a member could mean; empty where there is none, or it is the same.
    """

    of: str
    percent: int = 100
    other: str = ""


def reading_of(lift: Movement, catalogue: Catalogue, named: str = "") -> Reading:
    """The lift that a 1RM is taken to be of.

    For a lift that is trained as a share of another, both are tested by somebody. Unless one is named it is
    the one that makes the smaller load: nobody finds more on the bar than was meant.

    Args:
        lift: what is lifted.
        catalogue: for the names.
        named: the lift that the 1RM is of, by name or id; empty where nothing was said.

    Raises:
        DataError: it is neither the lift nor the one that it is a share of.
    """
    share = lift.lift
    if share is None or share.of == lift.id:
        found = {lift.name: Reading(lift.name)}
    else:
        known = catalogue.movements.get(share.of)
        base = known.name if known else spoken(share.of)
        same = share.percent == 100  # noqa: PLR2004  (then one number is as good as the other)
        own = Reading(lift.name, 100, "" if same else base)
        other = Reading(base, share.percent, "" if same else lift.name)
        found = {t.of: t for t in ((other, own) if share.percent <= 100 else (own, other))}  # noqa: PLR2004
    wanted = " ".join(named.casefold().replace("_", " ").split())
    for name, tested in found.items():
        if wanted in ("", name.casefold()):
            return tested
    raise DataError(f'the 1RM is of no "{named}"', advice=f"Write --of with one of: {', '.join(found)}.")


def usual_kg(lift: Movement, tested: Reading, gym: Gym) -> tuple[int, int] | None:
    """The range in which 1RMs of the tested lift usually are, in kg; None where nothing is known of it.

    Args:
        lift: what is lifted.
        tested: what the 1RM is of.
        gym: whose reference athletes.
    """
    own = [kg for kg in (lift_one_rm_kg(lift, athlete) for athlete in gym.athletes) if kg is not None]
    if not own:
        return None
    low, high = (100 * kg / tested.percent for kg in (min(own), max(own)))
    return int(low * USUAL_PERCENT[0] / 100), -int(-high * USUAL_PERCENT[1] // 100)


def check_usual(one_rm: float, lift: Movement, tested: Reading, gym: Gym) -> None:
    """Refuses a 1RM that is more likely a slip.

    Raises:
        DataError: it is outside what is usual; says the range.
    """
    usual = usual_kg(lift, tested, gym)
    if usual is not None and not usual[0] <= one_rm <= usual[1]:
        raise DataError(
            f"a 1RM of {one_rm:g} kg for {tested.of} is unusual: {usual[0]} to {usual[1]} kg are usual",
            advice="Write it again, or add --yes if it is meant.",
        )


def read_reps_max(text: str) -> tuple[int, float]:
    """Reps and kg of a set to failure, written "4@75".

    Raises:
        DataError: it is not written that way, or no formula goes that far.
    """
    match = re.fullmatch(r"\s*(\d+)\s*@\s*(\d+(?:\.\d+)?)\s*(?:kg)?\s*", text)
    if match is None:
        raise DataError(f'"{text}" is not a rep max', advice='Write reps@kg, such as "4@75".')
    reps, kg = int(match[1]), float(match[2])
    if not 1 <= reps <= MOST_REPS:
        raise DataError(
            f"{reps} reps: a 1RM can be estimated from 1 to {MOST_REPS} reps",
            advice="Take a heavier set; the formulas get worse as reps rise.",
        )
    return reps, kg


def one_rm_kg(reps: int, load_kg: float) -> tuple[float, float, float]:
    """Lowest, mean and highest 1RM by the published formulas, to a tenth of a kg; the lowest is rounded down.

    Args:
        reps: done to failure.
        load_kg: of the set.
    """
    low, middle, high = spread_kg(load_kg, reps)
    return int(low * 10) / 10, round(middle, 1), round(high, 1)
