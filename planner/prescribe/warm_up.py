"""Chooses drills: raise, activate and mobilise, potentiate (Jeffreys 2007), then calm ones to end with.

Only drills without equipment are chosen, so that one warm-up serves every kit version.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner.domain.catalogue import Drill, Phase, Prepared
from planner.domain.clock import USUAL
from planner.domain.week import DrillLine

PHASES: tuple[Phase, ...] = ("raise", "activate", "mobilise", "potentiate")
MANY = 3
"""Covering this many, one less does about as well, and leaves room for turns."""
MOST_DRILLS, BETWEEN_S = 6, 15
"""More drills are a list to be told, not a warm-up; from one to the next a class takes so many seconds."""
PRIMER_S = 90
"""Two sets with the empty bar, before any plate goes on; common practice."""
SHARES: tuple[tuple[tuple[Phase, ...], int], ...] = (
    (("raise",), 30),
    (("potentiate",), 22),
    (("activate", "mobilise"), 100),
    (PHASES, 100),
)
"""Phases in the order in which time is given to them, and the most of the warm-up that each may take, in
percent; what is left in the end goes to any. Common practice."""


def warm_up(
    drills: Iterable[Drill],
    prepares: Iterable[Prepared],
    turn: int,
    minutes: int = USUAL.warm_up,
    *,
    primer: DrillLine | None = None,
) -> tuple[DrillLine, ...]:
    """Drills for a day, in the order of the phases, within the warm-up's minutes, six at most.

    Raising drills come first, rehearsing ones last; between them those that cover most of what the day needs
    and is not yet covered, then others that prepare it, until the time is used.

    Args:
        drills: all there are, in the catalogue's order.
        prepares: what the day's movements need prepared.
        turn: number of the day; where two drills do about as well, another one's turn comes each day.
        minutes: that there are.
        primer: for the day's lift, at the end.
    """
    needed = tuple(dict.fromkeys(prepares))
    free = [d for d in drills if not d.needs and not d.calm]
    seconds = minutes * 60 - (primer.seconds + BETWEEN_S if primer else 0)
    chosen: list[Drill] = []
    for phases, share in SHARES:
        left = seconds - sum(d.seconds + BETWEEN_S for d in chosen)
        pool = [d for d in free if d.phase in phases and d not in chosen]
        room = MOST_DRILLS - len(chosen)
        chosen += _cover(
            pool, needed, chosen, min(left, seconds * share // 100 + BETWEEN_S), turn, BETWEEN_S
        )[:room]
    lines = [_line(d) for d in sorted(chosen, key=lambda d: PHASES.index(d.phase))]
    return (*lines, *([primer] if primer else []))


def empty_bar(lift: str, prepares: tuple[Prepared, ...], minutes: int) -> DrillLine | None:
    """The primer for a lift on a bar; None where a short class has no time for it.

    Args:
        lift: as said.
        prepares: what it needs prepared.
        minutes: of the warm-up.
    """
    if minutes * 60 < 4 * PRIMER_S:
        return None
    return DrillLine(
        drill="empty_bar",
        name=f"{lift} with the empty bar",
        phase="potentiate",
        dose="two sets of five",
        prepares=prepares,
        point="The last set as fast as the work sets will be.",
        seconds=PRIMER_S,
    )


def cool_down(
    drills: Iterable[Drill], prepares: Iterable[Prepared], turn: int, minutes: int = USUAL.cool_down
) -> tuple[DrillLine, ...]:
    """Calm drills for what the day used, within the cool-down's minutes; arguments as for ``warm_up``."""
    needed = tuple(dict.fromkeys(prepares))
    calm = [d for d in drills if d.calm and not d.needs]
    return tuple(_line(d) for d in _cover(calm, needed, (), minutes * 60, turn))


def _cover(  # noqa: PLR0917
    drills: Sequence[Drill],
    needed: Sequence[Prepared],
    already: Sequence[Drill],
    seconds: int,
    turn: int,
    between_s: int = 0,
) -> list[Drill]:
    """Greedy cover, as long as time is left.

    Each pick is among those that cover most (or, where that is many, one less) of what is still open; once
    nothing is open, of what is needed at all. The first of them in the day's order is taken. Drills that
    prepare nothing of the day fill up last, so that a day of few movements is warmed up too.
    """
    at = turn % len(drills) if drills else 0
    pool = [*drills[at:], *drills[:at]]
    open_ = set(needed).difference(*(d.prepares for d in already))
    left, picked = seconds, list[Drill]()
    while fitting := [d for d in pool if d.seconds + between_s <= left]:
        target = open_ if any(open_.intersection(d.prepares) for d in fitting) else set(needed)
        most = max(len(target.intersection(d.prepares)) for d in fitting)
        least = most - 1 if most >= MANY else most
        best = next(d for d in fitting if len(target.intersection(d.prepares)) >= least)
        picked.append(best)
        pool.remove(best)
        left -= best.seconds + between_s
        open_ -= set(best.prepares)
    return picked


def _line(drill: Drill) -> DrillLine:
    return DrillLine(
        drill=drill.id,
        name=drill.name,
        phase=drill.phase,
        dose=drill.dose,
        prepares=drill.prepares,
        point=drill.point,
        seconds=drill.seconds,
    )
