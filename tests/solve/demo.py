"""The shipped catalogue and the demo gym, whole or thinned, with fewer or other days."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day, Gym
from planner.domain.week import Week
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.load.rules import load_rules
from planner.paths import home
from planner.problem.problem import Problem, assemble_problem
from planner.rules import Rule
from planner.weeks.draft import draft
from tests.once import once

WEEK = "2026-W49"
SIX: tuple[Day, ...] = ("mon", "tue", "wed", "thu", "fri", "sat")


@cache
def shipped() -> tuple[Catalogue, Gym, tuple[Rule, ...]]:
    """Catalogue, demo gym and rules from the shipped files."""
    places = home()
    catalogue = load_catalogue(places.shared / "catalogue")
    return catalogue, load_gym(folder(), catalogue), load_rules(places.constraints, folder())


def folder() -> Path:
    """Of the demo gym."""
    return home().shared / "gyms" / "demo"


@cache
def week() -> Week:
    """A drafted week of it, as the command drafts it."""
    return once("demo", lambda: draft(folder(), week=WEEK, seconds=2.5))


def thinned(catalogue: Catalogue, about: int) -> Catalogue:
    """About so many movements, as many of each pattern as there is room for, spread over the files' order.

    The same movements every time, and each catalogue holds those of the smaller ones in the main.
    """
    by_pattern: dict[str, list[str]] = {}
    for m in catalogue.movements.values():
        by_pattern.setdefault(m.main_pattern, []).append(m.id)
    if about >= len(catalogue.movements):
        return catalogue
    kept: set[str] = set()
    for ids in by_pattern.values():
        n = max(3, round(len(ids) * about / len(catalogue.movements)))
        kept.update(ids[(2 * i + 1) * len(ids) // (2 * n)] for i in range(min(n, len(ids))))
    movements = {i: m for i, m in catalogue.movements.items() if i in kept}
    return catalogue.model_copy(update={"movements": movements})


def demo_problem(about: int = 1000, days: tuple[Day, ...] = SIX, seed: int = 1, kits: int = 4) -> Problem:
    """The demo gym with so many movements, days and kit versions."""
    catalogue, gym, rules = shipped()
    wished = {"hard_days": gym.hard_days, "easy_days": gym.easy_days}
    changed = {"days": days, "kits": gym.kits[:kits]}
    changed |= {name: tuple(d for d in these if d in days) for name, these in wished.items()}
    return assemble_problem(thinned(catalogue, about), gym.model_copy(update=changed), rules, (), WEEK, seed)
