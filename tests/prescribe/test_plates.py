"""Plates against brute force, and against the masses that are printed on them."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.prescribe.plates import grams, makeable, nearest_makeable, nearest_mass

from .builders import table

POUND = float(table("units.csv")[0]["value"])
"""In kg."""

SIZES = (0.5, 1, 1.25, 2.5, 5, 10, 15, 20, 25)
STOCKS = st.dictionaries(st.sampled_from(SIZES), st.integers(0, 6), max_size=5)
TARGETS = st.integers(10, 240).map(lambda halves: halves / 2)


def every_load(bar: float, plates: dict[float, int], collars: float) -> list[int]:
    """All loads, in grams, by trying everything."""
    sizes = list(plates)
    ways = product(*(range(plates[size] // 2 + 1) for size in sizes))
    return [
        grams(bar) + grams(collars) + 2 * sum(n * grams(size) for n, size in zip(way, sizes, strict=True))
        for way in ways
    ]


@settings(max_examples=80, deadline=None)
@given(TARGETS, st.sampled_from((15, 20)), STOCKS, st.sampled_from((0, 0.4, 5)))
def test_heaviest_not_above(target: float, bar: float, plates: dict[float, int], collars: float) -> None:
    kg, side = makeable(target, bar, plates, collars)
    loads = every_load(bar, plates, collars)
    below = [load for load in loads if load <= grams(target)]
    assert grams(kg) == (max(below) if below else min(loads))
    assert grams(kg) == grams(bar) + grams(collars) + 2 * sum(grams(p) for p in side)
    assert list(side) == sorted(side, reverse=True)
    assert all(side.count(p) * 2 <= plates[p] for p in side)


@settings(max_examples=80, deadline=None)
@given(TARGETS, st.sampled_from((15, 20)), STOCKS)
def test_nearest(target: float, bar: float, plates: dict[float, int]) -> None:
    kg, _ = nearest_makeable(target, bar, plates)
    wanted = grams(target)
    assert grams(kg) == min(every_load(bar, plates, 0), key=lambda load: (abs(load - wanted), load))


def test_collars_count() -> None:
    assert makeable(60, 20, {25: 2, 15: 2, 2.5: 2}, 5) == (60, (15, 2.5))


def test_fewest_plates() -> None:
    assert makeable(60, 20, {20: 2, 10: 8, 5: 8}) == (60, (20,))


def test_of_as_many_plates_the_heavier_come_first() -> None:
    assert makeable(110, 20, {20: 4, 15: 6, 5: 2}) == (110, (20, 20, 5))


@settings(max_examples=80, deadline=None)
@given(TARGETS, STOCKS)
def test_a_side_is_loaded_as_a_lifter_would(target: float, plates: dict[float, int]) -> None:
    kg, side = makeable(target, 20, plates)
    sizes = sorted(plates, reverse=True)
    ways = (
        tuple(size for n, size in zip(way, sizes, strict=True) for _ in range(n))
        for way in product(*(range(plates[size] // 2 + 1) for size in sizes))
    )
    alike = [way for way in ways if grams(20) + 2 * sum(map(grams, way)) == grams(kg)]
    assert side == min(alike, key=lambda way: (len(way), tuple(-size for size in way)))


def test_an_odd_plate_is_of_no_use() -> None:
    assert makeable(40, 20, {10: 1}) == (20, ())


def test_pound_plates_add_up_exactly() -> None:
    kg, side = makeable(102.5, 45 * POUND, {45 * POUND: 4})
    assert (kg, side) == (pytest.approx(102.06, abs=0.01), (20.412, 20.412))


def test_disc_masses_in_pounds_are_those_in_kg() -> None:
    for row in table("discs.csv"):
        assert float(row["mass_lb"]) * POUND == pytest.approx(float(row["mass_kg"]), abs=0.0001), row


def test_bars_and_collars_of_the_rules() -> None:
    bars = {row["bar"]: row for row in table("bars.csv")}
    assert [float(bars[b]["mass_kg"]) for b in ("men's", "women's")] == [20, 15]
    assert {float(row["collar_each_kg"]) for row in bars.values()} == {2.5}


def test_nearest_mass() -> None:
    assert nearest_mass(15, (12, 16, 24)) == 16
    assert nearest_mass(14, (12, 16)) == 12
    assert nearest_mass(14, ()) is None
