"""What is put out for a piece: how many of each item, at which mass, with which plates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.domain.catalogue import Catalogue
from planner.domain.flow import People
from planner.domain.gym import Gym
from planner.domain.line import BARBELL, PLATE, Held
from planner.domain.week import Line, Load, SetOut
from planner.prescribe.stock import Stock


@dataclass(frozen=True)
class Room:
    """What lines are put out from.

    Attributes:
        catalogue: kinds of equipment.
        gym: counts, class, reference athletes.
    """

    catalogue: Catalogue
    gym: Gym

    @cached_property
    def _by_name(self) -> dict[str, str]:
        return {item.name: item.id for item in self.catalogue.items.values()}

    @cached_property
    def _stock(self) -> Stock:
        return Stock(self.gym, self.gym.kits[0], self.catalogue.items)

    def needs(self, line: Line) -> tuple[str, ...]:
        """Ids of the items that a line is done with."""
        return tuple(self._by_name.get(name, name) for name in line.equipment)

    def bar_kg(self, group: int) -> float:
        """The bar of the man or the woman; where there is none of the mass, the nearest."""
        return self._stock.bar_kg(self.gym.athletes[group])

    def takes(self, line: Line) -> tuple[tuple[Held, ...], tuple[Held, ...]]:
        """What a man and a woman take for a line: items, with their mass where that is lifted."""
        needs = self.needs(line)
        own = [item for item in needs if item != PLATE or BARBELL not in needs]
        loads = {load.athlete: load for load in line.loads}
        lifted = BARBELL if BARBELL in own else next((i for i in own if self.catalogue.items[i].loaded), "")

        def group(number: int) -> tuple[Held, ...]:
            load = loads.get(self.gym.athletes[number].id)
            return tuple((i, load.kg if load and i == lifted else None) for i in own)

        return group(0), group(1)

    def count(self, held: Held) -> int | None:
        """How many there are of an item at its mass, bars apart; None where the gym has nothing like it."""
        item, kg = held
        there = self.gym.inventory.get(item)
        if isinstance(there, dict) and kg is not None:
            return there.get(kg)
        return self.gym.count(item) or None


def bars_out(room: Room, lines: Sequence[Line], people: People, most: int | None = None) -> People:
    """How many bars are loaded for the man's and for the woman's load, at most one for each.

    As many as there are bars and plates for, the plates of all bars together; where these are too few, the
    load that more have a bar for gives one up first. Where not even one bar of each can be loaded, all share
    one.

    Args:
        room: the gym.
        lines: of a piece; the heaviest loads count.
        people: of each load.
        most: sets that there is room for, as at racks; None for no limit.
    """
    sides = [_plates_of(heaviest(lines, room.gym.athletes[group].id)) for group in (0, 1)]
    sets = [people[0], people[1]]
    while short := _short(room, sets, sides, most):
        more = [g for g in short if sets[g] > 1]
        if not more:
            return (1, 0) if people[0] else (0, 1)
        sets[max(more, key=lambda g: sets[g] / people[g])] -= 1
    return sets[0], sets[1]


def _short(
    room: Room, sets: Sequence[int], sides: Sequence[Mapping[float, int]], most: int | None
) -> tuple[int, ...]:
    """Which load has to give up a set, for want of room, of bars or of plates; empty where none has to."""
    held, plates = room.gym.inventory.get(BARBELL), room.gym.inventory.get(PLATE)
    both = (0, 1)
    if most is not None and sum(sets) > most:
        return both
    if isinstance(held, dict):
        bars = room.bar_kg(0), room.bar_kg(1)
        if bars[0] == bars[1] and sum(sets) > held.get(bars[0], 0):
            return both
        if bars[0] != bars[1] and (few := tuple(g for g in both if sets[g] > held.get(bars[g], 0))):
            return few
    if isinstance(plates, dict):
        for kg in sorted({kg for side in sides for kg in side}):
            if 2 * sum(sets[g] * sides[g].get(kg, 0) for g in both) > plates.get(kg, 0):
                return tuple(g for g in both if sides[g].get(kg))
    return ()


def heaviest(lines: Sequence[Line], athlete: str) -> Load | None:
    """The heaviest load on a bar of an athlete's lines; of lines whose sets differ, of their heaviest set."""
    loads = [
        load
        for line in lines
        for load in (*line.loads, *(x for s in line.work_sets for x in s.loads))
        if load.athlete == athlete and load.per_side_kg
    ]
    return max(loads, key=lambda load: load.kg, default=None)


def _plates_of(load: Load | None) -> dict[float, int]:
    side: dict[float, int] = {}
    for kg in load.per_side_kg if load else ():
        side[kg] = side.get(kg, 0) + 1
    return side


def counts_of(room: Room, lines: Sequence[Line], people: People) -> dict[Held, int]:
    """How many of each item there are for a piece, at its mass; bars by the plates for all of them."""
    counts: dict[Held, int] = {}
    bars = bars_out(room, [x for x in lines if BARBELL in room.needs(x)], people)
    for line in lines:
        takes = room.takes(line)
        for group, mine in enumerate(takes):
            for held in mine:
                item, kg = held
                there = room.count(held)
                if item == BARBELL and kg is not None:
                    same = held in takes[1 - group]
                    there = sum(bars) if same or not all(bars) else bars[group]
                if there is not None:
                    counts[held] = there
    return counts


def conditioning_out(
    room: Room, lines: Sequence[Line], people: People, counts: Mapping[Held, int]
) -> tuple[SetOut, ...]:
    """What to put out for a conditioning piece: one for each who takes it, as far as there are.

    Args:
        room: the gym.
        lines: of the gym floor.
        people: of each load, as many as take an item at the same time at most.
        counts: as ``counts_of``.
    """
    users: dict[Held, set[int]] = {}
    uses: dict[Held, list[str]] = {}
    for line in lines:
        for group, mine in enumerate(room.takes(line)):
            for held in mine:
                users.setdefault(held, set()).add(group)
                if line.name not in uses.setdefault(held, []):
                    uses[held].append(line.name)
    rows = []
    for held, groups in users.items():
        wanted, group = sum(people[g] for g in groups), min(groups)
        loaded = [x for x in lines if held in room.takes(x)[group]]
        rows.append(_row(room, held, min(wanted, counts.get(held, wanted)), uses[held], (loaded, group)))
    return tuple(r for r in rows if r.count)


def _row(
    room: Room, held: Held, count: int, uses: Sequence[str], loaded: tuple[Sequence[Line], int]
) -> SetOut:
    """A row; a bar with its plates, as its lines load it for the man or the woman."""
    item, kg = held
    lines, group = loaded
    known = room.catalogue.items.get(item)
    bar = item == BARBELL and kg is not None
    load = heaviest(lines, room.gym.athletes[group].id) if bar else None
    return SetOut(
        item=item,
        name=known.name if known else item,
        plural=known.plural if known else item,
        kg=room.bar_kg(group) if bar else kg,
        count=count,
        per_side_kg=load.per_side_kg if load else (),
        uses=tuple(uses),
    )


def strength_out(room: Room, lines: Sequence[Line], people: People) -> tuple[SetOut, ...]:
    """What to put out for sets and reps: racks and benches with a bar each, bars from the floor, other items.

    Two lifts on a bar take the same bars in turn; the heavier load of each is on the card.
    """
    on_bar = [x for x in lines if BARBELL in room.needs(x)]
    others = [x for x in lines if x not in on_bar]
    places = {
        i: [x.name for x in on_bar if i in room.needs(x)]
        for x in on_bar
        for i in room.needs(x)
        if i not in {BARBELL, PLATE}
    }
    sets = bars_out(room, on_bar, people, min((room.gym.count(i) for i in places), default=None))
    rows = []
    for group in (0, 1) if on_bar else ():
        held: Held = (BARBELL, room.bar_kg(group))
        rows.append(_row(room, held, sets[group], [x.name for x in on_bar], (on_bar, group)))
    for i, uses in places.items():
        rows.append(_row(room, (i, None), min(sum(sets), room.gym.count(i)), uses, ((), 0)))
    beside = conditioning_out(room, others, people, counts_of(room, others, people))
    taken = {r.item for r in rows}
    return (*(r for r in rows if r.count), *(r for r in beside if r.item not in taken or r.kg is not None))
