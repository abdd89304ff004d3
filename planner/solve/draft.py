"""A week from a problem: lines layer by layer, then doses and kit versions; cut and repeat if those fail."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from importlib.metadata import version

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.line import LineFacts
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.week import Proof, TierProof
from planner.problem.problem import Problem
from planner.rules.base import Expr
from planner.solve.climb import Climb, NoWeek, climb, tight
from planner.solve.master import LAYERS, NO_CEILING, Master, build_master, set_ceiling, set_value
from planner.solve.search import Budget, solve_layer
from planner.solve.unfilled import rules_of_days, unfilled
from planner.solve.versions import Filled, FloorDay, fill
from planner.solve.view import value_of, weighted

FILL_BUDGET, REPAIR_BUDGET = 4.0, 1.0
MOST_ROUNDS = 9
"""Cut and repeat at most so often."""
MOST_REPAIRS = 6
"""So many repairs are tried before the layers are climbed again."""
AGAIN_SHARE = 0.5
"""Of the budget, what climbing again may take."""
MOST_POLISHED = 8
"""Tries at bringing the stand-ins down to the least that they can cost."""


@dataclass(slots=True)
class Drafted:
    """What solving gave.

    Attributes:
        plan: None where the musts leave no week, or none was found.
        proof: how good it is; None without a plan.
        impossible: whether it is certain that there is none.
        timings: seconds by step, for the benchmark.
        kept: for a redraft: pieces of the base plan that stay, by day and piece.
        unfilled: where there is no plan: locked days that fail for want of doses, with the kits in question.
    """

    plan: Plan | None
    proof: Proof | None
    impossible: bool = False
    timings: dict[str, float] = field(default_factory=dict)
    kept: frozenset[tuple[Day, str]] = frozenset()
    unfilled: dict[Day, tuple[str, ...]] = field(default_factory=dict)


def draft_plan(problem: Problem, seconds: float, progress: Progress = quiet) -> Drafted:
    """Solves a week.

    Args:
        problem: everything that is known.
        seconds: budget of the solver's own deterministic time, about a second each.
        progress: called with a label and a fraction done.
    """
    start = time.perf_counter()
    progress("Writing down the rules", 0.0)
    master = build_master(problem)
    timings = {"build": time.perf_counter() - start, "cuts": 0.0}
    return finish(problem, master, seconds, progress, timings)


def finish(
    problem: Problem, master: Master, seconds: float, progress: Progress, timings: dict[str, float]
) -> Drafted:
    """From a first-stage model to a whole week."""
    start = time.perf_counter()
    floor: dict[Day, FloorDay] = {}
    bad: list[Day] = []
    found = climb(master, problem.seed, seconds, progress)
    for tries in range(MOST_ROUNDS):
        if isinstance(found, NoWeek):
            stuck = unfilled(problem, floor, bad, Budget(FILL_BUDGET, problem.seed))
            return Drafted(None, None, impossible=found.certain, timings=timings, unfilled=stuck)
        timings |= found.seconds
        floor = _floor(problem, master, found.values)
        progress("Doses and kit versions", 0.92)
        filled = fill(problem, floor, Budget(FILL_BUDGET, problem.seed))
        if filled is not None:
            break
        timings["cuts"] += 1
        bad = _cut(problem, master, floor)
        found = (_mended(problem, master, found, bad) if tries < MOST_REPAIRS else None) or climb(
            master, problem.seed, seconds * AGAIN_SHARE, progress, known=found.answers
        )
    else:
        return Drafted(None, None, timings=timings)
    step = time.perf_counter()
    found, filled = _polish(problem, master, found, filled)
    timings["polish"] = time.perf_counter() - step
    timings["total"] = timings["build"] + time.perf_counter() - start
    progress("Done", 1.0)
    plan = Plan(week=problem.week, sessions=filled.sessions)
    kept = frozenset(key for key, expr in master.kept.items() if value_of(expr, found.values))
    return Drafted(plan, _proof(problem, master, found, filled), timings=timings, kept=kept)


def _floor(problem: Problem, master: Master, values: tuple[int, ...]) -> dict[Day, FloorDay]:
    """What the first stage chose, and which pieces of the base plan stay as they are."""
    out = {}
    for day, v in master.view.days.items():
        lead = next(s for s, literal in v.shapes if values[literal.index])
        family = next(f for f in problem.options.families if f.lead is lead)
        stays = {p for (d, p), expr in master.kept.items() if d == day and value_of(expr, values)}
        stays |= problem.locked_pieces(day)
        lines = tuple(x.facts for x in v.lines if values[x.literal.index])
        out[day] = FloorDay(family, lines, problem.base_session(day) if stays else None, frozenset(stays))
    return out


# Mending and polishing ------------------------------------------------------------------------------------


def _polish(problem: Problem, master: Master, found: Climb, filled: Filled) -> tuple[Climb, Filled]:
    """Other lines for days whose stand-ins cost more than they would have to, as long as no layer gets worse.

    What the first stage counts is the least that stand-ins can cost; where two lines of a piece want the same
    stand-in, or its time does not fit, a day costs more. A week whose days all cost the least is proved best.
    """
    model = master.model.clone()
    for _ in range(MOST_POLISHED):
        costly = _costly_lines(problem, master, found.values, filled)
        if not costly:
            break
        for day, facts in costly:
            model.add_bool_and(~x.literal for x in master.view.days[day].lines if x.facts is facts)
        days = [day for day, _ in costly]
        again = _repair(problem, master, found, days, model)
        if again is None and "wishes" in master.layers:
            set_value(model, master.ceilings["wishes"], NO_CEILING)  # wishes count less than stand-ins
            again = _repair(problem, master, found, days, model)
        if again is None:
            break
        other = fill(problem, _floor(problem, master, again.values), Budget(FILL_BUDGET, problem.seed))
        if other is None:
            continue
        if _price(other) < _price(filled):
            found, filled = again, other
        else:
            costly = _costly_lines(problem, master, again.values, other)
            for day, facts in costly:
                model.add_bool_and(~x.literal for x in master.view.days[day].lines if x.facts is facts)
    return found, filled


def _price(filled: Filled) -> tuple[int, int]:
    return filled.breach_points, filled.stand_in_points


def _costly_lines(
    problem: Problem, master: Master, values: tuple[int, ...], filled: Filled
) -> list[tuple[Day, LineFacts]]:
    """Lines whose stand-ins cost more than the least that was counted for them, and that may change."""
    kits = [kit.id for kit in problem.gym.kits[1:]]
    out = []
    for day, v in master.view.days.items():
        locked = problem.locked_pieces(day)
        for x in v.lines:
            piece = "conditioning" if x.facts.scheme is None else "strength"
            if not values[x.literal.index] or piece in locked:
                continue
            if filled.points_by_line[day][x.facts] > sum(
                problem.options.least_points(k, x.facts) for k in kits
            ):
                out.append((day, x.facts))
    return out


def _cut(problem: Problem, master: Master, floor: dict[Day, FloorDay]) -> list[Day]:
    """Forbids the days that cannot be filled by themselves; the whole week where only that cannot."""
    budget = Budget(FILL_BUDGET, problem.seed)
    by_day = rules_of_days(problem)
    alone = [day for day, f in floor.items() if fill(by_day, {day: f}, budget) is None]
    days_differ = any(ban.day for ban in problem.requests.bans)
    if not alone:
        literals = [x for day, f in floor.items() for x in _literals(master, day, f, f.lines)]
        master.model.add_bool_or([~x for x in literals])
        return list(floor)
    for bad in alone:
        f = floor[bad]
        conditioning = tuple(x for x in f.lines if x.piece == "conditioning")
        # Where the conditioning fails whatever the strength piece, it alone is struck; else the whole day.
        whatever = fill(by_day, {bad: replace(f, lines=conditioning)}, budget) is None
        for day in master.view.days:
            if day == bad or not (f.stays or days_differ):
                literals = _literals(master, day, f, conditioning if whatever else f.lines)
                master.model.add_bool_or([~x for x in literals])
    return alone


def _mended(problem: Problem, master: Master, found: Climb, bad: list[Day]) -> Climb | None:
    """A week without what was cut, at least at what cost there is.

    Other lines on those days, then on all; then a week that costs wishes. Where a layer was not proved best,
    such a week is too hard to find, and one that is best on those days alone has to do.
    """
    every = list(master.view.days)
    trials = (bad,) if len(bad) == len(every) else (bad, every)
    for lifted in (False, True) if "wishes" in master.layers else (False,):
        model = master.model.clone()
        if lifted:
            set_value(model, master.ceilings["wishes"], NO_CEILING)
        for days in trials:
            again = _repair(problem, master, found, days, model)
            if again is not None:
                return again
    proved = all(answer.status == "proved" for answer in found.answers.values())
    return None if proved else _best_nearby(problem, master, found, bad)


def _best_nearby(problem: Problem, master: Master, found: Climb, bad: list[Day]) -> Climb | None:
    """With all other days as they are, the least of one layer after the other; ceilings rise to that."""
    model, values = master.model.clone(), found.values
    _hold_other_days(model, master, found, bad)
    for name in master.layers:
        set_value(model, master.ceilings[name], NO_CEILING)
    for name, layer in master.layers.items():
        answer = solve_layer(model, layer, Budget(REPAIR_BUDGET, problem.seed), effort="search")
        if not answer.values:
            return None
        values = tight(master, answer.values)
        set_value(model, master.ceilings[name], value_of(layer, values))
        set_ceiling(master, name, max(found.answers[name].objective, value_of(layer, values)))
    return Climb(found.answers, values, found.seconds)


def _hold_other_days(model: cp_model.CpModel, master: Master, found: Climb, bad: list[Day]) -> None:
    for day, v in master.view.days.items():
        if day not in bad:
            for literal in [*(x.literal for x in v.lines), *(x for _, x in v.shapes)]:
                set_value(model, literal, found.values[literal.index])


def _repair(
    problem: Problem, master: Master, found: Climb, bad: list[Day], base: cp_model.CpModel
) -> Climb | None:
    """Other lines for some days, no layer worse than ``base`` lets it be; None if there are none.

    The bounds of the layers hold on: a cut takes away only weeks that cannot be filled.
    """
    model = base.clone()
    _hold_other_days(model, master, found, bad)
    again = solve_layer(
        model, _stiffness(problem, master, bad), Budget(REPAIR_BUDGET, problem.seed), effort="search"
    )
    if not again.values:
        return None
    return Climb(found.answers, tight(master, again.values), found.seconds)


def _stiffness(problem: Problem, master: Master, days: list[Day]) -> Expr:
    """Least where lines can stretch most: doses that reach far up and down fit almost any time."""
    stretch = {
        c.facts: sum(high - low for low, high in reach.tenths.values()) // max(1, len(reach.tenths))
        for c, reach in zip(problem.options.conditioning, problem.options.reaches, strict=True)
    }
    lines = [x for day in days for x in master.view.days[day].piece("conditioning")]
    return weighted([(x.literal, -stretch[x.facts]) for x in lines])


def _literals(
    master: Master, day: Day, f: FloorDay, lines_meant: tuple[LineFacts, ...]
) -> list[cp_model.IntVar]:
    """The decisions that make lines of a day what they are, with the family of shapes."""
    v, wanted = master.view.days[day], set(lines_meant)
    lines = [x.literal for x in v.lines if x.facts in wanted]
    return [*lines, *(literal for s, literal in v.shapes if s is f.family.lead)]


# Proof ----------------------------------------------------------------------------------------------------


def _proof(problem: Problem, master: Master, found: Climb, filled: Filled) -> Proof:
    """What the layers reached, doses and versions included, against what no week can beat."""
    reached = {name: value_of(expr, found.values) for name, expr in master.measures.items()}
    reached["rules"] += filled.breach_points
    reached["stand-ins"] = filled.stand_in_points
    work: Mapping[str, float] = {name: a.deterministic for name, a in found.answers.items()}
    tiers = []
    for name in master.measures:
        known = found.answers[name].bound if name in found.answers else master.bounds.get(name, 0)
        bound = max(0, min(known, reached[name]))
        gap = round((reached[name] - bound) / max(1, reached[name]), 4)
        tiers.append(
            TierProof(
                name=LAYERS[name],
                objective=reached[name],
                bound=bound,
                gap=gap,
                status="proved" if reached[name] == bound else "not proved",
                seconds=round(work.get(name, 0.0), 2),
            )
        )
    return Proof(
        tiers=tuple(tiers),
        seed=problem.seed,
        solver=f"CP-SAT, OR-Tools {version('ortools')}",
        seconds=round(sum(work.values()) + filled.deterministic, 2),
        variables=len(master.model.proto.variables),
        constraints=len(master.model.proto.constraints),
    )
