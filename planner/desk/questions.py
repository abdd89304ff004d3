"""What can be asked about a candidate, and how its sessions went."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from planner.audit.reading import plan_of
from planner.desk.candidates import meant
from planner.desk.setting import AskedSetting, asked
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.record import Candidate, LogEntry, WeekState
from planner.errors import DataError
from planner.pipeline import Progress, quiet
from planner.setting import Setting
from planner.store.log import LoadTable, logged, planned_against_rated
from planner.store.store import Store
from planner.verbs import resilience as losing
from planner.verbs import whys
from planner.verbs.reasons import Reason
from planner.verbs.resilience import Loss
from planner.verbs.whys import Price, WhyNot

if TYPE_CHECKING:
    from planner.domain.comparison import Comparison

PieceName = Literal["strength", "conditioning"]


def why(
    store: Store, setting: Setting, day: Day, piece: PieceName, *, candidate: str | None = None
) -> tuple[Reason, ...]:
    """What speaks for each line of a piece.

    Raises:
        DataError: there is no such candidate, or it has no session that day.
    """
    state, of = _of(store, setting, candidate)
    _has(of, day)
    return whys.why(_asked(setting, state, of), of.week, day, piece)


def why_not(
    store: Store,
    setting: Setting,
    day: Day,
    movement: str,
    *,
    piece: PieceName | None = None,
    candidate: str | None = None,
    seconds: float = 8.0,
    progress: Progress = quiet,
) -> tuple[Candidate, WhyNot]:
    """What it would take to have a movement on a day; nothing is kept.

    Returns:
        The candidate that was asked about, and the answer.
    """
    state, of = _of(store, setting, candidate)
    _has(of, day)
    answer = whys.why_not(
        setting,
        of.week,
        day,
        movement,
        piece=piece,
        requests=state.requests,
        seconds=seconds,
        progress=progress,
    )
    return of, answer


def price(
    store: Store,
    setting: Setting,
    *,
    candidate: str | None = None,
    seconds: float = 4.0,
    progress: Progress = quiet,
) -> tuple[Price, ...]:
    """The rules that bind, and what relaxing each by one unit buys, the dearest first."""
    state, of = _of(store, setting, candidate)
    return whys.price(_asked(setting, state, of), of.week, seconds=seconds, progress=progress)


def resilience(
    store: Store,
    setting: Setting,
    *,
    candidate: str | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> tuple[Loss, ...]:
    """What losing one, or all, of each item would do to a candidate, the most painful loss first."""
    state, of = _of(store, setting, candidate)
    return losing.resilience(_asked(setting, state, of), of.week, seconds=seconds, progress=progress)


def compare(store: Store, setting: Setting, a: str, b: str) -> Comparison:
    """Two candidates of a week, side by side.

    Raises:
        DataError: there is no such candidate.
    """
    from planner.verbs import compare as comparing

    state = store.state(setting.week)
    one, other = meant(state, a), meant(state, b)
    return comparing.compare(one.week, other.week, (one.name, other.name), setting.history)


def log(store: Store, week: str, day: Day, entry: LogEntry) -> LoadTable:
    """Writes down how a session of the chosen week went.

    Returns:
        The week's planned load beside the rated one.

    Raises:
        DataError: nothing is chosen yet, or the week has no session that day.
    """
    state = logged(store.state(week), day, entry)
    store.commit(week, state, f"{DAY_NAMES[day]} {entry.status}")
    return planned_against_rated(state)


def _of(store: Store, setting: Setting, candidate: str | None) -> tuple[WeekState, Candidate]:
    state = store.state(setting.week)
    return state, meant(state, candidate)


def _asked(setting: Setting, state: WeekState, of: Candidate) -> AskedSetting:
    return asked(setting, state.requests, plan_of(of.week))


def _has(of: Candidate, day: Day) -> None:
    days = [s.day for s in of.week.sessions]
    if day not in days:
        said = ", ".join(DAY_NAMES[d] for d in days)
        raise DataError(f"{of.name} has no session on {DAY_NAMES[day]}", advice=f"It has: {said}.")
