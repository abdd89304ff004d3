"""A gym that opens on three days, with a thinned catalogue: a week of it is solved in a second or two."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from planner.domain.gym import Day
from planner.domain.week import Week
from planner.weeks.setting import Setting
from planner.weeks.written import solved_week
from tests.once import once
from tests.solve.demo import WEEK, shipped, thinned

DAYS: tuple[Day, ...] = ("mon", "wed", "fri")
SECONDS = 1.0


@cache
def setting(week: str = WEEK) -> Setting:
    """The demo gym on three days with two kit versions, about 100 movements."""
    catalogue, gym, rules = shipped()
    changed = {"days": DAYS, "kits": (gym.kits[0], gym.kits[3]), "hard_days": ("fri",), "easy_days": ()}
    return Setting(thinned(catalogue, 100), gym.model_copy(update=changed), rules, (), week)


@cache
def week(seed: int = 1) -> Week:
    """A drafted week of it."""
    return once(f"small-{seed}", lambda: solved_week(setting().problem(seed=seed), SECONDS))


def gym_folder(parent: Path) -> Path:
    """A folder in which a store can be made."""
    folder = parent / "gym"
    folder.mkdir()
    return folder
