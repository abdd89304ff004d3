"""The real catalogue in the demo gym: facts of the trade, and that every load can be made there."""

from __future__ import annotations

from functools import cache

import pytest

from planner.domain.at_hand import usable_setup
from planner.domain.catalogue import Catalogue
from planner.domain.gym import Gym
from planner.domain.lifting import TIER_ORDER
from planner.domain.line import BARBELL
from planner.domain.week import Load
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.prescribe.loads import conditioning_loads, strength_load
from planner.prescribe.plates import grams
from planner.prescribe.stock import Stock
from planner.prescribe.warm_up import cool_down, warm_up

from .builders import REFERENCE

KITS = range(4)


@cache
def known() -> tuple[Catalogue, Gym]:
    catalogue = load_catalogue(REFERENCE.parent / "catalogue")
    return catalogue, load_gym(REFERENCE.parent / "gyms" / "demo", catalogue)


def stock(kit: int) -> Stock:
    catalogue, gym = known()
    return Stock(gym, gym.kits[kit], catalogue.items)


@pytest.mark.parametrize("kit", [0, 1])
def test_one_bar_for_front_squat_push_press_and_power_snatch(kit: int) -> None:
    """0.88 of a snatch of 70 kg and 47.5 kg, and of that 57 percent: 35.1 kg and 23.8 kg."""
    catalogue, gym = known()
    held = stock(kit)
    lines = []
    for name in ("front_squat", "push_press", "power_snatch"):
        setup = usable_setup(catalogue.movements[name], held.held)
        assert setup is not None
        lines.append((catalogue.movements[name], setup, "light"))
    for athlete, kg in zip(gym.athletes, (35, 25), strict=True):
        assert [load.kg for load in conditioning_loads(lines, held, athlete) if load] == [kg] * 3


def check(load: Load, item: str, held: Stock, at: int, where: str) -> None:
    """A load that this athlete can make, or find, with this kit."""
    gym = held.gym
    athlete = gym.athletes[at]
    assert load.athlete == athlete.id
    if item != BARBELL:
        assert load.kg in held.masses_kg(item, athlete) or not held.counts(item), where
        return
    plates = held.counts("plate")
    assert grams(load.kg) == grams(athlete.bar_kg) + 2 * sum(map(grams, load.per_side_kg)), where
    assert all(2 * load.per_side_kg.count(p) <= plates[p] for p in load.per_side_kg), where


@pytest.mark.parametrize("kit", KITS)
def test_every_load_of_every_movement_can_be_made(kit: int) -> None:
    catalogue, gym = known()
    held, checked = stock(kit), 0
    for movement in catalogue.movements.values():
        setup = usable_setup(movement, held.held)
        if setup is None or movement.modality != "loaded":
            continue
        item = held.implement(setup.needs)
        assert item is not None, f"{movement.id} is loaded, and nothing in its setup is a load"
        for at, athlete in enumerate(gym.athletes):
            for tier in TIER_ORDER:
                load = conditioning_loads([(movement, setup, tier)], held, athlete)[0]
                assert load is not None, movement.id
                check(load, item, held, at, f"{movement.id} {tier}")
            for scheme in catalogue.schemes.values():
                got = strength_load(movement, setup, scheme, held, athlete)
                assert got.load is not None, movement.id
                check(got.load, item, held, at, f"{movement.id} {scheme.id}")
                assert got.short == bool(got.because)
                checked += 1
    assert checked or kit == len(KITS) - 1


def test_heavier_tiers_never_weigh_less() -> None:
    catalogue, gym = known()
    held = stock(0)
    for movement in catalogue.movements.values():
        setup = usable_setup(movement, held.held)
        if setup is None or movement.modality != "loaded":
            continue
        for athlete in gym.athletes:
            loads = [conditioning_loads([(movement, setup, t)], held, athlete)[0] for t in TIER_ORDER]
            masses = [load.kg for load in loads if load]
            assert masses == sorted(masses), movement.id


def test_every_movement_can_be_warmed_up_for_without_equipment() -> None:
    catalogue, _ = known()
    for turn, movement in enumerate(catalogue.movements.values()):
        lines = warm_up(catalogue.drills.values(), ("pulse", *movement.prepares), turn)
        assert set(movement.prepares) <= {p for line in lines for p in line.prepares}, movement.id
        assert len(lines) <= 6, movement.id
        assert 5 * 60 <= sum(line.seconds + 15 for line in lines) <= 9 * 60, movement.id
        calm = cool_down(catalogue.drills.values(), movement.prepares, turn)
        assert 3 * 60 <= sum(line.seconds for line in calm) <= 4 * 60, movement.id
