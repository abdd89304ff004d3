"""A line that could be, or has been, written in a session: a movement with how heavy and with what."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil
from typing import Literal

from planner.domain.catalogue import Item, Movement, Scheme, Spot, Tier
from planner.domain.clock import ALONE, HAND_OVER_S, PLATE_CHANGE_S, Turns
from planner.domain.gym import Gym
from planner.domain.words import spoken

BARBELL, PLATE = "barbell", "plate"
LinePiece = Literal["main", "assistance", "conditioning"]
Held = tuple[str, float | None]
"""An item, by id, and its mass in kg where it is counted by mass."""
Takes = tuple[tuple[Held, ...], tuple[Held, ...]]
"""What a man and what a woman takes."""
NEAR_PERCENT = (60, 125)
"""What still serves: from this much of the women's usual mass to this much of the men's; common practice."""
EXPOSURE_PERCENT = 30
"""A movement is an exposure of each pattern that has at least this share in it; a design choice."""


@dataclass(frozen=True, slots=True, eq=False)
class LineFacts:
    """Everything about a line that rules ask for, its dose apart.

    Attributes:
        piece: main lift, assistance beside it, or conditioning.
        movement: the movement.
        tier: how heavy; ``open`` without a load.
        scheme: sets and reps, on strength lines.
        needs: items of equipment, by id, in the setup used.
        implement: the loaded item among them, or empty.
        large: the large stations among them.
        at_hand: how many of the implement the gym has at masses near what is asked for.
        takes: what a man and a woman take for it, in a conditioning piece on the gym floor.
        spot: where in its piece it comes.
        piece_number: of several pieces of its kind on one day, which: 0 is the first.
        again: how often the same movement is there before it, in the day's lines of its kind.
        load_class: on the gym floor, in conditioning: which loads of the implement serve it; else 0.
        turns: how a lift is shared on the gym floor.
    """

    piece: LinePiece
    movement: Movement
    tier: Tier
    scheme: Scheme | None
    needs: tuple[str, ...]
    implement: str
    large: tuple[str, ...]
    at_hand: int = 0
    takes: Takes = ((), ())
    spot: Spot = "turn"
    piece_number: int = 0
    again: int = 0
    turns: Turns = ALONE
    load_class: int = 0

    @property
    def load(self) -> tuple[str, int] | None:
        """What tells its load in the hands from another's: implement and class; None without one."""
        return (self.implement, self.load_class) if self.implement else None


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """A line with its dose.

    Attributes:
        facts: the line.
        dose: in the movement's unit for one round, for a ladder the sum; for one set on strength lines.
        units: over the whole piece; both sides counted where the movement is per side.
        tenths: tenths of a second in one round; 0 on strength lines.
    """

    facts: LineFacts
    dose: int
    units: int
    tenths: int


def held_words(held: Held) -> str:
    """An item as said aloud, with its mass where it is counted by mass: "kettlebell of 16 kg"."""
    item, kg = held
    return spoken(item) + (f" of {kg:g} kg" if kg is not None else "")


def line_facts(  # noqa: PLR0917  (a line is these seven things)
    piece: LinePiece,
    movement: Movement,
    tier: Tier,
    scheme: Scheme | None,
    needs: tuple[str, ...],
    items: dict[str, Item],
    gym: Gym | None = None,
    *,
    floor: bool = False,
) -> LineFacts:
    """The facts of a line, from the catalogue, and from the gym where one is meant, be it its floor."""
    from planner.domain.lifting import load_class  # it counts work, and work counts lines

    implement = next((n for n in needs if items[n].loaded and movement.modality == "loaded"), "")
    return LineFacts(
        piece=piece,
        movement=movement,
        tier=tier if movement.modality == "loaded" else "open",
        scheme=scheme,
        needs=needs,
        implement=implement,
        large=tuple(n for n in needs if items[n].large),
        at_hand=near_at_hand(gym, movement, tier, implement) if gym and implement else 0,
        load_class=load_class(movement, tier, implement, gym.athletes[0])
        if gym and implement and floor and piece == "conditioning"
        else 0,
        turns=turns_at(gym, needs, movement) if gym and scheme else ALONE,
    )


def turns_at(gym: Gym, needs: Iterable[str], movement: Movement) -> Turns:
    """How a lift is shared: as many to a set of what it needs as it takes to serve the class.

    Bars by whose they are: those of the man's bar for who takes his load, and of the woman's.

    Args:
        gym: counts, class and reference athletes.
        needs: items of the setup, by id; plates go with the bars.
        movement: what is lifted.
    """
    sides = 2 if movement.sides == "per_side" else 1
    items = [n for n in needs if n != PLATE]
    most = max((_to_one(gym, item) for item in items), default=1)
    change_s = PLATE_CHANGE_S if BARBELL in items else HAND_OVER_S
    return Turns(most, change_s if most > 1 else 0, sides)


def _to_one(gym: Gym, item: str) -> int:
    held, (people, *_) = gym.inventory.get(item, 0), gym.class_.people
    there = gym.count(item)
    if not there:
        return 1
    own = [a.bar_kg for a in gym.athletes]
    if item == BARBELL and isinstance(held, dict) and own[0] != own[1] and all(held.get(kg) for kg in own):
        return max(ceil(n / held[kg]) for n, kg in zip(people, own, strict=True))
    return ceil(gym.class_.size / there)


def near_at_hand(gym: Gym, movement: Movement, tier: Tier, item: str) -> int:
    """How many of an item the gym has between a little under the women's and a little over the men's mass.

    All of them where the movement's load follows from a barbell lift, or the item has no masses.
    """
    held, usual = gym.inventory.get(item, 0), movement.kg.get(tier)
    if not isinstance(held, dict):
        return held
    if usual is None:
        return sum(held.values())
    men_kg, women_kg = usual
    low, high = women_kg * NEAR_PERCENT[0] / 100, men_kg * NEAR_PERCENT[1] / 100
    return sum(count for kg, count in held.items() if low <= kg <= high)


def line_units(movement: Movement, dose: int, times: int) -> int:
    """Units over a whole piece: dose times rounds or sets, twice where the dose is for each side."""
    return dose * times * (2 if movement.sides == "per_side" else 1)
