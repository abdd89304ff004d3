"""What a line takes and whether it can be done with what is at hand, its load included.

A load is equipment like any other: a line is heavy only where bar and plates make something like the load
that heavy asks of the reference athletes. On the gym floor the rack counts too: what can be cleaned is no
stand-in for what a rack gives. A kit version may be held down by how the bar gets up, as its line says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from planner.domain.at_hand import EVERYTHING, usable_setup
from planner.domain.catalogue import Movement, Scheme, Setup, Tier
from planner.domain.gym import Athlete
from planner.domain.lifting import conditioning_target_kg
from planner.domain.line import BARBELL, PLATE, LinePiece
from planner.domain.week import Load
from planner.prescribe.loads import (
    again_and_again_kg,
    ceiling_kg,
    conditioning_loads,
    strength_load,
    strength_target_kg,
)
from planner.prescribe.sentences import kg_text
from planner.prescribe.stock import Stock

NEAR_KG, NEAR_PERCENT = 5, 15
"""A load is had where it is off by no more than the larger of these: a pair of small plates, or the step from
one tier to the next, 80 to 67 percent; a design choice. An empty bar may be heavier: none is lighter."""

BAND_PERCENT = (80, 135)
"""Of what a tier asks for of an athlete, what still serves the purpose, on the gym floor; a design choice."""


@dataclass(frozen=True, slots=True)
class Equipped:
    """What a line takes.

    Attributes:
        needs: items of equipment, by id: those of the setup, and plates where its loads have some.
        lacks: what stands in the way, as a sentence without its full stop; empty where the line can be done.
    """

    needs: tuple[str, ...]
    lacks: str = ""


def equipped(
    movement: Movement, piece: LinePiece, tier: Tier, scheme: Scheme | None, stock: Stock
) -> Equipped:
    """What a line takes with a kit version, and what is lacking.

    Args:
        movement: the movement.
        piece: in which it is done.
        tier: how heavy, in conditioning.
        scheme: of a strength line.
        stock: the kit version.
    """
    setup, floor = usable_setup(movement, stock.items_for(piece), piece), stock.kit.contains == EVERYTHING
    if setup is None:
        ways = " or ".join(" and ".join(stock.items[i].name for i in s.needs) for s in movement.setups)
        whose = "the gym has for a class" if floor else f"there is with {stock.kit.name}"
        return Equipped((), f"{movement.name} needs {ways}, more than {whose}")
    if movement.modality != "loaded" or BARBELL not in setup.needs:
        off = _off_its_band(movement, setup, tier, stock) if floor and piece == "conditioning" else ""
        return Equipped(setup.needs, off)
    takes_plates, lacks = False, []
    for athlete in stock.gym.athletes:
        load, wanted, most = _asked(movement, setup, scheme or tier, stock, athlete)
        if load is None or wanted is None:
            continue
        can_be_made = _near(load, min(wanted, most))
        takes_plates |= bool(load.per_side_kg) or not can_be_made
        if not can_be_made:
            bar, kg = kg_text(stock.bar_kg(athlete)), kg_text(round(min(wanted, most), 1))
            lacks.append(f"plates for {kg} kg on a bar of {bar} kg; the nearest is {kg_text(load.kg)} kg")
        elif scheme and floor and setup.limit and not _near(load, wanted):
            lacks.append(f"a rack in reach for {kg_text(round(wanted, 1))} kg; {setup.limit.because}")
    needs = (*setup.needs, PLATE) if takes_plates and PLATE not in setup.needs else setup.needs
    whole = f"{movement.name} ({scheme.name.lower()})" if scheme else f"{tier} {movement.name}"
    return Equipped(needs, f"{whole} needs {lacks[0]}" if lacks else "")


def _off_its_band(movement: Movement, setup: Setup, tier: Tier, stock: Stock) -> str:
    """What is lacking where no implement at hand has a mass that serves a purpose; empty where one has."""
    item = stock.implement(setup.needs) if movement.modality == "loaded" else None
    for athlete in stock.gym.athletes if item else ():
        (load,) = conditioning_loads([(movement, setup, tier)], stock, athlete)
        wanted = conditioning_target_kg(movement, item or "", tier, athlete)
        if load is None or not wanted or not stock.masses_kg(item or "", athlete):
            continue
        least, most = (wanted * percent / 100 for percent in BAND_PERCENT)
        if not least <= load.kg <= most:
            name, nearest = stock.items[item or ""].name, kg_text(load.kg)
            return (
                f"{tier} {movement.name} needs a {name} of {kg_text(wanted)} kg; the nearest is {nearest} kg"
            )
    return ""


def _asked(
    movement: Movement, setup: Setup, how: Scheme | Tier, stock: Stock, athlete: Athlete
) -> tuple[Load | None, float | None, float]:
    """The load that is printed, what scheme or tier asks for, and the most that the setup allows, in kg."""
    if isinstance(how, Scheme):
        load, most = strength_load(movement, setup, how, stock, athlete).load, ceiling_kg(setup, athlete)
        return load, strength_target_kg(movement, how, athlete), inf if most is None else most
    (load,) = conditioning_loads([(movement, setup, how)], stock, athlete)
    most = again_and_again_kg(setup, athlete)
    return load, conditioning_target_kg(movement, BARBELL, how, athlete), inf if most is None else most


def _near(load: Load, wanted: float) -> bool:
    empty_and_above = not load.per_side_kg and load.kg > wanted
    return empty_and_above or abs(load.kg - wanted) <= max(NEAR_KG, wanted * NEAR_PERCENT / 100)
