"""Shapes that no rule about lines can tell apart, taken together, and what a line could do in each.

Which member of a family is run, and with which doses, is decided once the lines are known; here are the
bounds that keep the first decision honest: no family is offered in which a line has no dose at all.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.domain.catalogue import Catalogue, Shape
from planner.domain.timing import TRANSITION_TENTHS
from planner.problem.candidates import LineOption, dose_suits

NEVER = 10**6
"""More tenths of a second than any piece has."""


@dataclass(frozen=True, slots=True, eq=False)
class Family:
    """Shapes alike in format, domain, number of movements, minutes on the clock, effort, heats and stations.

    Attributes:
        lead: the first member; stands for all.
        members: all of them.
    """

    lead: Shape
    members: tuple[Shape, ...]

    @property
    def kind(self) -> str:
        """What kind of dose it takes and for how long: rounds, once through, or the rungs of its ladder."""
        if self.lead.ladder:
            return "-".join(map(str, self.lead.ladder))
        return f"{'chipper' if self.lead.format == 'chipper' else 'round'}/{self.lead.domain}"

    @property
    def work_tenths(self) -> tuple[int, int]:
        """Least and most tenths of work over all rounds, transitions taken off, over all members."""
        spans = []
        for s in self.members:
            walking = (len(s.ladder) or 1) * s.movements * TRANSITION_TENTHS
            spans.append(tuple(s.rounds * (window - walking) for window in s.window_tenths))
        return min(low for low, _ in spans), max(high for _, high in spans)


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """What a line can do: the families it has a dose for, and its least and most tenths, by kind.

    Tenths are over all rounds, since the cap of a movement bounds the whole piece: ten rounds take smaller
    doses than two.
    """

    families: tuple[int, ...]
    tenths: dict[str, tuple[int, int]]


def families_of(catalogue: Catalogue) -> tuple[Family, ...]:
    """Families in the order of their first shape."""
    groups: dict[tuple[object, ...], list[Shape]] = {}
    for s in catalogue.shapes.values():
        chipper = s.format == "chipper"
        key = (
            s.format,
            s.domain,
            s.movements,
            s.effort,
            s.heats,
            s.stations,
            s.ladder,
            chipper,
            s.cap_minutes,
        )
        groups.setdefault(key, []).append(s)
    return tuple(Family(m[0], tuple(m)) for m in groups.values())


def reach_of(candidate: LineOption, families: tuple[Family, ...]) -> Reach:
    """Where a conditioning line can go."""
    movement, found = candidate.facts.movement, []
    tenths: dict[str, tuple[int, int]] = {}
    for index, family in enumerate(families):
        spent = [
            d.tenths * s.rounds for s in family.members for d in candidate.doses if dose_suits(d, movement, s)
        ]
        if not spent:
            continue
        found.append(index)
        low, high = tenths.get(family.kind, (NEVER, 0))
        tenths[family.kind] = (min(low, *spent), max(high, *spent))
    return Reach(tuple(found), tenths)
