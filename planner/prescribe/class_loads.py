"""Loads of a conditioning piece that every bar of the class can have at the same time.

Plates are counted over all bars. Where small ones are too few, the loads are made without them, if that is
not far off; else fewer bars are loaded, and shared.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.domain.catalogue import Shape
from planner.domain.flow import People, in_parts
from planner.domain.line import BARBELL, PLATE
from planner.domain.plan import ConditioningLine
from planner.domain.week import Line
from planner.prescribe.lines import Bench, conditioning_lines
from planner.prescribe.set_out import Room, bars_out, heaviest

OFF_KG = 2.5
"""A load is rounded by so much at most for want of plates: a pair of the smallest; our choice."""
ROUNDED = "Loads are rounded to what all bars of the class can be loaded with."


def lines_for_class(
    own: Sequence[ConditioningLine], floor: Sequence[ConditioningLine], shape: Shape, bench: Bench, room: Room
) -> tuple[tuple[Line, ...], str]:
    """The lines of the gym floor, with a note where loads are rounded for the class; else an empty one.

    Args:
        own: as planned.
        floor: the same.
        shape: how the piece runs.
        bench: the gym floor.
        room: the gym on that day.
    """
    exact = conditioning_lines(own, floor, shape, bench)
    if any(line.kg for line in own):
        return exact, ""
    people = in_parts(room.gym.class_.people[0], shape.heats * max(1, shape.people))
    lines, spared = exact, tuple[float, ...]()
    while (over := _overdrawn(room, lines, people)) is not None:
        spared = (*spared, over)
        stock = replace(bench.stock, spared=spared)
        lines = conditioning_lines(own, floor, shape, replace(bench, stock=stock))
        if not _near(lines, exact):
            return exact, ""
    return lines, ROUNDED if lines != exact else ""


def _overdrawn(room: Room, lines: Sequence[Line], people: People) -> float | None:
    """The smallest plate of which all bars of the class would take more than there are, if any."""
    bars = [x for x in lines if BARBELL in room.needs(x)]
    plates = room.gym.inventory.get(PLATE)
    if not bars or not isinstance(plates, dict):
        return None
    wanted: dict[float, int] = {}
    # As many bars as there are without a thought of plates.
    out = bars_out(room, [x.model_copy(update={"loads": ()}) for x in bars], people)
    for group, athlete in enumerate(room.gym.athletes):
        load = heaviest(bars, athlete.id)
        for kg in load.per_side_kg if load else ():
            wanted[kg] = wanted.get(kg, 0) + 2 * out[group]
    return min((kg for kg, n in wanted.items() if n > plates.get(kg, 0)), default=None)


def _near(lines: Sequence[Line], exact: Sequence[Line]) -> bool:
    pairs = ((a, b) for x, y in zip(lines, exact, strict=True) for a, b in zip(x.loads, y.loads, strict=True))
    return all(abs(a.kg - b.kg) <= OFF_KG for a, b in pairs)
