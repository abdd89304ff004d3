"""Gyms drawn by chance: the demo gym with fewer days, people, things and kit versions; and weeks behind them.

The same number gives the same gym on every machine. Every other gym is scarce: a handful of kinds of things,
one or two of most, and few days on which a rule could be met elsewhere. Over any forty of them more than half
cannot have every layer at nought, so they try the search where the demo gym, which can, does not.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from random import Random

from planner.domain.gym import DAYS, Day, Gym
from planner.domain.iso_week import monday_of, week_of
from planner.domain.week import Week
from planner.weeks.setting import Setting
from planner.weeks.written import solved_week
from tests.solve.demo import WEEK, shipped

FEW_TO_SOME, SOME_TO_ALL = (6, 12), (10, 20)
SMALLEST_CLASS, LARGEST_CLASS = 4, 20
BARS = ("barbell", "plate", "rack")
"""What no gym is without: the shipped musts ask for heavy lifts, so enough of it for the class in turns."""
THREE_TO_A_BAR = 3

Drafter = Callable[[Setting], Week]


def drawn_gym(number: int) -> Gym:
    """A gym by its number; odd numbers are scarce."""
    dice, whole, scarce = Random(f"gym/{number}"), shipped()[1], number % 2 == 1
    days = _in_order(dice.sample(DAYS, dice.randint(3, 7)))
    size = dice.randint(SMALLEST_CLASS, LARGEST_CLASS)
    kinds = min(len(whole.inventory), dice.randint(*(FEW_TO_SOME if scarce else SOME_TO_ALL)))
    others = sorted(whole.inventory.keys() - set(BARS))
    kept = {*BARS, *dice.sample(others, kinds - len(BARS))}
    inventory = {
        item: _thinned(dice, held, scarce=scarce) for item, held in whole.inventory.items() if item in kept
    }
    bars = -(-size // THREE_TO_A_BAR)
    inventory["rack"] = bars + dice.randint(0, 1)
    inventory["plate"] = dict.fromkeys(whole.inventory["plate"], 2 * bars)
    inventory["barbell"] = {20: bars + dice.randint(0, 3), 15: dice.randint(1, 4)}
    versions = dice.sample(range(1, len(whole.kits)), dice.randint(1, len(whole.kits) - 1))
    liked = dice.sample(days, dice.randint(0, min(3, len(days))))
    hard = dice.randint(0, len(liked))
    return Gym.model_validate(
        {
            **whole.model_dump(by_alias=True),
            "name": f"Drawn gym {number} (invented)",
            "days": days,
            "class": {
                **whole.class_.model_dump(),
                "size": size,
                "minutes": dice.choice((45, 50, 55, 55, 60)),
            },
            "inventory": inventory,
            "kits": [whole.kits[i].model_dump() for i in (0, *sorted(versions))],
            "hard_days": _in_order(liked[:hard]),
            "easy_days": _in_order(liked[hard:]),
        }
    )


def _in_order(days: list[Day]) -> list[Day]:
    return sorted(days, key=DAYS.index)


def _thinned(dice: Random, held: int | dict[float, int], *, scarce: bool) -> int | dict[float, int]:
    """Fewer of a thing; by mass, also fewer masses."""
    share = dice.choice((0.1, 0.25, 0.5)) if scarce else dice.choice((0.5, 1.0, 1.0))
    if not isinstance(held, dict):
        return max(1, round(held * share))
    masses = sorted(dice.sample(sorted(held), max(1, round(len(held) * max(share, 0.5)))))
    return {kg: max(1, round(held[kg] * share)) for kg in masses}


def drawn(number: int, week: str = WEEK) -> Setting:
    """A drawn gym with the shipped catalogue and rules, and no past."""
    catalogue, _, rules = shipped()
    return Setting(catalogue, drawn_gym(number), rules, (), week)


def with_past(setting: Setting, weeks: int, draft: Drafter | None = None) -> Setting:
    """The same gym with so many weeks behind it, each drafted with those before it as its past, and chosen.

    Args:
        setting: the gym; its week is the one after those that are drafted.
        weeks: how many.
        draft: how a week is drafted; by the planner with two seconds unless given.
    """
    monday = monday_of(setting.week)
    past: tuple[Week, ...] = ()
    for ago in range(weeks, 0, -1):
        then = replace(setting, history=past, week=week_of(monday - timedelta(weeks=ago)))
        past = ((draft or _drafted)(then), *past)
    return replace(setting, history=past)


def _drafted(setting: Setting) -> Week:
    return solved_week(setting.problem(), 2.0)


def kept_in(folder: Path, setting: Setting) -> Path:
    """The gym written as a gym folder, with its past: what commands and other planners read."""
    (folder / "history").mkdir(parents=True, exist_ok=True)
    gym = setting.gym.model_dump(mode="json", by_alias=True)
    (folder / "gym.yaml").write_text(json.dumps(gym, indent=1), encoding="utf-8")
    for week in setting.history:
        (folder / "history" / f"{week.week}.json").write_text(week.model_dump_json(), encoding="utf-8")
    return folder
