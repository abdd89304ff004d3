"""A piece as it is run by a class: who starts where, what each does in turn, and which items there are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from math import ceil

from planner.domain.flow import (
    START_EVERY_S,
    Flow,
    People,
    Running,
    Station,
    heats_of,
    in_parts,
    spread_starts,
    users_of,
)
from planner.domain.line import Held

WALK_S = 5.0
"""From one movement to the next, seconds; common practice, as in ``planner.domain.timing``."""
QUICKEST_PERCENT = 70
"""Nobody is quicker than so much of the typical time; see ``planner.floor.simulate``."""


@dataclass(frozen=True, slots=True)
class FloorPiece:
    """A conditioning piece with its class.

    Attributes:
        title: as on the sheet.
        running: its lines.
        turns: how often the turn lines are gone through; where the clock ends it, as many as can be.
        people: of the man's and of the woman's load; pairs where pairs share one set.
        counts: how many there are of each item at its mass; what is not named is plenty.
        flow: how the class runs it.
        stretch_percent: how long everything takes in percent of the fresh time, for fatigue.
        rest_s: after each turn but the last.
        work_s: of each slot, where the clock ends the work in it; else None.
        end_s: when the clock ends it; None where it is for time.
        cap_s: time cap of a piece for time; None for none.
    """

    title: str
    running: Running
    turns: int
    people: People
    counts: Mapping[Held, int] = field(hash=False)
    flow: Flow
    stretch_percent: int = 100
    rest_s: int = 0
    work_s: int | None = None
    end_s: int | None = None
    cap_s: int | None = None


@dataclass(frozen=True, slots=True)
class Visit:
    """One line done once by one athlete.

    Attributes:
        station: which.
        turn: in which turn; -1 before and after all turns.
        seconds: of a typical athlete.
        fixed: whether everybody takes as long.
        not_before_s: when the clock lets it begin.
        pause_s: rest before it.
        walk_s: way to it, of a typical athlete.
    """

    station: int
    turn: int
    seconds: float
    fixed: bool = False
    not_before_s: float = 0.0
    pause_s: float = 0.0
    walk_s: float = WALK_S


@dataclass(frozen=True, slots=True)
class ClassMember:
    """Someone in the class.

    Attributes:
        number: from 0.
        group: 0 with the man's load, 1 with the woman's.
        heat: from 0.
        start_s: when she starts.
        set_number: of the set that she shares in twos; None elsewhere.
        visits: what she does.
    """

    number: int
    group: int
    heat: int
    start_s: float
    set_number: int | None
    visits: tuple[Visit, ...]


def class_of(piece: FloorPiece) -> tuple[ClassMember, ...]:
    """Everybody who does a piece at its time: of halves, one half."""
    people = in_parts(piece.people, 2) if piece.flow == "halves" else piece.people
    groups = [group for group in (0, 1) for _ in range(people[group])]
    heats = heats_of(piece.running, people, piece.counts) if piece.flow == "heats" else 1
    spread = piece.flow == "spread" or (piece.flow == "halves" and len(piece.running.turning) > 1)
    starts = spread_starts(len(groups), len(piece.running.turning)) if spread else (0,) * len(groups)
    ways = {start: tuple(_visits(piece, start)) for start in set(starts)}
    first, sets_before = (0, people[0]), (0, -(-people[0] // 2))  # two of one load share a set
    return tuple(
        ClassMember(
            number=i,
            group=group,
            heat=i % heats,
            start_s=float(START_EVERY_S * i) if piece.flow == "starts" else 0.0,
            set_number=sets_before[group] + (i - first[group]) // 2 if piece.flow == "twos" else None,
            visits=ways[starts[i]],
        )
        for i, group in enumerate(groups)
    )


def _visits(piece: FloorPiece, start: int) -> Iterator[Visit]:
    """What one athlete does who starts at a movement, in order."""
    stations = list(enumerate(piece.running.stations))
    turning = [x for x in stations if x[1].spot == "turn"]
    turning = turning[start:] + turning[:start]
    after = [x for x in stations if x[1].spot == "after_each"]
    for i, station in stations:
        if station.spot == "opening":
            yield _visit(piece, i, station, -1)
    slot, count = piece.running.slot_s, 0
    for turn in range(_most_turns(piece)):
        begins = True
        for i, station in turning:
            not_before = slot * (count if piece.running.by_movement else turn)
            pause = float(piece.rest_s) if begins and turn else 0.0
            yield _visit(piece, i, station, turn, not_before, pause)
            for j, other in after:
                yield _visit(piece, j, other, turn, not_before)
            count, begins = count + 1, False
    for i, station in stations:
        if station.spot == "closing":
            yield _visit(piece, i, station, -1)


def _visit(  # noqa: PLR0917
    piece: FloorPiece, i: int, station: Station, turn: int, not_before_s: float = 0.0, pause_s: float = 0.0
) -> Visit:
    tenths = station.tenths[min(max(turn, 0), len(station.tenths) - 1)]
    if piece.work_s is not None:
        return Visit(i, turn, float(piece.work_s), fixed=True, not_before_s=not_before_s, walk_s=0.0)
    stretch = piece.stretch_percent / 100
    walk = 0.0 if piece.running.by_movement else WALK_S * stretch
    return Visit(i, turn, tenths / 10 * stretch, not_before_s=not_before_s, pause_s=pause_s, walk_s=walk)


def _most_turns(piece: FloorPiece) -> int:
    """Turns that there are, or that the quickest could do before the clock ends it."""
    if piece.end_s is None or piece.running.slot_s:
        return piece.turns
    quickest = piece.running.turn_tenths / 10 * piece.stretch_percent / 100 * QUICKEST_PERCENT / 100
    return max(1, ceil(piece.end_s / max(1.0, quickest)) + 1)


def resource_of(piece: FloorPiece, athlete: ClassMember, held: Held) -> tuple[Held, int | None]:
    """What an athlete waits for when she wants an item: it, or that of her set in twos."""
    if athlete.set_number is None:
        return held, None
    return held, athlete.set_number % max(1, piece.counts.get(held, athlete.set_number + 1))


def scarce(piece: FloorPiece, athletes: tuple[ClassMember, ...]) -> dict[Held, int]:
    """Items of which there are fewer than people who take them at some time, with how many there are."""
    people = (sum(a.group == 0 for a in athletes), sum(a.group == 1 for a in athletes))
    users = users_of(piece.running.stations, people)
    return {held: max(1, piece.counts[held]) for held, n in users.items() if piece.counts.get(held, n) < n}
