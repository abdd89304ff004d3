"""How a class runs a piece (its flow), and how long people would queue at each item in it: plain arithmetic.

The model's rows and the audit both ask here what an item is asked for; the simulation in ``planner.floor``
judges what comes of it and shares nothing with this file but the facts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from planner.domain.catalogue import Spot
from planner.domain.line import Held, Takes

Flow = Literal["together", "spread", "heats", "starts", "twos", "halves"]
"""All together; spread over the movements; heats; one start after the other; taking turns in twos at one set,
each with her full numbers; halves of the class that swap between this part and the other."""
FLOWS: tuple[Flow, ...] = get_args(Flow)
START_EVERY_S = 30
"""From one start to the next where people start one by one; common practice."""
HEAT_CHANGE_S = 60
"""Between two heats; common practice."""
MOST_HEATS = 3
WAIT_S = 30
"""Nobody waits longer for an item."""
SHARE_PERCENT: dict[Flow, int] = {
    "together": 70, "spread": 70, "heats": 70, "starts": 75, "twos": 70, "halves": 70,
}  # fmt: skip
"""Of a turn's time so much of an item may be asked for. The 90th percentile of a person's longest wait, in
seconds, by use of the item, in the simulation (100 runs; people, items, movements, turns; each is 60 s):

    flow    class        40 %  50 %  60 %  65 %  70 %  75 %  80 %  90 %  100 %
    spread  12, 4, 3, 4     4    10    15    18    20    24    27    34     40
    spread  12, 4, 3, 6     6    12    18    21    23    26    31    39     44
    spread  12, 3, 4, 4     8    15    22    26    30    35    41    50     58
    spread  12, 6, 2, 5     0     4     9    10    13    15    18    21     24
    spread  20, 5, 4, 4     1     7    13    17    20    24    28    37     45
    starts  12, 4, 3, 6     4    10    15    19    22    26    30    38     46
    starts  12, 3, 4, 4     6    13    19    23    26    31    36    45     55

Up to the share nobody's longest wait passes 30 s in nine of ten. All together, the first to come decide
(``_queue_at_first``); heats and halves are such classes, only smaller.
"""
SLOW_IN_SLOT_PERCENT = 130
"""A slot must be long enough for the slow, as in ``planner.domain.timing``."""


@dataclass(frozen=True, slots=True)
class Station:
    """A line of a piece as the floor sees it.

    Attributes:
        movement: id.
        name: as said.
        tenths: of a second that a typical athlete needs, fresh, each time it comes; one for all turns, or
            one for each.
        takes: what a man and a woman take for it.
        spot: where in the piece it comes.
    """

    movement: str
    name: str
    tenths: tuple[int, ...]
    takes: Takes
    spot: Spot = "turn"

    @property
    def mean_tenths(self) -> int:
        """Each time it comes, on the average, rounded up."""
        return -(-sum(self.tenths) // len(self.tenths))


@dataclass(frozen=True, slots=True)
class Running:
    """How a piece runs, as far as queues depend on it.

    Attributes:
        stations: its lines in order.
        turn_tenths: of a whole turn of a typical athlete, ways included; the time of an average rung.
        visits: how often a line that comes after each other line comes in a turn.
        slot_s: seconds from one start to the next, where the clock says when to start; else 0.
        by_movement: whether each slot holds one movement.
        timed: whether it is for time, so that heats and starts one by one can be.
    """

    stations: tuple[Station, ...]
    turn_tenths: int
    visits: int = 1
    slot_s: int = 0
    by_movement: bool = False
    timed: bool = False

    @property
    def turning(self) -> tuple[Station, ...]:
        """Lines of every turn, in order: over these a class can spread."""
        return tuple(s for s in self.stations if s.spot == "turn")


People = tuple[int, int]
"""How many take the man's load, and how many the woman's."""


def seconds_at_item(stations: Iterable[Station], people: People, visits: int = 1) -> dict[Held, int]:
    """Tenths of a second of work that a class brings to each item in one turn, several lines added up.

    Args:
        stations: lines of a turn.
        people: of each load.
        visits: how often a line after each other line comes.
    """
    asked: dict[Held, int] = {}
    for station in stations:
        if station.spot in {"opening", "closing"}:
            continue
        times = visits if station.spot == "after_each" else 1
        for group, takes in zip(people, station.takes, strict=True):
            for held in takes:
                asked[held] = asked.get(held, 0) + group * times * station.mean_tenths
    return asked


def users_of(stations: Iterable[Station], people: People) -> dict[Held, int]:
    """How many take each item at some time."""
    takers: dict[Held, set[int]] = {}
    for station in stations:
        for group, takes in enumerate(station.takes):
            for held in takes:
                takers.setdefault(held, set()).add(group)
    return {held: sum(people[g] for g in groups) for held, groups in takers.items()}


def excess(running: Running, people: People, counts: Mapping[Held, int], flow: Flow) -> int:
    """By how many seconds a turn the items are asked for more than they can give; 0 where all is well.

    Args:
        running: the piece.
        people: of each load, the whole class.
        counts: how many there are of each item at its mass; what is not named is plenty.
        flow: how the class runs it.
    """
    if flow == "heats":
        return excess(running, in_parts(people, heats_of(running, people, counts)), counts, "together")
    if flow == "halves":
        inside: Flow = "spread" if len(running.turning) > 1 else "together"
        return excess(running, in_parts(people, 2), counts, inside)
    scarce = {h: n for h, n in users_of(running.stations, people).items() if n > counts.get(h, n)}
    if flow == "twos":
        return sum(_twos(running, held, n, counts[held]) for held, n in scarce.items())
    asked = seconds_at_item(running.stations, people, running.visits)
    first = max((_queue_at_first(running, held, people, counts[held], flow) for held in scarce), default=0)
    if running.by_movement and running.slot_s:
        return max(0, first)
    turn = min(running.turn_tenths, running.slot_s * 10) if running.slot_s else running.turn_tenths
    over = (
        -(
            (counts[held] * turn * SHARE_PERCENT[flow] - asked.get(held, 0) * 100)
            // (1000 * max(1, counts[held]))
        )
        for held in scarce
    )
    return max(0, first) + max([0, *over])


def _queue_at_first(running: Running, held: Held, people: People, count: int, flow: Flow) -> int:
    """Seconds that whoever comes last to an item waits beyond what is allowed, when everybody starts."""
    worst = 0
    for station in running.stations:
        here = sum(g for g, takes in zip(people, station.takes, strict=True) if held in takes)
        if flow == "spread" and station.spot == "turn":
            here = -(-here // len(running.turning))
        ahead = max(0, -(-here // max(1, count)) - 1)
        if running.by_movement and running.slot_s:
            slow = station.mean_tenths * SLOW_IN_SLOT_PERCENT // 100
            worst = max(worst, (ahead + 1) * slow // 10 - running.slot_s) if ahead else worst
        elif flow == "starts":
            behind = ahead * (station.mean_tenths - START_EVERY_S * 10 * count)
            worst = max(worst, behind // 10 - WAIT_S)
        else:
            worst = max(worst, ahead * station.mean_tenths // 10 - WAIT_S)
    return worst


def _twos(running: Running, held: Held, users: int, count: int) -> int:
    """Seconds a turn for which two at each set leave others without one."""
    short = -(-users // 2) - count
    time = sum(s.mean_tenths for s in running.stations if any(held in takes for takes in s.takes))
    return max(0, short) * time // 10


def in_parts(people: People, parts: int) -> People:
    """The largest of so many parts of a class."""
    return -(-people[0] // parts), -(-people[1] // parts)


def heats_of(running: Running, people: People, counts: Mapping[Held, int]) -> int:
    """In how many heats a class runs a piece: as few as leave nobody waiting, and at most three."""
    enough = (n for n in range(2, MOST_HEATS) if not excess(running, in_parts(people, n), counts, "together"))
    return next(enough, MOST_HEATS)


def possible_flows(running: Running) -> tuple[Flow, ...]:
    """The flows in which a piece can be run at all, the simplest first.

    On the clock everybody starts when it says so: no heats and no starts one by one. Halves need another part
    of the class to swap with, so that only a coach or the model can choose them.
    """
    spread: tuple[Flow, ...] = ("spread",) if len(running.turning) > 1 else ()
    if running.slot_s:
        return ("together", *spread) if not running.by_movement else (*spread, "together")
    one_by_one: tuple[Flow, ...] = ("starts",) if running.timed else ()
    return ("together", *spread, *one_by_one, "twos", *(("heats",) if running.timed else ()))


def extra_s(
    flow: Flow, running: Running, people: Sequence[People], counts: Mapping[Held, int], slow_s: int
) -> int:
    """By how many seconds a flow makes a piece longer that takes the slow so long."""
    if flow == "heats":
        return (max(heats_of(running, each, counts) for each in people) - 1) * (slow_s + HEAT_CHANGE_S)
    return {"twos": slow_s, "starts": START_EVERY_S * (sum(people[0]) - 1)}.get(flow, 0)


def flow_of(
    running: Running,
    people: Sequence[People],
    counts: Mapping[Held, int],
    slow_s: int = 0,
    room_s: int | None = None,
) -> Flow:
    """The best flow that counts and clock allow: the first without excess, else the one with the least.

    Where there is not one of everything for everyone, spread out goes before all together.

    Args:
        running: the piece.
        people: of each load; where halves do not divide, both roundings.
        counts: how many there are of each item at its mass.
        slow_s: seconds that the piece takes the slow.
        room_s: seconds that it has on the class clock; None for as many as it takes.
    """
    spare = None if room_s is None else max(0, room_s - slow_s)
    over = {
        flow: max(excess(running, each, counts, flow) for each in people)
        for flow in possible_flows(running)
        if spare is None or extra_s(flow, running, people, counts, slow_s) <= spare
    }
    best = min(over, key=lambda flow: over[flow])
    queue = any(n > counts.get(held, n) for held, n in users_of(running.stations, people[0]).items())
    return "spread" if best == "together" and queue and over.get("spread") == over[best] else best


def spread_starts(people: int, movements: int) -> tuple[int, ...]:
    """At which movement each of a class starts when it spreads out; as even as can be."""
    return tuple(i % max(1, movements) for i in range(people))
