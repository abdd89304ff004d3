"""Why a movement is not there: forces it onto a day and says what that breaks or costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate
from planner.domain.requests import Lock, PieceName
from planner.domain.week import Week
from planner.errors import Clashing, NoPlanError
from planner.weeks.diff import PieceChange
from planner.weeks.keeping import asked_about
from planner.weeks.offered import why_never
from planner.weeks.redraft import redraft
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store


class WhyNot(Value):
    """What it would take to have a movement on a day.

    Attributes:
        possible: whether there is such a week.
        clashes: if it is impossible, the rules and locks that make it so.
        ways_out: what would make it possible.
        changes: what else would change.
        worse: rules that would be worse, with the measures before and after.
        points: what the weighted rules would cost more (less, if negative).
        week: the week with it, or None.
    """

    possible: bool
    clashes: Clashing = ()
    ways_out: tuple[str, ...] = ()
    changes: tuple[PieceChange, ...] = ()
    worse: tuple[tuple[str, int, int], ...] = ()
    points: int = 0
    week: Week | None = None


def why_not(
    setting: Setting,
    week: Week,
    day: Day,
    movement: str,
    *,
    piece: PieceName | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> WhyNot:
    """Forces a movement onto a day, changes as little else as possible, and says what it breaks or costs."""
    asked = setting.requests
    forced = asked.model_copy(
        update={
            "locks": (
                *asked.locks,
                Lock(day=day, part="movement", movement=movement, piece=piece, made_by="question"),
            )
        }
    )
    try:
        made = redraft(setting.asking(forced), week, seed=week.proof.seed, seconds=seconds, progress=progress)
    except NoPlanError as error:
        return WhyNot(possible=False, clashes=error.clashes, ways_out=error.remedies)
    before = {r.id: r for r in week.rules}
    worse = tuple(
        (r.statement, before[r.id].measure if r.id in before else 0, r.measure)
        for r in made.week.rules
        if r.measure > (before[r.id].measure if r.id in before else 0)
    )
    return WhyNot(
        possible=True,
        changes=made.changes,
        worse=worse,
        points=made.points_after - made.points_before,
        week=made.week,
    )


def why_not_kept(
    store: Store,
    setting: Setting,
    day: Day,
    movement: str,
    *,
    piece: PieceName | None = None,
    candidate: str | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> tuple[Candidate, WhyNot]:
    """The same for a candidate that is kept. The week with the movement is not kept.

    Returns:
        The candidate that was asked about, and the answer.
    """
    here, of = asked_about(store, setting, candidate, on=day)
    never = why_never(here, movement, piece)
    if never:
        return of, WhyNot(possible=False, clashes=((never,),))
    return of, why_not(here, of.week, day, movement, piece=piece, seconds=seconds, progress=progress)
