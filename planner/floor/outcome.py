"""What a class gets out of a piece: finishes, waits, use of each item, in plain numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.domain.line import Held
from planner.floor.piece import FloorPiece, resource_of, scarce
from planner.floor.simulate import RUNS, SEED, Played, play

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LOW, MIDDLE, HIGH = 10, 50, 90
"""Percentiles: the quick, the typical and the slow."""
LATE_S = 1.0
"""A slot is missed by whoever is so much late."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What comes of a piece, the athletes of all runs pooled.

    Attributes:
        finish_s: of the quick, the typical and the slow, from their own start; None where the clock ends it.
        rounds_tenths: of rounds that the slow, the typical and the quick do; None where it is for time.
        class_s: when the last is done, at the 10th, 50th and 90th percentile, all heats.
        longest_wait_s: of a person's longest single wait, the 90th percentile; a partner's turn is no wait.
        waited_percent: of the share of her time that a person waits, the 90th percentile.
        use: by item of which there is less than one each: percent of the time that it is used.
        done_at_cap_percent: of the class; None where there is no cap.
        missed_percent: of slots that end before the work does; None where there are none.
    """

    finish_s: tuple[int, int, int] | None
    rounds_tenths: tuple[int, int, int] | None
    class_s: tuple[int, int, int]
    longest_wait_s: int
    waited_percent: float
    use: tuple[tuple[Held, int], ...]
    done_at_cap_percent: int | None
    missed_percent: float | None


def outcome_of(piece: FloorPiece, runs: int = RUNS, seed: int = SEED) -> Outcome:
    """Runs a piece so many times and sums up."""
    return summed(play(piece, runs, seed))


def summed(played: Played) -> Outcome:
    """What comes of runs."""
    import numpy as np

    piece = played.piece
    waits = _waits(played)
    finished = np.nanmax(played.done, axis=2)
    own = finished - played.begin
    if piece.end_s is not None:
        finished = np.minimum(finished, piece.end_s)
    waited = 100 * waits.sum(axis=2) / np.maximum(own, 1.0)
    on_clock = piece.running.slot_s > 0
    timed = piece.end_s is None and not on_clock
    within = None if piece.cap_s is None or not timed else (own <= piece.cap_s).mean()
    return Outcome(
        finish_s=_three(own) if timed else None,
        rounds_tenths=_three(_rounds(played)) if piece.end_s is not None and not on_clock else None,
        class_s=_three(finished.max(axis=1)),
        longest_wait_s=round(float(np.percentile(waits.max(axis=2), HIGH))),
        waited_percent=round(float(np.percentile(waited, HIGH)), 1),
        use=tuple(_use(played)),
        done_at_cap_percent=None if within is None else round(100 * float(within)),
        missed_percent=_missed(played) if on_clock else None,
    )


def _three(times: Floats) -> tuple[int, int, int]:
    import numpy as np

    low, middle, high = (round(float(x)) for x in np.percentile(times, [LOW, MIDDLE, HIGH]))
    return low, middle, high


def _waits(played: Played) -> Floats:
    """Seconds that each visit waits for an item, by run, athlete and visit."""
    import numpy as np

    waits = np.nan_to_num(played.start - played.ready)
    if played.piece.flow != "twos":
        return waits
    counts = scarce(played.piece, played.athletes)
    sharers: dict[object, int] = {}
    for a in played.athletes:
        every = {h for s in played.piece.running.stations for h in s.takes[a.group] if h in counts}
        for held in every:
            key = resource_of(played.piece, a, held)
            sharers[key] = sharers.get(key, 0) + 1
    for a in played.athletes:
        for v, visit in enumerate(a.visits):
            takes = [h for h in played.piece.running.stations[visit.station].takes[a.group] if h in counts]
            if all(sharers[resource_of(played.piece, a, h)] <= 2 for h in takes):  # noqa: PLR2004  (twos)
                waits[:, a.number, v] = 0.0
    return waits


def _rounds(played: Played) -> Floats:
    """Tenths of rounds done when the clock ends it; a visit that it cuts short counts for its part."""
    import numpy as np

    end = float(played.piece.end_s or 0)
    lasts = np.maximum(played.done - played.start, 1e-9)
    part = np.nan_to_num(np.clip((end - played.start) / lasts, 0.0, 1.0))
    turning = np.array(
        [[v.turn >= 0 for v in a.visits] + [False] * (part.shape[2] - len(a.visits)) for a in played.athletes]
    )
    each = max(1, sum(v.turn == 0 for v in played.athletes[0].visits))
    tenths: Floats = np.floor(10 * (part * turning[None]).sum(axis=2) / each)
    return tenths


def _use(played: Played) -> list[tuple[Held, int]]:
    import numpy as np

    counts = scarce(played.piece, played.athletes)
    last = np.nanmax(played.done, axis=(1, 2))
    if played.piece.end_s is not None:
        last = np.minimum(last, played.piece.end_s)
    busy = np.nan_to_num(np.minimum(played.done, last[:, None, None]) - played.start).clip(min=0)
    out = []
    for held, count in counts.items():
        mine = np.zeros(busy.shape[1:])
        for a in played.athletes:
            for v, visit in enumerate(a.visits):
                mine[a.number, v] = held in played.piece.running.stations[visit.station].takes[a.group]
        out.append((held, round(100 * float(((busy * mine[None]).sum(axis=(1, 2)) / (count * last)).mean()))))
    return out


def _missed(played: Played) -> float:
    """Percent of slots at whose end somebody is still at work."""
    import numpy as np

    running = played.piece.running
    ends: list[tuple[int, int, float]] = []
    for a in played.athletes:
        last: dict[float, int] = {}
        for v, visit in enumerate(a.visits):
            if visit.turn >= 0:
                last[visit.not_before_s] = v
        ends += [(a.number, v, begins + running.slot_s) for begins, v in last.items()]
    if not ends:
        return 0.0
    late = [played.done[:, a, v] > end + LATE_S for a, v, end in ends]
    return round(100 * float(np.mean(late)), 1)
