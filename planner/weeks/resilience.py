"""What a week would lose with each item of equipment: one of it, or all of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from planner.audit.audit import audit_plan, broken_musts
from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.changes import GymChanges
from planner.domain.progress import Progress, quiet
from planner.domain.week import Week
from planner.errors import Clashing, DataError, NoPlanError
from planner.weeks.keeping import asked_about
from planner.weeks.redraft import redraft
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store


class Loss(Value):
    """The effect of a loss.

    Attributes:
        item: its id.
        name: as said.
        lost: whether one or all are lost.
        left: how many are left.
        pieces: pieces that would have to change.
        points: what the weighted rules would cost more.
        impossible: why no week holds all musts then; empty where one does.
        undecided: whether the time did not suffice to find a week or rule one out.
        proved: whether fewer changes are ruled out.
    """

    item: str
    name: str
    lost: Literal["one", "all"]
    left: int
    pieces: int = 0
    points: int = 0
    impossible: Clashing = ()
    undecided: bool = False
    proved: bool = True


def resilience(
    setting: Setting, week: Week, *, seconds: float = 3.0, progress: Progress = quiet
) -> tuple[Loss, ...]:
    """Tries the loss of every item of the inventory; the worst loss comes first.

    An audit finds the losses after which the week still meets every must; these need no solve.

    Args:
        setting: gym, catalogue, rules, past.
        week: the week.
        seconds: deterministic budget of each solve.
        progress: called with a label and a fraction done.
    """
    items = [i for i in setting.gym.inventory if setting.gym.count(i) > 0]
    out = []
    for number, item in enumerate(items):
        name = setting.catalogue.items[item].plural
        count = setting.gym.count(item)
        trials: list[tuple[Literal["one", "all"], GymChanges]] = [("all", GymChanges(without=(item,)))]
        if count > 1:
            trials.insert(0, ("one", GymChanges(counts={item: count - 1})))
        for lost, changes in trials:
            progress(f"Without {lost} of the {name}", number / len(items))
            left = count - 1 if lost == "one" else 0
            loss = Loss(item=item, name=name, lost=lost, left=left)
            out.append(
                loss if _stands(setting, week, changes) else _loss(setting, week, changes, loss, seconds)
            )
    return tuple(
        sorted(out, key=lambda x: (not x.impossible, not x.undecided, -x.pieces, -x.points, x.item, x.lost))
    )


def resilience_kept(
    store: Store,
    setting: Setting,
    *,
    candidate: str | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> tuple[Loss, ...]:
    """The same for a candidate that is kept."""
    here, of = asked_about(store, setting, candidate)
    # A session by hand that the candidate does not have yet would change it whatever is lost.
    there = {s.day: s for s in plan_of(of.week).sessions}
    written = tuple(s for s in here.requests.by_hand if s.day in there and there[s.day].holds(s))
    here = here.asking(here.requests.model_copy(update={"by_hand": written}), here.base)
    return resilience(here, of.week, seconds=seconds, progress=progress)


def _stands(setting: Setting, week: Week, changes: GymChanges) -> bool:
    """Whether the week can stay as it is."""
    problem = setting.changed(changes).problem(seed=week.proof.seed)
    try:
        return not broken_musts(audit_plan(problem, plan_of(week)))
    except DataError:
        return False


def _loss(setting: Setting, week: Week, changes: GymChanges, loss: Loss, seconds: float) -> Loss:
    try:
        made = redraft(setting, week, changes=changes, seed=week.proof.seed, seconds=seconds)
    except NoPlanError as error:
        if not error.certain:
            return loss.model_copy(update={"undecided": True, "proved": False})
        return loss.model_copy(update={"impossible": error.clashes or ((error.what,),)})
    return loss.model_copy(
        update={
            "pieces": len(made.changes),
            "points": made.points_after - made.points_before,
            "proved": made.proved,
        }
    )
