"""``capacity``: equipment for the class, with heats, stations or turns where the piece allows them."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from planner.domain.catalogue import Id, Shape
from planner.rules.base import Audit, AuditDay, Facts, Rule, Term, View, audit_of, place_words
from planner.rules.where import Where, _listed, spoken


class Capacity(Rule):
    """Nobody waits for equipment.

    In strength, ``sharing`` athletes take turns at one item. In conditioning everyone needs an item at once,
    divided by the heats, and by the movements where the class can start spread over them.

    Attributes:
        item: which items; empty for every item that the gym counts.
        piece: strength or conditioning.
        sharing: athletes to one item; strength only.
    """

    kind: Literal["capacity"]
    item: Annotated[tuple[Id, ...], BeforeValidator(_listed)] = ()
    piece: Literal["strength", "conditioning"]
    sharing: int = Field(1, ge=1, le=6)

    unit = "items short"

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        for item in self.item or tuple(i for i in facts.counts if i in facts.bounded):
            if item not in facts.bounded:
                continue
            where, have = Where(piece=(self.piece,), item=(item,)), facts.counts.get(item, 0)
            for day in facts.days:
                place, using = f"{day}: {item}", view.literal(day, where)
                if self.piece == "strength":
                    short = ceil(facts.class_size / self.sharing) - have
                    if short > 0:
                        yield Term(place, using, 0, 1, scale=short)
                    continue
                by_demand: dict[int, list] = {}  # type: ignore[type-arg]
                for shape, literal in view.shapes(day):
                    by_demand.setdefault(demand(shape, facts.class_size), []).append(literal)
                for need, literals in sorted(by_demand.items()):
                    if need > have:
                        yield Term(place, using + sum(literals), 1, 2, scale=need - have)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        places = []
        for d in week:
            used = {i for x in d.lines if (x.facts.piece == "conditioning") == (self.piece == "conditioning")
                    for i in x.facts.needs}  # fmt: skip
            for item in sorted(used & facts.bounded):
                if self.item and item not in self.item:
                    continue
                if self.piece == "strength":
                    wanted = -(-facts.class_size // self.sharing)
                else:
                    groups = d.shape.heats * (d.shape.movements if d.shape.stations else 1)
                    wanted = -(-facts.class_size // groups)
                places.append((f"{d.day}: {item}", max(0, wanted - facts.counts.get(item, 0))))
        return audit_of(places)

    def statement(self) -> str:  # noqa: D102
        what = " or ".join(spoken(i) for i in self.item) or "any item"
        turns = f", {self.sharing} to one" if self.piece == "strength" and self.sharing > 1 else ""
        return f"Enough of {what} for the class in the {self.piece}{turns}."

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        return f"{place_words(place)}: {measure} short for the class."

    def remedy(self) -> str:  # noqa: D102
        return "Run it in heats or stations, or choose a movement with equipment to spare."


def demand(shape: Shape, class_size: int) -> int:
    """How many of an item the class uses at once in a conditioning piece."""
    at_once = ceil(class_size / shape.heats)
    return ceil(at_once / shape.movements) if shape.stations else at_once
