"""Makes a candidate the one that is trained."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.domain.record import WeekState
from planner.weeks.keeping import meant

if TYPE_CHECKING:
    from planner.store.store import Change, Store


def choose_candidate(store: Store, week: str, name: str) -> WeekState:
    """Makes a candidate the one that is published; later weeks look back to it.

    Raises:
        DataError: there is no such candidate.
    """

    def chosen(state: WeekState) -> Change:
        wanted = meant(state, name)
        return state.model_copy(update={"chosen": wanted.name}), f"chose {wanted.name}"

    return store.change(week, chosen)
