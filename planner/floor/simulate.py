"""Runs a class through a piece many times at once.

Whoever comes to an item first takes it first; one item serves one at a time. So the time at which each visit
begins follows from those before it: of all athletes the one who is ready first goes next, and she starts when
an item is free too. This recursion goes over all runs at once; ``tests/floor`` holds it to a model of
processes and to an independent library of queueing networks.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from planner.domain.flow import HEAT_CHANGE_S
from planner.domain.timing import QUICK_PERCENT, SLOW_PERCENT
from planner.floor.piece import ClassMember, FloorPiece, class_of, resource_of, scarce

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

RUNS = 200
SEED = 1
NINE_IN_TEN = 1.2815515655446004
"""Standard deviations at the 90th percentile of a normal distribution."""
MOST_DEVIATIONS = 2.0
"""Nobody is further from the typical pace than one in twenty is; our choice."""


@dataclass(frozen=True)
class Played:
    """All runs of a piece.

    Attributes:
        piece: what was run.
        athletes: who ran it.
        ready: by run, athlete and visit: when she comes to it, seconds; not a number where she never does.
        start: when she begins.
        done: when she is done.
        item: which of its kind she has, of each item of which there are too few; -1 for none.
        begin: by run and athlete: when her heat, or she herself, starts.
    """

    piece: FloorPiece
    athletes: tuple[ClassMember, ...]
    ready: Floats
    start: Floats
    done: Floats
    item: Ints
    begin: Floats


def paces(runs: int, athletes: int, seed: int = SEED) -> Floats:
    """How long each athlete takes against the typical one, by run.

    A tenth are quicker than the quick and a tenth slower than the slow of the catalogue's range; half are on
    either side of the typical pace.
    """
    import numpy as np

    drawn = (
        np.random.default_rng(seed).standard_normal((runs, athletes)).clip(-MOST_DEVIATIONS, MOST_DEVIATIONS)
    )
    quick, slow = (np.log(percent / 100) / NINE_IN_TEN for percent in (QUICK_PERCENT, SLOW_PERCENT))
    taken: Floats = np.exp(np.where(drawn < 0, -drawn * quick, drawn * slow))
    return taken


def play(piece: FloorPiece, runs: int = RUNS, seed: int = SEED, pace: Floats | None = None) -> Played:
    """Runs a class through a piece.

    Args:
        piece: with its class and items.
        runs: how many times.
        seed: of the paces.
        pace: of each athlete in each run, in place of drawn ones.
    """
    import numpy as np

    athletes = class_of(piece)
    if pace is None:
        pace = paces(runs, len(athletes), seed)
    heats = max((a.heat for a in athletes), default=0) + 1
    longest = max((len(a.visits) for a in athletes), default=0)
    whole = (len(pace), len(athletes), longest)
    ready, start, done = (np.full(whole, np.nan) for _ in range(3))
    items = sorted(scarce(piece, athletes), key=str)
    item = np.full((*whole, max(1, len(items))), -1, dtype=np.int64)
    begins, begin = np.zeros(len(pace)), np.zeros(whole[:2])
    for heat in range(heats):
        mine = [a.number for a in athletes if a.heat == heat]
        here = _run(piece, [athletes[i] for i in mine], pace[:, mine], begins)
        for into, times in zip((ready, start, done, item), here, strict=True):
            into[:, mine, : times.shape[2]] = times
        begin[:, mine] = begins[:, None] + np.array([athletes[i].start_s for i in mine])[None]
        over = np.nanmax(here[2], axis=(1, 2))
        begins = (over if piece.cap_s is None else np.minimum(over, begins + piece.cap_s)) + HEAT_CHANGE_S
    return Played(piece, athletes, ready, start, done, item, begin)


@lru_cache(maxsize=8)
def played(piece: FloorPiece) -> Played:
    """The usual runs of a piece; those of about a week are kept, as weeks are written out again and again."""
    return play(piece)


def _run(
    piece: FloorPiece, athletes: list[ClassMember], pace: Floats, begins: Floats
) -> tuple[Floats, Floats, Floats, Ints]:
    """One heat."""
    import numpy as np

    visits = [a.visits for a in athletes]
    most = max(map(len, visits))

    def table(of: Any) -> Floats:
        return np.array([[of(v) for v in row] + [0.0] * (most - len(row)) for row in visits])

    fixed = table(lambda v: v.fixed)
    by_pace = np.where(fixed[None], 1.0, pace[:, :, None])
    lasts = table(lambda v: v.seconds)[None] * by_pace
    before = table(lambda v: v.walk_s)[None] * by_pace + table(lambda v: v.pause_s)[None]
    released = table(lambda v: v.not_before_s)[None] + begins[:, None, None]
    first = begins[:, None] + np.array([a.start_s for a in athletes])[None]
    ends = np.inf if piece.end_s is None else piece.end_s
    lengths = np.array([len(row) for row in visits])
    kinds = sorted(scarce(piece, tuple(athletes)), key=str)
    if not kinds:
        return _alone(lasts, before, released, first, lengths, ends)
    return _Queue(piece, athletes, kinds, len(pace)).run(lasts, before, released, first, lengths, ends)


def _alone(  # noqa: PLR0917
    lasts: Floats, before: Floats, released: Floats, first: Floats, lengths: Ints, ends: float
) -> tuple[Floats, Floats, Floats, Ints]:
    """Nobody can be in another's way."""
    import numpy as np

    ready, done = np.full(lasts.shape, np.nan), np.full(lasts.shape, np.nan)
    at = first
    for v in range(lasts.shape[2]):
        come = np.maximum(at + before[:, :, v], released[:, :, v] + before[:, :, v])
        come = np.where((come < ends) & (v < lengths)[None], come, np.nan)
        ready[:, :, v] = come
        done[:, :, v] = at = come + lasts[:, :, v]
    return ready, ready.copy(), done, np.full((*lasts.shape, 1), -1, dtype=np.int64)


class _Queue:
    """Items of which there are too few, and who has them until when."""

    def __init__(self, piece: FloorPiece, athletes: list[ClassMember], kinds: list[Any], runs: int) -> None:
        import numpy as np

        counts = scarce(piece, tuple(athletes))
        stations = piece.running.stations
        wanted = [
            [
                [resource_of(piece, a, h) for h in stations[v.station].takes[a.group] if h in counts]
                for v in a.visits
            ]
            for a in athletes
        ]
        named = sorted({r for row in wanted for here in row for r in here}, key=str)
        self.number = {r: i for i, r in enumerate(named)}
        self.kind = [kinds.index(held) for held, _ in named]
        self.runs = np.arange(runs)
        sizes = [1 if own is not None else counts[held] for held, own in named]
        # A last one of which there is always one free, for visits that need nothing.
        self.free = np.full((runs, len(named) + 1, max(sizes, default=1)), np.inf)
        for i, size in enumerate([*sizes, 1]):
            self.free[:, i, :size] = -np.inf
        deep = max([1, *(len(here) for row in wanted for here in row)])
        most = max(len(row) for row in wanted)
        self.wants = np.full((len(athletes), most, deep), len(named))
        for a, row in enumerate(wanted):
            for v, here in enumerate(row):
                self.wants[a, v, : len(here)] = [self.number[r] for r in here]
        self.kind_of = np.array([*self.kind, -1])
        self.own = np.array([own if own is not None else -1 for _, own in named] + [-1])
        self.kinds = len(kinds)

    def run(  # noqa: PLR0917
        self, lasts: Floats, before: Floats, released: Floats, first: Floats, lengths: Ints, ends: float
    ) -> tuple[Floats, Floats, Floats, Ints]:
        """Takes the athlete who is ready first, over and over, in all runs at once."""
        import numpy as np

        r, nothing = self.runs, len(self.number)
        ready, start, done = (np.full(lasts.shape, np.nan) for _ in range(3))
        item = np.full((*lasts.shape, max(1, self.kinds)), -1, dtype=np.int64)
        come = np.maximum(first, released[:, :, 0]) + before[:, :, 0]
        come[come >= ends] = np.inf
        visit = np.zeros(first.shape, dtype=np.int64)
        for _ in range(int(lengths.sum())):
            a = come.argmin(axis=1)
            t = come[r, a]
            going = np.isfinite(t)
            if not going.any():
                break
            v = np.minimum(visit[r, a], lasts.shape[2] - 1)
            begin = t.copy()
            taken = []
            for k in range(self.wants.shape[2]):
                want = self.wants[a, v, k]
                block = self.free[r, want]
                which = block.argmin(axis=1)
                begin = np.maximum(begin, block[r, which])
                taken.append((want, which))
            going &= begin < ends
            until = begin + lasts[r, a, v]
            g = np.nonzero(going)[0]
            ga, gv = a[g], v[g]
            ready[g, ga, gv], start[g, ga, gv], done[g, ga, gv] = t[g], begin[g], until[g]
            for want, which in taken:
                real = g[want[g] != nothing]
                w = want[real]
                self.free[real, w, which[real]] = until[real]
                own = self.own[w]
                item[real, a[real], v[real], self.kind_of[w]] = np.where(own >= 0, own, which[real])
            following = np.minimum(v + 1, lasts.shape[2] - 1)
            when = np.maximum(until, released[r, a, following]) + before[r, a, following]
            more = going & (v + 1 < lengths[a]) & (when < ends)
            come[r, a] = np.where(more, when, np.inf)
            visit[r, a] = v + 1
        return ready, start, done, item
