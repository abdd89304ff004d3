"""How the class spreads over racks, bars and stations, a sentence each."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Gym
from planner.domain.line import BARBELL
from planner.domain.week import Line, Load
from planner.domain.words import capital, listed, spelt
from planner.prescribe.sentences import kg_text

SHARED_ITEMS = ("rack", "bench")


def strength_setup(lines: Sequence[Line], catalogue: Catalogue, gym: Gym) -> tuple[str, ...]:
    """Racks and benches shared by the class.

    Args:
        lines: of the gym floor.
        catalogue: names of the items.
        gym: counts and class size.
    """
    needed = {name for line in lines for name in line.equipment}
    sentences = []
    for item in SHARED_ITEMS:
        count = gym.count(item)
        if item not in catalogue.items or catalogue.items[item].name not in needed or not count:
            continue
        entry = catalogue.items[item]
        each = ceil(gym.class_.size / count)
        if each == 1:
            sentences.append(f"{capital(spelt(count))} {entry.plural}: one each.")
        else:
            sentences.append(
                f"{capital(spelt(count))} {entry.plural if count > 1 else entry.name}, {spelt(each)} to a "
                f"{entry.name}: one works while the others rest, load and watch."
            )
    if any(line.loads and not line.assistance for line in lines):
        sentences += _bars(lines, catalogue, gym)
    return tuple(sentences)


def conditioning_setup(lines: Sequence[Line], catalogue: Catalogue, gym: Gym) -> tuple[str, ...]:
    """The large and loaded items that the class uses.

    Args:
        lines: of the gym floor.
        catalogue: names of the items.
        gym: counts and class size.
    """
    sentences = []
    for item in catalogue.items.values():
        if item.large and any(item.name in x.equipment for x in lines):
            count = gym.count(item.id)
            sentences.append(
                f"{capital(spelt(count))} {item.plural if count != 1 else item.name} to set out."
            )
    return (*sentences, *_bars(lines, catalogue, gym), *_bells(lines, catalogue, gym))


def _loads(lines: Sequence[Line], name: str) -> list[Load]:
    return [load for line in lines if name in line.equipment for load in line.loads]


def _bars(lines: Sequence[Line], catalogue: Catalogue, gym: Gym) -> list[str]:
    held = gym.inventory.get(BARBELL)
    if BARBELL not in catalogue.items or not _loads(lines, catalogue.items[BARBELL].name):
        return []
    if not isinstance(held, dict):
        return []
    name = catalogue.items[BARBELL].plural
    parts = [f"{spelt(count)} of {kg_text(kg)} kg" for kg, count in sorted(held.items(), reverse=True)]
    return [f"{capital(name)}: {listed(parts)} for a class of {spelt(gym.class_.size)}."]


def _bells(lines: Sequence[Line], catalogue: Catalogue, gym: Gym) -> list[str]:
    """How many there are of the masses printed, for implements other than bars."""
    sentences = []
    for item in catalogue.items.values():
        held = gym.inventory.get(item.id)
        if item.id == BARBELL or not item.loaded or not isinstance(held, dict):
            continue
        masses = sorted({load.kg for load in _loads(lines, item.name) if load.kg in held}, reverse=True)
        if masses:
            parts = [f"{spelt(held[kg])} of {kg_text(kg)} kg" for kg in masses]
            sentences.append(f"{capital(item.plural)} at hand: {listed(parts)}.")
    return sentences
