"""The shipped catalogue, gym and rules, and one week drafted from them for all tests here."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Gym
from planner.domain.week import Week
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.load.rules import load_rules
from planner.paths import home
from planner.rules import Rule
from planner.weeks.draft import draft

DEMO = home().shared / "gyms" / "demo"
STARTER = home().shared / "starter"


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue(home().shared / "catalogue")


@pytest.fixture(scope="session")
def gym(catalogue: Catalogue) -> Gym:
    return load_gym(DEMO, catalogue)


@pytest.fixture(scope="session", params=[DEMO, STARTER], ids=["demo", "starter"])
def rules(request: pytest.FixtureRequest) -> dict[str, Rule]:
    """The rules in force in each gym that ships."""
    return {rule.id: rule for rule in load_rules(home().constraints, request.param)}


@pytest.fixture(scope="session")
def drafted() -> Week:
    return draft(DEMO, week="2026-W49", seed=1, seconds=6)
