"""Everything that a week is made from: the files, the past and the coach's requests."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import ValidationError

from planner.audit.by_hand import heeding_by_hand
from planner.domain.catalogue import Catalogue
from planner.domain.changes import GymChanges, changed_gym
from planner.domain.gym import Gym
from planner.domain.iso_week import monday_of
from planner.domain.plan import Plan
from planner.domain.requests import Requests, Wish
from planner.domain.week import Week
from planner.errors import DataError
from planner.load.gym import load_history
from planner.load.rule_names import check_rule_names
from planner.load.rules import load_rules
from planner.load.validate import fault_in_words
from planner.paths import home
from planner.problem.problem import Problem, assemble_problem
from planner.rules import Rule
from planner.weeks.known import catalogue_and_gym

if TYPE_CHECKING:
    from planner.store.store import Store


MOST_PAST = 4
"""So many weeks are looked back on."""


@dataclass(frozen=True)
class Setting:
    """A gym, the catalogue, the rules, the past and the requests, for one week.

    Attributes:
        catalogue: movements, schemes, formats.
        gym: as its file has it, or changed.
        rules: in file order, those of the gym last.
        history: earlier weeks, newest first.
        week: ISO week.
        requests: locks, bans, wishes, overrules, sessions by hand. Every problem heeds them.
        base: the plan whose pieces the locks keep and that a redraft stays close to; None without one.
    """

    catalogue: Catalogue
    gym: Gym
    rules: tuple[Rule, ...]
    history: tuple[Week, ...]
    week: str
    requests: Requests = field(default_factory=Requests)
    base: Plan | None = None

    def problem(self, *, seed: int = 1, stay_near: bool = False, insisted: tuple[Wish, ...] = ()) -> Problem:
        """The problem to be solved; a session by hand overrules the musts that it breaks by itself.

        Args:
            seed: of the shortlist and of the search.
            stay_near: whether as little of ``base`` is to change as can be.
            insisted: wishes that have to be met.
        """
        made = assemble_problem(
            self.catalogue, self.gym, self.rules, self.history, self.week, seed,
            requests=self.requests, base=self.base, stay_near=stay_near, insisted=insisted,
        )  # fmt: skip
        return heeding_by_hand(made)

    def asking(self, requests: Requests, base: Plan | None = None) -> Setting:
        """The same setting with other requests, and the plan whose pieces their locks keep."""
        return replace(self, requests=requests, base=base)

    def changed(self, changes: GymChanges) -> Setting:
        """The same setting with the gym changed.

        Raises:
            DataError: a change makes no sense.
        """
        try:
            return replace(self, gym=changed_gym(self.gym, changes))
        except ValidationError as error:
            raise DataError(f"no gym is like that: {fault_in_words(Gym, error)}") from None
        except ValueError as error:
            raise DataError(str(error)) from None


def load_setting(gym_folder: Path, week: str, history: tuple[Week, ...] | None = None) -> Setting:
    """Reads a gym folder with the catalogue and the rules.

    Args:
        gym_folder: with ``gym.yaml``, and where there are any ``rules.yaml`` and ``history/*.json``.
        week: ISO week.
        history: earlier weeks, newest first; read from ``history/*.json`` if None.

    Raises:
        DataError: a file cannot be used, or there is no such week.
    """
    try:
        monday_of(week)
    except ValueError as error:
        raise DataError(str(error)) from error
    catalogue, gym = catalogue_and_gym(gym_folder)
    constraints = home().constraints
    rules = load_rules(constraints, gym_folder)
    check_rule_names(rules, catalogue, constraints, gym_folder)
    past = load_history(gym_folder, week) if history is None else history
    return Setting(catalogue, gym, rules, _with_pasted(past, gym_folder, catalogue, gym, week), week)


def _with_pasted(
    past: tuple[Week, ...], gym_folder: Path, catalogue: Catalogue, gym: Gym, week: str
) -> tuple[Week, ...]:
    """The past with weeks that were pasted as text; of one that is there twice, the other one counts."""
    if not any((gym_folder / "history").glob("*.txt")):
        return past
    from planner.weeks.pasted import pasted_weeks  # late: few gyms have any, and reading text loads much

    known = {w.week: w for w in pasted_weeks(gym_folder, catalogue, gym) if w.week < week}
    if not known:
        return past
    known |= {w.week: w for w in past}
    return tuple(known[name] for name in sorted(known, reverse=True)[:MOST_PAST])


def setting_of(gym_folder: Path, week: str, store: Store | None = None) -> Setting:
    """Reads a gym folder for a week, with the past from its store, open or not, and ``history/``.

    Raises:
        DataError: a file cannot be used, or there is no such week.
    """
    from planner.store.past import past_weeks  # late: a draft that keeps nothing needs no database

    try:
        past = past_weeks(gym_folder, week, store=store)
    except ValueError as error:
        raise DataError(str(error)) from error
    return load_setting(gym_folder, week, past)
