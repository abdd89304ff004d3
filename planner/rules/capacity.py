"""``capacity``: equipment for the class, with heats, stations or turns where the piece allows them."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from planner.domain.base import Id
from planner.domain.catalogue import Shape
from planner.domain.gym import Day
from planner.domain.words import spoken
from planner.rules.base import NATURE, Audit, AuditDay, Expr, Facts, Rule, Term, View, audit_of, place_words
from planner.rules.where import Where, _listed


class Capacity(Rule):
    """Nobody waits for equipment.

    Of loads in the hands only those count whose mass is near what is asked for. In strength, ``sharing``
    athletes take turns at one item. In conditioning everyone needs an item at once, divided by the heats, and
    by the movements where the class can start spread over them.

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

    @property
    def day_by_day(self) -> bool:  # noqa: D102
        return True

    @property
    def forbids(self) -> bool:  # noqa: D102
        return True

    @property
    def standing(self) -> int:  # noqa: D102
        return NATURE

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        for item in self.item or tuple(i for i in facts.counts if i in facts.bounded):
            if item not in facts.bounded:
                continue
            where = Where(piece=(self.piece,), item=(item,))
            for day in facts.days:
                by_count: dict[int, list[Expr]] = {}
                for line, literal in view.matching(day, where):
                    have = line.at_hand if line.implement == item else facts.counts.get(item, 0)
                    by_count.setdefault(have, []).append(literal)
                for have, literals in sorted(by_count.items()):
                    yield from self._short(view, facts, day, item, have, literals)

    def _short(  # noqa: PLR0917
        self, view: View, facts: Facts, day: Day, item: str, have: int, literals: list[Expr]
    ) -> Iterator[Term]:
        """Terms for the lines that find so many of an item."""
        place = f"{day}: {item}, {have} at hand"
        if self.piece == "strength":
            short = ceil(facts.class_on(day) / self.sharing) - have
            if short > 0:
                yield Term(place, view.any_of(literals, place), 0, 1, scale=short)
            return
        by_demand: dict[int, list[Expr]] = {}
        for shape, literal in view.shapes(day):
            by_demand.setdefault(demand(shape, facts.class_on(day)), []).append(literal)
        needs = [n for n in sorted(by_demand) if n > have]
        using = view.any_of(literals, place) if needs else 0
        for need in needs:
            yield Term(place, using + sum(by_demand[need]), 1, 2, scale=need - have)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        places = []
        for d in week:
            found: set[tuple[str, int]] = set()
            for x in d.lines:
                if (x.facts.piece == "conditioning") != (self.piece == "conditioning"):
                    continue
                for item in x.facts.needs:
                    if item in facts.bounded and (not self.item or item in self.item):
                        own = item == x.facts.implement
                        found.add((item, x.facts.at_hand if own else facts.counts.get(item, 0)))
            wanted = -(
                -facts.class_on(d.day) // (self.sharing if self.piece == "strength" else _groups(d.shape))
            )
            for item, have in sorted(found):
                places.append((f"{d.day}: {item}, {have} at hand", max(0, wanted - have)))
        return audit_of(places)

    def statement(self) -> str:  # noqa: D102
        what = " or ".join(spoken(i) for i in self.item) or "any item"
        turns = f", {self.sharing} to one" if self.piece == "strength" and self.sharing > 1 else ""
        return f"Enough of {what} for the class in the {self.piece}{turns}."

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        return f"{place_words(place)}: {measure} short for the class."

    def remedy(self) -> str:  # noqa: D102
        return "Run it in heats or stations, or choose a movement with equipment to spare."


def _groups(shape: Shape | None) -> int:
    """In how many groups the class is split, of which one at a time uses an item."""
    if shape is None:
        return 1
    turns = shape.people if shape.sharing in {"shared", "in_turn"} else 1
    return shape.heats * turns * (shape.movements if shape.stations else 1)


def demand(shape: Shape, class_size: int) -> int:
    """How many of an item the class uses at once in a conditioning piece; of a pair one works at a time."""
    at_once = ceil(class_size / shape.heats)
    if shape.sharing in {"shared", "in_turn"}:
        at_once = ceil(at_once / shape.people)
    return ceil(at_once / shape.movements) if shape.stations else at_once
