"""Shapes that no rule about lines can tell apart, taken together, and what a line could do in each.

Which member of a family is run, and with which doses, is decided once the lines are known; here are the
bounds that keep the first decision honest: no family is offered in which a line has no dose at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from planner.domain.catalogue import Catalogue, Part, Shape, Spot
from planner.domain.timing import walking_tenths
from planner.problem.candidates import DoseChoice, LineOption, dose_suits

NEVER = 10**6
"""More tenths of a second than any piece has."""


@dataclass(frozen=True, eq=False)
class Family:
    """Shapes alike in format, domain, movements at each spot, people, minutes, effort, heats and stations.

    Attributes:
        lead: the first member; stands for all.
        members: all of them.
    """

    lead: Shape
    members: tuple[Shape, ...]

    @cached_property
    def kind(self) -> str:
        """What kind of dose it takes and for how long: rounds, once through, or the rungs of its ladder."""
        lead = self.lead
        if lead.ladder:
            return "-".join(map(str, lead.ladder))
        if lead.whole or lead.people > 1:
            return f"{lead.format}/{lead.domain}"
        return f"{'once' if lead.part('turn').large else 'round'}/{lead.domain}"

    @cached_property
    def work_tenths(self) -> tuple[int, int]:
        """Least and most tenths of work over all rounds, transitions taken off, over all members."""
        spans = [
            tuple(s.rounds * (window - walking_tenths(s)) for window in s.window_tenths) for s in self.members
        ]
        return min(low for low, _ in spans), max(high for _, high in spans)


@dataclass(frozen=True, slots=True, eq=False)
class OwnDose:
    """A dose that a written session has, which the catalogue would not offer by itself; with its shape."""

    shape: Shape
    dose: DoseChoice


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """What a line can do: the families it has a dose for, and the least and the most of its doses.

    All over all rounds, since the cap of a movement bounds the whole piece: ten rounds take smaller doses
    than two.

    Attributes:
        families: positions of the families.
        tenths: least and most tenths of a second, by kind of family.
        units: least and most units, both sides counted, over all families.
        spots: where in a piece it has a dose at all.
    """

    families: tuple[int, ...]
    tenths: dict[str, tuple[int, int]]
    units: tuple[int, int]
    spots: frozenset[Spot] = frozenset()


def families_of(catalogue: Catalogue) -> tuple[Family, ...]:
    """Families in the order of their first shape."""
    groups: dict[tuple[object, ...], list[Shape]] = {}
    for s in catalogue.shapes.values():
        key = (
            s.format,
            s.domain,
            s.movements,
            s.effort,
            s.heats,
            s.stations,
            s.ladder,
            s.part("turn").large,
            tuple(s.spots.items()),
            s.people,
            s.sharing,
            s.cap_minutes,
        )
        groups.setdefault(key, []).append(s)
    return tuple(Family(m[0], tuple(m)) for m in groups.values())


def reach_of(candidate: LineOption, families: tuple[Family, ...], own: tuple[OwnDose, ...] = ()) -> Reach:
    """Where a conditioning line can go, with its own doses and those of written sessions."""
    movement, found = candidate.facts.movement, []
    tenths: dict[str, tuple[int, int]] = {}
    units = (NEVER, 0)
    spots: set[Spot] = set()
    by_part: dict[Part, list[DoseChoice]] = {}
    for dose in candidate.doses:
        by_part.setdefault(dose.part, []).append(dose)
    for index, family in enumerate(families):
        doses = [
            (d, s)
            for s in family.members
            for part in s.parts
            for d in by_part.get(part, ())
            if dose_suits(d, movement, s)
        ]
        doses += [(o.dose, o.shape) for o in own if o.shape in family.members]
        if not doses:
            continue
        found.append(index)
        tenths[family.kind] = _span(
            tenths.get(family.kind, (NEVER, 0)), [d.tenths * s.rounds for d, s in doses]
        )
        units = _span(units, [d.units * s.rounds for d, s in doses])
        spots.update(d.part.spot for d, _ in doses)
    return Reach(tuple(found), tenths, units if found else (0, 0), frozenset(spots))


def _span(known: tuple[int, int], more: list[int]) -> tuple[int, int]:
    return min(known[0], *more), max(known[1], *more)
