"""The catalogue and the demo gym that come with the planner are whole."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import PATTERNS, Catalogue
from planner.domain.graph import check_catalogue, coverage
from planner.domain.gym import Gym
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.paths import home


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue(home().shared / "catalogue")


@pytest.fixture(scope="module")
def gym(catalogue: Catalogue) -> Gym:
    return load_gym(home().shared / "gyms" / "demo", catalogue)


def test_enough_movements_in_every_pattern_and_every_kit_version(catalogue: Catalogue, gym: Gym) -> None:
    assert len(catalogue.movements) >= 160
    for pattern, counts in coverage(catalogue, gym).items():
        assert pattern in PATTERNS
        assert all(counts.values()), f"{pattern} is out of reach: {counts}"


def test_check_finds_no_error(catalogue: Catalogue, gym: Gym) -> None:
    assert [f.text for f in check_catalogue(catalogue, gym) if f.level == "error"] == []
