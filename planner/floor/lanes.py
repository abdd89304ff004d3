"""One run of a piece as a picture has it: who does what from when to when, and who waits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from planner.floor.outcome import Outcome
from planner.floor.simulate import Played


class Span(NamedTuple):
    """Some time of one athlete: seconds, and what she does; ``waiting`` for it before it begins."""

    start_s: int
    end_s: int
    station: int
    waiting: bool


@dataclass(frozen=True)
class Lane:
    """One athlete's piece.

    Attributes:
        group: 0 with the man's load, 1 with the woman's.
        spans: in order.
        done_s: when she is done, or the clock ends it.
        waited_s: for items, all together.
    """

    group: int
    spans: tuple[Span, ...]
    done_s: int
    waited_s: int


@dataclass(frozen=True)
class PieceRun:
    """A piece of a day on the floor.

    Attributes:
        kind: conditioning or finisher.
        title: as on the sheet.
        words: how the class runs it, in a line.
        stations: what is done, in order.
        lanes: of one run, the one in which the class takes as long as in the middle one.
        length_s: of that run, or until the clock or the cap ends it.
        cap_s: time cap; None where there is none.
        outcome: of all runs.
    """

    kind: str
    title: str
    words: str
    stations: tuple[str, ...]
    lanes: tuple[Lane, ...]
    length_s: int
    cap_s: int | None
    outcome: Outcome


def lanes_of(played: Played, end_s: int | None) -> tuple[Lane, ...]:
    """Everybody's time in the run in which the class takes as long as in the middle one.

    Args:
        played: all runs.
        end_s: when the clock or the cap ends it for everyone; None for never.
    """
    import numpy as np

    last = np.nanmax(played.done, axis=(1, 2))
    r = int(np.argsort(last, kind="stable")[len(last) // 2])
    limit = float("inf") if end_s is None else float(end_s)
    lanes = []
    for a in played.athletes:
        spans = []
        for v, visit in enumerate(a.visits):
            ready, start, done = (float(x[r, a.number, v]) for x in (played.ready, played.start, played.done))
            if not np.isfinite(start) or ready >= limit:
                break
            if start - ready >= 1:
                spans.append(Span(round(ready), round(min(start, limit)), visit.station, waiting=True))
            if start < limit:
                spans.append(Span(round(start), round(min(done, limit)), visit.station, waiting=False))
        waited = sum(s.end_s - s.start_s for s in spans if s.waiting)
        lanes.append(Lane(a.group, tuple(spans), max((s.end_s for s in spans), default=0), waited))
    return tuple(lanes)
