"""Candidates of a week in a gym's store: finding, naming and adding them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.domain.gym import DAY_NAMES, Day
from planner.domain.record import Candidate, WeekState
from planner.errors import DataError

if TYPE_CHECKING:
    from planner.domain.plan import Plan
    from planner.domain.requests import Requests
    from planner.domain.week import Week
    from planner.store.store import Change, Store
    from planner.weeks.setting import Setting

LETTERS = 26


def states(store: Store) -> tuple[WeekState, ...]:
    """Every week that has anything in the store, in order; not those whose changes were all undone."""
    found = (store.state(week) for week in store.weeks())
    return tuple(s for s in found if s != WeekState(week=s.week))


def latest_week(store: Store) -> str:
    """The last week that has candidates.

    Raises:
        DataError: there is none.
    """
    for week in reversed(store.weeks()):
        if store.state(week).candidates:
            return week
    raise DataError("no week is kept of this gym yet", advice="Draft one first: planner draft GYM.")


def meant(state: WeekState, name: str | None = None) -> Candidate:
    """The candidate with this name; without a name the chosen one, or else the newest.

    Raises:
        DataError: there is no such candidate.
    """
    if not state.candidates:
        raise DataError(
            f"there is no candidate of {state.week} yet",
            advice=f"Draft one first: planner draft GYM --week {state.week}.",
        )
    wanted = state.chosen if name is None else name.strip().upper()
    if wanted is None:
        return state.candidates[-1]
    found = next((c for c in state.candidates if c.name == wanted), None)
    if found is None:
        from planner.load.yaml_file import nearest

        names = [c.name for c in state.candidates]
        hint = nearest(wanted, names) or f" It has {', '.join(names)}."
        raise DataError(f'{state.week} has no candidate "{name}".{hint}')
    return found


def asked_about(
    store: Store, setting: Setting, name: str | None = None, *, on: Day | None = None
) -> tuple[Setting, Candidate]:
    """The candidate that a question is about, and the setting with its week's requests.

    Args:
        store: of the gym.
        setting: of the week.
        name: of the candidate; without one, the chosen candidate or else the newest.
        on: a day that must have a session.

    Raises:
        DataError: there is no such candidate, or it has no session that day.
    """
    from planner.audit.reading import plan_of  # late, as below: who looks for a candidate asks no rules
    from planner.weeks.keepable import kept_so

    state = store.state(setting.week)
    of = meant(state, name)
    days = [s.day for s in of.week.sessions]
    if on is not None and on not in days:
        said = ", ".join(DAY_NAMES[d] for d in days)
        raise DataError(f"{of.name} has no session on {DAY_NAMES[on]}", advice=f"It has: {said}.")
    overrules = (*state.requests.overrules, *kept_so(of.week, setting.rules))
    return setting.asking(state.requests.model_copy(update={"overrules": overrules}), plan_of(of.week)), of


def base_of(state: WeekState, requests: Requests | None = None) -> Plan | None:
    """The plan whose pieces the locks keep; None if no day or piece is locked."""
    from planner.audit.reading import plan_of

    locks = (requests or state.requests).locks
    if any(lock.of_pieces for lock in locks) and state.candidates:
        return plan_of(meant(state).week)
    return None


def keep(store: Store, week: str, made: list[tuple[str, Week]], how: str) -> tuple[Candidate, ...]:
    """Adds candidates to the week as it is in the store now, in one change.

    Args:
        store: of the gym.
        week: ISO week.
        made: label and week of each.
        how: how they came about; written into the week's history after their names.
    """

    def grown(state: WeekState) -> Change:
        kept = named(state, made)
        new = state.model_copy(update={"candidates": (*state.candidates, *kept)})
        return new, f"{', '.join(c.name for c in kept)}: {how}"

    return store.change(week, grown).candidates[-len(made) :]


def named(state: WeekState, made: list[tuple[str, Week]]) -> tuple[Candidate, ...]:
    """Solved weeks as candidates with the next free names."""
    first = len(state.candidates)
    return tuple(
        Candidate(name=next_name(first + i), label=label, week=solved)
        for i, (label, solved) in enumerate(made)
    )


def next_name(number: int) -> str:
    """A, B, ..., Z, AA, ...; ``number`` counts from 0. No candidate is ever removed, so names are unique."""
    name = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, LETTERS)
        name = chr(ord("A") + letter) + name
    return name
