"""Whether a written week can stay as it is in a gym that has less: every line done, every must held."""

from __future__ import annotations

from dataclasses import replace

from tests.measured.data import Data, Tree
from tests.measured.hold import BAR, load_faults, setup_at_hand
from tests.measured.rules import implement, measure
from tests.measured.week import Day, Line, day_of


def stands(data: Data, week: Tree, *, floor_only: bool = False) -> bool | None:
    """Whether the week stands in a gym, by its written lines alone; None where loads would have to change.

    Args:
        data: the gym with what it has left.
        week: as its JSON file has it; weeks before are left aside.
        floor_only: whether only the gym floor is looked at.
    """
    sure = True
    for kit in data.gym["kits"][: 1 if floor_only else None]:
        days = []
        for session in week["sessions"]:
            day = day_of(data, session, kit["id"])
            lines = [done_with(data, kit, x) for x in day.lines]
            if any(x is None for x in lines):
                return False
            sure &= all(loads_stay(data, kit, x) for x in day.lines)
            days.append(replace(day, lines=[x for x in lines if x]))
        if broken(data, days, on_floor=kit is data.gym["kits"][0]):
            return False
    return True if sure else None


def done_with(data: Data, kit: Tree, line: Line) -> Line | None:
    """The line as it is done with what is left; None where it cannot be."""
    setup = setup_at_hand(data, kit, line)
    return None if setup is None else replace(line, needs=setup.get("needs", []))


def loads_stay(data: Data, kit: Tree, line: Line) -> bool:
    """Whether the loads that are printed can still be made."""
    item = BAR if BAR in line.needs and line.movement["modality"] == "loaded" else implement(data, line)
    pairs = zip(line.printed["loads"], data.gym["athletes"], strict=False)
    return not any(fault for load, athlete in pairs for fault in load_faults(data, kit, item, load, athlete))


def broken(data: Data, days: list[Day], *, on_floor: bool) -> bool:
    """Whether a must that speaks of this version is broken."""
    musts = [r for r in data.rules if r.get("must") and (on_floor or r.get("versions") == "all")]
    return any(measure(r, data, days, [], on_floor=on_floor) for r in musts)
