"""The catalogue's schemes against the published goal and zone tables."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import Scheme
from planner.load.validate import entries
from planner.load.yaml_file import read_yaml
from planner.prescribe.loads import scheme_percent

from .builders import REFERENCE, table

SCHEMES: dict[str, Scheme] = {
    entry.id: entry
    for entry, _ in entries(Scheme, read_yaml(REFERENCE.parent / "catalogue" / "schemes.yaml"), "schemes", [])
}
ZONE_FROM = {1: 0, 2: 70, 3: 80, 4: 90}
"""Lower edges of the zones in the printing without gaps."""
BY_REPS = [
    s for s in SCHEMES.values() if s.reserve is not None and s.goal != "assistance" and s.class_at_most > 30
]
"""Those of short classes have fewer sets than the table, and say so."""
POWER = [s for s in SCHEMES.values() if s.goal == "power"]


def test_there_are_schemes_to_check() -> None:
    assert len(BY_REPS) >= 5
    assert len(POWER) >= 3


@pytest.mark.parametrize("scheme", POWER, ids=lambda s: s.id)
def test_power_totals_are_inside_their_zone(scheme: Scheme) -> None:
    percent = scheme_percent(scheme)
    zone = max(z for z, edge in ZONE_FROM.items() if percent >= edge)
    row = next(r for r in table("zone_totals.csv") if int(r["zone"]) == zone)
    assert int(row["total_min"]) <= scheme.sets * scheme.reps * scheme.moves <= int(row["total_max"])
    assert scheme.reps * scheme.moves <= int(row["reps_per_set_max"])


@pytest.mark.parametrize("scheme", BY_REPS, ids=lambda s: s.id)
def test_sets_and_reps_are_inside_the_goal_table(scheme: Scheme) -> None:
    rows = {r["goal"]: r for r in table("goals.csv")}
    row = rows["hypertrophy" if scheme.goal == "hypertrophy" else "strength"]
    assert int(row["sets_min"]) <= scheme.sets <= int(row["sets_max"])
    # Eight across is between the two rows of the table: common practice, and said so in the catalogue.
    assert scheme.reps <= 8 if scheme.goal == "strength" else scheme.reps <= int(row["reps_max"])


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=lambda s: s.id)
def test_build_up_ascends_below_the_work_load(scheme: Scheme) -> None:
    percents = [p for p, _ in scheme.build_up]
    assert percents == sorted(percents)
    assert all(p < 100 for p in percents)
