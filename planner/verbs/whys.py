"""Why a line is there, why another is not, and what the binding rules cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.audit.audit import audit_plan, total_cost
from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.requests import Lock, PieceName, Requests
from planner.domain.week import RuleResult, Week
from planner.errors import Clashing, NoPlanError
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.rules.limit import Limit
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

    A weighted rule that gives way saves its weight. For a must the week is solved again with the rule broken
    by one unit in one place: what the weighted rules then cost less is what it costs now. Where the weighted
    rules cost nothing, no must does.

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
        prices += _prices_of_musts(problem, plan_of(week), cost, seconds, progress)
    return tuple(sorted(prices, key=lambda p: (-p.saves, p.rule)))


def _prices_of_musts(
    problem: Problem, plan: Plan, cost: int, seconds: float, progress: Progress
) -> Iterator[Price]:
    from planner.solve.search import at_once

    musts = [r for r in problem.rules if r.must and r.stage == "lines" and _is_tight(problem, plan, r)]
    costs = at_once(lambda rule: _cost_with(problem, rule, seconds), musts)
    for i, (rule, less) in enumerate(zip(musts, costs, strict=True)):
        progress(rule.statement(), i / len(musts))
        if less < cost:
            yield Price(rule=rule.id, statement=rule.statement(), measure=0, saves=cost - less)


def _is_tight(problem: Problem, plan: Plan, rule: Rule) -> bool:
    """Whether a must has no room left: made one stricter, this week would break it."""
    if not isinstance(rule, Limit):
        return True
    stricter = {
        "at_most": rule.at_most - 1 if rule.at_most else rule.at_most,
        "at_least": rule.at_least + 1 if rule.at_least is not None else None,
    }
    probe = rule.model_copy(update=stricter)
    results: tuple[RuleResult, ...] = audit_plan(replace(problem, rules=(probe,)), plan)
    return any(r.measure for r in results if r.id == rule.id)


def _cost_with(problem: Problem, loosened: Rule, seconds: float) -> int:
    """The least that the weighted rules can cost with one must loosened."""
    from planner.solve.climb import NoWeek, climb
    from planner.solve.master import NO_CEILING, build_master
    from planner.solve.view import value_of

    master = build_master(problem, loosened.id)
    rules_layer = master.layers["rules"]
    master.layers = {"rules": rules_layer}
    found = climb(master, problem.seed, seconds, quiet)
    return NO_CEILING if isinstance(found, NoWeek) else value_of(rules_layer, found.values)
