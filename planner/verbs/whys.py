"""Why a line is there, why another is not, and what the binding rules cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.audit.audit import audit_plan, total_cost
from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.progress import Progress, quiet
from planner.domain.requests import Lock, PieceName, Requests
from planner.domain.week import Week
from planner.errors import Clashing, NoPlanError
from planner.problem.problem import Problem
from planner.setting import Setting
from planner.verbs.diff import PieceChange
from planner.verbs.reasons import Reason, line_reasons
from planner.verbs.redraft import Redrafted, redraft


class WhyNot(Value):
    """What it would take to have a movement where it is not.

    Attributes:
        possible: whether there is such a week.
        clashes: where it is impossible: the rules and locks that make it so.
        ways_out: what would make it possible.
        changes: what else would move.
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


class Price(Value):
    """A rule that binds.

    Attributes:
        rule: its id.
        statement: the rule.
        measure: its breach now; 0 for a must that holds just so.
        saves: points that one unit of relaxing it saves.
    """

    rule: str
    statement: str
    measure: int
    saves: int


def why(setting: Setting, week: Week, day: Day, piece: PieceName) -> tuple[Reason, ...]:
    """What speaks for each line of a piece: the rules that would be worse without it."""
    problem = setting.problem(seed=week.proof.seed)
    return line_reasons(problem, plan_of(week), day, piece)


def why_not(
    setting: Setting,
    week: Week,
    day: Day,
    movement: str,
    *,
    piece: PieceName | None = None,
    requests: Requests | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> WhyNot:
    """Forces a movement onto a day, changes as little else as can be, and says what it breaks or costs."""
    asked = requests or Requests()
    forced = asked.model_copy(
        update={
            "locks": (
                *asked.locks,
                Lock(day=day, part="movement", movement=movement, piece=piece, made_by="question"),
            )
        }
    )
    try:
        made: Redrafted = redraft(
            setting, week, requests=forced, seed=week.proof.seed, seconds=seconds, progress=progress
        )
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


def price(
    setting: Setting, week: Week, *, seconds: float = 4.0, progress: Progress = quiet
) -> tuple[Price, ...]:
    """Rules that bind, and what relaxing each by one unit buys, the dearest first.

    A weighted rule that gives way saves its weight. For musts the week is solved again with each of some broken
    by one unit in one place, first all of them, then halves of those that save anything: a group that saves
    nothing has no member that does. Where the weighted rules cost nothing, no must does.

    Args:
        setting: gym, catalogue, rules, past.
        week: the week.
        seconds: deterministic budget of each solve; where it does not suffice, a price is at least so much.
        progress: called with a label and a fraction done.
    """
    problem = setting.problem(seed=week.proof.seed)
    results = audit_plan(problem, plan_of(week))
    prices = [
        Price(rule=r.id, statement=r.statement, measure=r.measure, saves=r.weight)
        for r in results
        if r.level == "weight" and r.measure
    ]
    cost = total_cost(results)
    if cost:
        prices += _prices_of_musts(problem, cost, seconds, progress)
    return tuple(sorted(prices, key=lambda p: (-p.saves, p.rule)))


def _prices_of_musts(problem: Problem, cost: int, seconds: float, progress: Progress) -> Iterator[Price]:
    """Musts that save something against the least that the rules can cost as they are."""
    from planner.solve.draft import least_points

    musts = [r for r in problem.rules if r.must]
    progress("The least that the rules can cost", 0.0)
    least = min(cost, least_points(problem, seconds)[1])
    waiting, done = [musts], 0
    while waiting:
        group = waiting.pop()
        progress(f"Without {len(group)} of {len(musts)} musts", done / len(musts))
        loosened = replace(problem, loosened=frozenset(r.id for r in group))
        saves = least - least_points(loosened, seconds)[0]
        if saves <= 0 or len(group) == 1:
            done += len(group)
        if saves > 0 and len(group) == 1:
            yield Price(rule=group[0].id, statement=group[0].statement(), measure=0, saves=saves)
        elif saves > 0:
            half = len(group) // 2
            waiting += [group[half:], group[:half]]
