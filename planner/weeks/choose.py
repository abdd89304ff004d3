"""Makes a candidate the one that is trained."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.domain.record import WeekState
from planner.weeks.keeping import meant

if TYPE_CHECKING:
    from planner.store.store import Store


def choose_candidate(store: Store, week: str, name: str) -> WeekState:
    """Makes a candidate the one that is published, and that later weeks look back to.

    Raises:
        DataError: there is no such candidate.
    """
    state = store.state(week)
    wanted = meant(state, name)
    new = state.model_copy(update={"chosen": wanted.name})
    if new != state:
        store.commit(week, new, f"chose {wanted.name}")
    return new
