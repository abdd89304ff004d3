"""Why a movement is not there: forces it onto a day and says what that breaks or costs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate
from planner.domain.requests import Lock, PieceName
from planner.domain.week import RULES_LAYER, TierProof, Week
from planner.errors import Clashing, NoPlanError
from planner.weeks.diff import PieceChange
from planner.weeks.keepable import solved
from planner.weeks.keeping import asked_about
from planner.weeks.offered import why_never
from planner.weeks.redraft import redraft
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store


class WhyNot(Value):
    """What it would take to have a movement on a day.

    Attributes:
        verdict: whether there is such a week, there is none, or the time did not suffice to tell.
        clashes: where it is impossible: the rules and locks that make it so.
        ways_out: what would make it possible.
        changes: what else would change.
        worse: rules that would be worse, with the measures before and after.
        points: what the weighted rules would cost more (less, if negative), with as little else changed as
            can be.
        week: the week with it, or None.
        free: what the weighted rules cost in a week with it that may change all else; None where that was not
            asked or not found.
        free_proved: whether no week with it costs less than that.
    """

    verdict: Literal["possible", "impossible", "undecided"]
    clashes: Clashing = ()
    ways_out: tuple[str, ...] = ()
    changes: tuple[PieceChange, ...] = ()
    worse: tuple[tuple[str, int, int], ...] = ()
    points: int = 0
    week: Week | None = None
    free: int | None = None
    free_proved: bool = False

    @property
    def possible(self) -> bool:
        """Whether a week with it was found."""
        return self.verdict == "possible"


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
        verdict: Literal["impossible", "undecided"] = "impossible" if error.certain else "undecided"
        return WhyNot(verdict=verdict, clashes=error.clashes, ways_out=error.remedies)
    before = {r.id: r for r in week.rules}
    worse = tuple(
        (r.statement, before[r.id].measure if r.id in before else 0, r.measure)
        for r in made.week.rules
        if r.measure > (before[r.id].measure if r.id in before else 0)
    )
    free = _free(setting.asking(forced, setting.base or plan_of(week)), week.proof.seed, seconds, progress)
    return WhyNot(
        verdict="possible",
        free=free.objective if free else None,
        free_proved=free is not None and free.status == "proved",
        changes=made.changes,
        worse=worse,
        points=made.points_after - made.points_before,
        week=made.week,
    )


def _free(setting: Setting, seed: int, seconds: float, progress: Progress) -> TierProof | None:
    """What the weighted rules cost in a week with it that need not be like any other."""
    progress("A week with it that may change all else", 0.5)
    _, drafted = solved(setting.problem(seed=seed), seconds)
    return next((t for t in drafted.proof.tiers if t.name == RULES_LAYER), None) if drafted.proof else None


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
        return of, WhyNot(verdict="impossible", clashes=((never,),))
    return of, why_not(here, of.week, day, movement, piece=piece, seconds=seconds, progress=progress)
