"""What one member puts on the bar."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from planner.errors import DataError
from planner.prescribe.loads import scheme_percent
from planner.prescribe.member_loads import MemberLoad, find_lift, find_schemes, member_load
from planner.prescribe.one_rm import Reading, check_usual, one_rm_kg, read_reps_max, reading_of
from planner.weeks.known import catalogue_and_gym


@dataclass(frozen=True)
class SchemeLoads:
    """What one scheme asks for.

    Attributes:
        name: of the scheme.
        percent: of the 1RM.
        loads: for each 1RM asked about: one as tested, or the lowest, the mean and the highest estimate.
    """

    name: str
    percent: float
    loads: tuple[MemberLoad, ...]


@dataclass(frozen=True)
class Answer:
    """One member's loads.

    Attributes:
        lift: name.
        tested: the lift that the 1RM is of.
        spread: whether the 1RM was estimated, so that there are three.
        schemes: each scheme that was asked for.
        bars: masses of the gym's bars in kg, if the bar that was asked about is none of them; else empty.
    """

    lift: str
    tested: Reading
    spread: bool
    schemes: tuple[SchemeLoads, ...]
    bars: tuple[float, ...] = ()


def member_answer(
    gym_folder: Path,
    lift: str,
    scheme: str,
    *,
    one_rm: float | None = None,
    reps_max: str | None = None,
    bar: float | None = None,
    of: str = "",
    meant: bool = False,
) -> Answer:
    """One member's loads on the gym's plates.

    Args:
        gym_folder: with ``gym.yaml``.
        lift: name or id of a lift on the bar.
        scheme: id, or sets and reps such as "4x6".
        one_rm: 1RM in kg.
        reps_max: a set to failure such as "4@75", instead of a 1RM.
        bar: mass of the bar in kg; all the gym's bars if None.
        of: the lift that the 1RM or the set is of, where the lift is trained as a share of another.
        meant: whether a 1RM out of the usual range is meant.

    Raises:
        DataError: something asked for is not there, not exactly one of 1RM and rep max is given, or the 1RM
            is unusual.
    """
    if (one_rm is None) == (reps_max is None):
        raise DataError(
            "a 1RM or a rep max is needed, one of the two", advice="--one-rm 85, or --reps-max 4@75."
        )
    catalogue, gym = catalogue_and_gym(gym_folder)
    bests = (one_rm,) if one_rm is not None else one_rm_kg(*read_reps_max(reps_max or ""))
    bars = () if bar is None else (bar,)
    held = gym.inventory.get("barbell", {})
    known = tuple(sorted(kg for kg, count in held.items() if count)) if isinstance(held, dict) else ()
    movement = find_lift(lift, catalogue)
    tested = reading_of(movement, catalogue, of)
    if not meant:
        for best in bests:
            check_usual(best, movement, tested, gym)
    return Answer(
        lift=movement.name,
        bars=() if bar is None or bar in known else known,
        tested=tested,
        spread=one_rm is None,
        schemes=tuple(
            SchemeLoads(
                found.name,
                scheme_percent(found),
                tuple(
                    member_load(best, scheme_percent(found), gym, bars, share=tested.percent)
                    for best in bests
                ),
            )
            for found in find_schemes(scheme, catalogue)
        ),
    )
