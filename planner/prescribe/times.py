"""Predicted finishes for a quick, a typical and a slow athlete, and time caps."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Any

from planner.domain.catalogue import Shape, TimeDomain
from planner.domain.timing import (
    QUICK_PERCENT,
    SLOW_PERCENT,
    TimedLine,
    line_tenths,
    piece_seconds,
    round_tenths,
)
from planner.domain.week import Prediction
from planner.domain.words import clock
from planner.floor.outcome import Outcome
from planner.prescribe.sentences import rounds_text

Lines = Sequence[tuple[Any, ...]]
"""What ``TimedLine`` is made from, one for each line."""
MINUTE_S = 60


def typical_seconds(lines: Lines, shape: Shape, domain: TimeDomain) -> int:
    """Working time of a typical athlete for all rounds, fatigue included.

    For a piece that the clock ends it is the time in which the expected rounds would be done.
    """
    return piece_seconds(round_tenths(list(lines), shape), shape, domain)


def predict(lines: Lines, shape: Shape, domain: TimeDomain) -> Prediction:
    """What a quick, a typical and a slow athlete get.

    Args:
        lines: movement, dose for a round (for the whole ladder) and tier, in order; and spot and numbers
            where these are not the usual.
        shape: how the piece runs.
        domain: its time domain.
    """
    typical = typical_seconds(lines, shape, domain)
    quick, slow = typical * QUICK_PERCENT // 100, ceil(typical * SLOW_PERCENT / 100)
    if shape.station_s or shape.every_s:
        return _slots(lines, shape, (quick, typical, slow))
    if shape.fixed_minutes is not None:
        return _clock_ends(shape, shape.fixed_minutes * 60, (quick, typical, slow))
    text = f"about {clock(typical)} (quick {clock(quick)}, slow {clock(slow)})"
    return Prediction(unit="seconds", quick=quick, typical=typical, slow=slow, text=text)


def _clock_ends(shape: Shape, length_s: int, seconds: tuple[int, int, int]) -> Prediction:
    quick, typical, slow = (length_s * shape.turns * 10 // max(1, s) for s in seconds)
    text = f"about {rounds_text(typical)} rounds (quick {rounds_text(quick)}, slow {rounds_text(slow)})"
    return Prediction(unit="tenths_of_rounds", quick=quick, typical=typical, slow=slow, text=text)


def _slots(lines: Lines, shape: Shape, seconds: tuple[int, int, int]) -> Prediction:
    """Every round is done; what differs is how much of the slot is left to rest."""
    done = shape.turns * 10
    if shape.every_s:
        quick, typical, slow = (ceil(s / shape.turns) for s in seconds)
        slot = clock(shape.every_s)
        spread = f"quick {clock(quick)}, slow {clock(slow)}"
        text = f"about {clock(typical)} of work in each {slot} ({spread})"
    else:
        timed = [TimedLine(*line) for line in lines]
        works = [ceil(line_tenths(x.movement, x.dose, x.tier) / 10) for x in timed]
        least, most = min(works), max(works)
        figures = f"{least} to {most}" if least < most else f"{most}"
        slot = "minute" if shape.slot_s == MINUTE_S else clock(shape.slot_s)
        text = f"about {figures} seconds of work in each {slot}"
    return Prediction(unit="tenths_of_rounds", quick=done, typical=done, slow=done, text=text)


def on_floor(prediction: Prediction, outcome: Outcome) -> Prediction:
    """A prediction for time with what the class has to wait for: the simulation's percentiles.

    Args:
        prediction: of people who wait for nothing.
        outcome: of the class on the floor.
    """
    if prediction.unit != "seconds" or outcome.finish_s is None or not outcome.longest_wait_s:
        return prediction
    quick, typical, slow = outcome.finish_s
    text = f"about {clock(typical)} (quick {clock(quick)}, slow {clock(slow)})"
    return Prediction(unit="seconds", quick=quick, typical=typical, slow=slow, text=text)


def cap_minutes(predictions: Sequence[Prediction], shape: Shape) -> int | None:
    """The time cap of a piece for time: what its slowest athlete needs, within the class clock; else None.

    Args:
        predictions: of every kit version.
        shape: how the piece runs; its ``cap_minutes`` are for all heats together.
    """
    if shape.fixed_minutes is not None:
        return None
    if shape.cap_s is not None:
        return ceil(shape.cap_s / 60)
    on_clock = shape.cap_minutes // shape.heats
    needed = max((ceil(p.slow / 60) for p in predictions if p.unit == "seconds"), default=on_clock)
    return max(1, min(on_clock, needed))
