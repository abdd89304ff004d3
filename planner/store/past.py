"""The weeks behind one: those that were chosen in the store, and those written out in ``history/``."""

from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path

from planner.domain.requests import Requests
from planner.domain.week import Week
from planner.load.gym import load_history
from planner.store.database import FILE_NAME
from planner.store.store import Store, open_store


def past_weeks(
    gym_folder: Path, before_week: str, limit: int = 4, store: Store | None = None
) -> tuple[Week, ...]:
    """The last weeks before a week, the newest first; of a week that is in both places, the chosen one.

    Args:
        gym_folder: of the gym. A store is read where there is one, and not made where there is none.
        before_week: ``2026-W49``; this week and later ones are left out.
        limit: the most weeks that are given.
        store: of the gym, where the caller has it open.

    Raises:
        DataError: a file cannot be used.
        ValueError: there is no such ``before_week``.
    """
    weeks = {week.week: week for week in load_history(gym_folder, before_week, limit)}
    if store or (gym_folder / FILE_NAME).exists():
        with nullcontext(store) if store else open_store(gym_folder) as opened:
            weeks |= {week.week: week for week in opened.chosen_before(before_week, limit)}
    return tuple(weeks[name] for name in sorted(weeks, reverse=True)[: max(0, limit)])


def requests_kept(gym_folder: Path, week: str) -> Requests:
    """What the coach asked of a week, as the store has it; nothing where there is no store.

    Raises:
        DataError: the store cannot be used.
    """
    if not (gym_folder / FILE_NAME).exists():
        return Requests()
    with open_store(gym_folder) as store:
        return store.state(week).requests
