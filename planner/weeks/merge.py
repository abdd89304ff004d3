"""One week from two: the days taken from each stay exactly as they are, and the rest is solved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.audit.reading import plan_of
from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate, WeekState
from planner.domain.requests import Lock, Requests
from planner.domain.week import Week
from planner.errors import DataError
from planner.weeks.keeping import base_of, keep, meant
from planner.weeks.setting import Setting
from planner.weeks.written import solved_week

if TYPE_CHECKING:
    from planner.store.store import Store


def merge(
    setting: Setting,
    taken: dict[Day, Week],
    *,
    seed: int = 1,
    seconds: float = 10.0,
    progress: Progress = quiet,
) -> Week:
    """Locks each taken day as it is in its week, and solves the other days.

    Args:
        setting: gym, catalogue, rules, past and other requests.
        taken: for each day, the week that it is taken from.
        seed: of the search.
        seconds: deterministic budget.
        progress: called with a label and a fraction done.

    Raises:
        NoPlanError: the days cannot stand together in one week; says what clashes.
    """
    sessions = [s for day, week in taken.items() for s in plan_of(week).sessions if s.day == day]
    base = Plan(
        week=setting.week, sessions=tuple(s for d in setting.gym.days for s in sessions if s.day == d)
    )
    asked = setting.requests
    locks = (*asked.locks, *(Lock(day=s.day, part="day", made_by="merge") for s in base.sessions))
    here = setting.asking(asked.model_copy(update={"locks": locks}), base)
    return solved_week(here.problem(seed=seed), seconds, progress)


def merge_kept(
    store: Store,
    setting: Setting,
    of: tuple[str, str],
    taken: dict[Day, str],
    *,
    seconds: float = 10.0,
    progress: Progress = quiet,
) -> Candidate:
    """Makes one week from several candidates and keeps it: taken days stay, the rest is solved.

    Args:
        store: of the gym.
        setting: gym, catalogue, rules, past.
        of: the two candidates.
        taken: by day, the name of the one it is taken from.
        seconds: deterministic budget.
        progress: called with a label and a fraction done.

    Raises:
        DataError: there is no such candidate, or it has no such day.
        NoPlanError: the days cannot stand together in one week; nothing is kept.
    """
    state = store.state(setting.week)
    known = [meant(state, name).name for name in of]
    for name in taken.values():
        if name not in known:
            raise DataError(f'"{name}" is not one of the two candidates, {" and ".join(known)}')
    weeks: dict[Day, Week] = {}
    for day in sorted(taken, key=DAYS.index):
        source = meant(state, taken[day])
        if day not in setting.gym.days or all(s.day != day for s in source.week.sessions):
            raise DataError(f"{source.name} has no session on {DAY_NAMES[day]}, or the gym is closed then")
        weeks[day] = source.week
    here = setting.asking(_without_pieces(state, weeks))
    week = merge(here, weeks, seconds=seconds, progress=progress)
    label = take_words({day: taken[day] for day in weeks})
    (kept,) = keep(store, setting.week, [(label, week)], f"merged, {label}")
    return kept


def take_from(words: tuple[str, ...]) -> dict[str, str]:
    """Reads words such as ``mon,thu=A``: for each day, as it was written, the candidate it is taken from.

    Raises:
        DataError: says what is wrong and what would be right.
    """
    taken: dict[str, str] = {}
    for word in words:
        days, equals, name = word.partition("=")
        parts = [d.strip() for d in days.split(",") if d.strip()]
        if not equals or not name.strip() or not parts:
            raise DataError(f'"{word}" takes nothing', advice="Write days=candidate, like mon,thu=A.")
        for day in parts:
            if day in taken:
                raise DataError(f"{day} is taken twice")
            taken[day] = name.strip().upper()
    return taken


def take_words(taken: dict[Day, str]) -> str:
    """The days in words: "Monday and Thursday from A, Tuesday from B"."""
    names = dict.fromkeys(taken.values())
    said = []
    for name in names:
        days = [DAY_NAMES[day] for day, source in taken.items() if source == name]
        said.append(f"{' and '.join(days)} from {name}")
    return ", ".join(said)


def _without_pieces(state: WeekState, taken: dict[Day, Week]) -> Requests:
    """The week's requests without those about the days that are taken.

    Raises:
        DataError: a day or piece is locked, and no candidate is named for it.
    """
    asked_for = state.requests
    base = base_of(state)
    for lock in asked_for.locks:
        if lock.of_pieces and lock.day not in taken and base is not None:
            raise DataError(
                f"{lock.words()}, and no candidate is named to take it from",
                advice=f"Take {DAY_NAMES[lock.day]} from one of them with --take, or unlock it first.",
            )
    return asked_for.model_copy(
        update={
            "locks": tuple(x for x in asked_for.locks if x.day not in taken),
            "by_hand": tuple(s for s in asked_for.by_hand if s.day not in taken),
        }
    )
