"""The setting of a week with its past from the store, and with what the coach has asked for."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from planner.domain.plan import Plan
from planner.domain.requests import Requests
from planner.errors import DataError
from planner.problem.problem import Problem
from planner.setting import Setting, load_setting
from planner.store.past import past_weeks
from planner.store.store import Store


@dataclass(frozen=True)
class AskedSetting(Setting):
    """A setting in which every problem heeds the week's requests, whoever makes it.

    Attributes:
        requests: locks, bans, wishes, overrules, sessions by hand.
        base: the plan that locks speak of, or None.
    """

    requests: Requests = field(default_factory=Requests)
    base: Plan | None = None

    def problem(self, *, seed: int = 1, **more: Any) -> Problem:
        """A problem; requests that a verb passes come before those of the week, if they ask for anything."""
        given = more.pop("requests", None)
        requests = self.requests if given in (None, Requests()) else given
        return super().problem(seed=seed, **{"base": self.base, **more, "requests": requests})


def setting_of(gym_folder: Path, week: str, store: Store | None = None) -> Setting:
    """A gym folder for a week, with the past that its store, open or not, and ``history/`` hold.

    Raises:
        DataError: a file cannot be used, or there is no such week.
    """
    try:
        past = past_weeks(gym_folder, week, store=store)
    except ValueError as error:
        raise DataError(str(error)) from error
    return load_setting(gym_folder, week, past)


def asked(setting: Setting, requests: Requests, base: Plan | None) -> AskedSetting:
    """The setting with a week's requests.

    Args:
        setting: gym, catalogue, rules, past.
        requests: of the week.
        base: the plan that locks speak of.
    """
    return AskedSetting(
        setting.catalogue, setting.gym, setting.rules, setting.history, setting.week, requests, base
    )
