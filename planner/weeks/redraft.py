"""Solves a week again after something has changed, and changes as little else as possible."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.changes import GymChanges
from planner.domain.difference import difference
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate
from planner.domain.requests import Lock, Wish
from planner.domain.week import LINES_LAYER, PIECES_LAYER, RULES_LAYER, Week
from planner.errors import NoPlanError
from planner.problem.requirements import CAP, MOST_LINES_A_DAY
from planner.weeks.diff import PieceChange, VersionChange, plan_changes, version_changes
from planner.weeks.keepable import solved
from planner.weeks.keeping import keep, meant
from planner.weeks.setting import Setting
from planner.weeks.wishes import unmet
from planner.weeks.written import written_week

if TYPE_CHECKING:
    from planner.store.store import Store


class UnmetWish(Value):
    """What was asked for and did not come, since fewest changes count for more.

    Attributes:
        words: the wish.
        pieces: pieces of the old week that would change with it; None where no week has it.
        points: what the weighted rules would cost then.
        decided: whether that is settled: no fewer pieces, or proved that no week has it.
    """

    words: str
    pieces: int | None = None
    points: int = 0
    decided: bool = True


class Redrafted(Value):
    """A week after a change.

    Attributes:
        week: the new one.
        changes: pieces that differ from the old one on the gym floor.
        certificate: in a sentence, what is proved about the number of changes.
        proved: whether it is proved that fewer changes are not enough.
        points_before: price of the weighted rules in the old week.
        points_after: in the new one.
        versions: pieces that stay on the gym floor, and have other stand-ins with some kit.
        loads_only: days on which the lines stay but loads differ.
        unmet: wishes that did not come, and what each would change.
    """

    week: Week
    changes: tuple[PieceChange, ...]
    certificate: str
    proved: bool
    points_before: int
    points_after: int
    versions: tuple[VersionChange, ...] = ()
    loads_only: tuple[Day, ...] = ()
    unmet: tuple[UnmetWish, ...] = ()


def redraft(
    setting: Setting,
    week: Week,
    *,
    changes: GymChanges | None = None,
    seed: int = 1,
    seconds: float = 8.0,
    progress: Progress = quiet,
) -> Redrafted:
    """Solves the week again: what is locked stays, and as little as possible of the rest changes.

    Args:
        setting: gym, catalogue, rules and past as they were, and the requests.
        week: the week to stay near to.
        changes: to the gym.
        seed: of the search.
        seconds: deterministic budget.
        progress: called with a label and a fraction done.

    Raises:
        NoPlanError: no week meets all locks and musts; says what clashes, and for a locked day that needs
            something that was lost, the smallest change inside that day.
    """
    from planner.solve.explain.no_week import explain_no_week

    base = plan_of(week)
    here = (setting.changed(changes) if changes else setting).asking(setting.requests, base)
    problem, drafted = solved(here.problem(seed=seed, stay_near=True), seconds, progress)
    if drafted.plan is None or drafted.proof is None:
        error = explain_no_week(problem, drafted)
        offers = _offers(here.asking(problem.requests), base, seed, seconds) if error.certain else ()
        remedies = (*error.remedies, *offers)
        raise NoPlanError(error.what, error.clashes, remedies, certain=error.certain)
    new = written_week(problem, drafted.plan, drafted.proof, seconds)
    tiers = {t.name: t for t in drafted.proof.tiers}
    pieces = tiers[PIECES_LAYER]
    differing = plan_changes(base, drafted.plan)
    return Redrafted(
        week=new,
        changes=differing,
        certificate=_certificate(pieces.objective, pieces.bound, drafted.lifted),
        proved=pieces.objective == pieces.bound and tiers[LINES_LAYER].gap == 0,
        points_before=week.points,
        points_after=new.points,
        versions=version_changes(base, drafted.plan, differing),
        loads_only=_other_loads(week, new, {c.day for c in differing}),
        unmet=tuple(_unmet(here, wish, seed, seconds) for wish in unmet(new, here.requests.wishes)),
    )


def redraft_kept(
    store: Store,
    setting: Setting,
    *,
    changes: GymChanges | None = None,
    candidate: str | None = None,
    seconds: float = 8.0,
    progress: Progress = quiet,
) -> tuple[Candidate, Candidate, Redrafted]:
    """Redrafts a candidate and keeps the result as the next one.

    Args:
        store: of the gym.
        setting: before the changes.
        changes: to the gym.
        candidate: its name; without one, the chosen candidate or else the newest.
        seconds: deterministic budget.
        progress: called with a label and a fraction done.

    Returns:
        The old candidate, the new one, and what changed.

    Raises:
        NoPlanError: no week meets all locks and musts; says what clashes and the ways out; nothing is kept.
    """
    state = store.state(setting.week)
    old = meant(state, candidate)
    made = redraft(
        setting.asking(state.requests),
        old.week,
        changes=changes,
        seed=old.week.proof.seed,
        seconds=seconds,
        progress=progress,
    )
    said = changes.words() if changes and changes != GymChanges() else ""
    how = f"redrafted from {old.name}{f', {said}' if said else ''}: {made.certificate}"
    (new,) = keep(store, setting.week, [(said or f"redrafted from {old.name}", made.week)], how)
    return old, new, made


def _certificate(changed: int, bound: int, lifted: tuple[str, ...]) -> str:
    cap = f"changes at most {MOST_LINES_A_DAY} lines of a day"
    beyond = f" More than {MOST_LINES_A_DAY} lines of one day change: no week {cap}." if CAP in lifted else ""
    among = "" if CAP in lifted else f" that {cap}"
    if changed == bound == 0:
        return f"No piece has to change.{beyond}"
    if changed == bound:
        return f"No week{among} changes fewer than {changed} piece{'s' if changed > 1 else ''}.{beyond}"
    said = f"{changed} pieces change and at least {bound} have to; whether fewer would do was not settled."
    return f"{said}{beyond}"


def _unmet(setting: Setting, wish: Wish, seed: int, seconds: float) -> UnmetWish:
    """What meeting a wish would change, with as little else as can be."""
    _, drafted = solved(setting.problem(seed=seed, stay_near=True, insisted=(wish,)), seconds)
    if drafted.proof is None:
        return UnmetWish(words=wish.words(), decided=drafted.impossible)
    tiers = {t.name: t for t in drafted.proof.tiers}
    pieces, points = tiers[PIECES_LAYER], tiers[RULES_LAYER].objective
    return UnmetWish(
        words=wish.words(), pieces=pieces.objective, points=points, decided=pieces.status == "proved"
    )


def _offers(setting: Setting, base: Plan, seed: int, seconds: float) -> tuple[str, ...]:
    """For each locked day that cannot stay, the smallest change inside it, each found by a solve."""
    from planner.solve.search.draft import draft_plan

    requests, out = setting.requests, []
    locked = {lock.day: None for lock in requests.locks if lock.of_pieces}
    for day in locked:
        others = tuple(lock for lock in requests.locks if lock.day != day)
        kept = tuple(
            Lock(day=s.day, part="day") for s in base.sessions if s.day != day and s.day in setting.gym.days
        )
        trial = requests.model_copy(update={"locks": (*others, *kept)})
        problem = setting.asking(trial, base).problem(seed=seed, stay_near=True)
        drafted = draft_plan(problem, seconds / len(locked))
        if drafted.plan is None:
            continue
        for change in plan_changes(base, drafted.plan):
            gone = ", ".join(_name(setting, x) for x in change.gone) or "the format"
            new = ", ".join(_name(setting, x) for x in change.new) or "another format"
            unlocked = f"Unlock {DAY_NAMES[day]} and change only its {change.piece}"
            if change.day != day:
                unlocked = f"Unlock {DAY_NAMES[day]} and change {DAY_NAMES[change.day]}'s {change.piece}"
            out.append(f"{unlocked}: {gone} becomes {new}.")
    return tuple(out)


def _name(setting: Setting, line: str) -> str:
    movement = setting.catalogue.movements.get(line.split(" ", maxsplit=1)[0])
    return movement.name if movement else line


def _other_loads(before: Week, after: Week, changed: set[Day]) -> tuple[Day, ...]:
    """Days with the same lines on the gym floor, and other loads in some kit version."""
    days = difference(before, after).parts["sessions"]
    return tuple(
        day.known.day for day in days
        if not day.alone and day.key not in changed and {"load", "plates"}.intersection(day.words)
    )  # fmt: skip
