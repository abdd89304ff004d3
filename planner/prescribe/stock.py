"""What one kit version has at hand, in the form that loads and setups ask for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from planner.domain.at_hand import EVERYTHING, held_items, items_for
from planner.domain.catalogue import Item
from planner.domain.gym import Athlete, Gym, Kit, athlete_index
from planner.domain.line import BARBELL, PLATE, LinePiece
from planner.prescribe.plates import nearest_mass


@dataclass(frozen=True)
class Stock:
    """A kit version at hand.

    A barbell at home is taken to be the same bar, with the same plates, as the athlete's in the gym: nothing
    better is known, and it is said on the sheet.

    Attributes:
        gym: whose inventory says which masses there are.
        kit: the version.
        items: kinds of equipment by id.
        spared: masses of plates that are left where they are, since there are too few for the class.
    """

    gym: Gym
    kit: Kit
    items: Mapping[str, Item]
    spared: tuple[float, ...] = ()

    @cached_property
    def held(self) -> frozenset[str]:
        """Ids of the items at hand."""
        return held_items(self.gym, self.kit)

    def items_for(self, piece: LinePiece) -> frozenset[str]:
        """Ids of the items at hand for a piece."""
        return self.held if piece == "conditioning" else self._in_strength

    @cached_property
    def _in_strength(self) -> frozenset[str]:
        return items_for(self.gym, self.kit, "main")

    def masses_kg(self, item: str, athlete: Athlete) -> tuple[float, ...]:
        """Masses of an item at hand, ascending: the kit's own for this athlete, else the gym's; or none."""
        own = self.kit.kg.get(item)
        if own is not None:
            return (own[athlete_index(athlete)],)
        every = tuple(sorted(kg for kg, count in self.counts(item).items() if count))
        least = 0.0 if self.kit.contains == EVERYTHING else self._least_elsewhere(item, athlete)
        return tuple(kg for kg in every if kg >= least) or every

    def _least_elsewhere(self, item: str, athlete: Athlete) -> float:
        """The mass that who has nothing but one of an item has: who has more at home takes no lighter one."""
        alone = (kit.kg[item][athlete_index(athlete)] for kit in self.gym.kits if item in kit.kg)
        return min(alone, default=0.0)

    def counts(self, item: str) -> dict[float, int]:
        """How many of each mass the gym has; empty where it is not counted by mass, or the kit has none."""
        held = self.gym.inventory.get(item, 0) if item in self.held else 0
        if not isinstance(held, dict):
            return {}
        return {kg: n for kg, n in held.items() if item != PLATE or kg not in self.spared}

    def bar_kg(self, athlete: Athlete) -> float:
        """The athlete's bar; where the gym has none of that mass, the nearest that it has."""
        return nearest_mass(athlete.bar_kg, self.masses_kg(BARBELL, athlete)) or athlete.bar_kg

    def implement(self, needs: tuple[str, ...]) -> str | None:
        """The load in the hands that a setup needs; a barbell comes before the plates it holds."""
        if BARBELL in needs:
            return BARBELL
        return next((item for item in needs if item in self.items and self.items[item].loaded), None)
