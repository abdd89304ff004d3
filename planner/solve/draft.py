"""A week from a problem: lines layer by layer, then doses and kit versions; cut and repeat where those fail."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import ortools
from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.plan import Plan
from planner.domain.week import Proof, TierProof
from planner.problem.problem import Problem
from planner.solve.encode import PricedTerm, encode, true_slack
from planner.solve.floor import floor_view
from planner.solve.search import Budget, LayerAnswer, Status, solve_layer
from planner.solve.versions import Filled, FloorDay, fill, value_of
from planner.solve.view import Expr, ModelView, weighted

Progress = Callable[[str, float], None]
SHARES = {"first": 0.1, "rules": 0.5, "stand-ins": 0.25, "wishes": 0.15}
"""Share of the budget that each layer may use; what one leaves goes to the next."""
SEARCH_SHARE = 0.6
"""Of a layer's share, what is spent on finding good weeks before turning to the bound."""
FILL_BUDGET, REPAIR_BUDGET = 4.0, 1.0
MOST_ROUNDS = 12
"""Cut and repeat at most so often."""
MOST_CHEAP_REPAIRS = 3
"""So many repairs keep every layer where it is; as many more may give up wishes."""
MOST_POLISHED = 4
"""Tries at bringing the stand-ins down to the least that they can cost."""
PREFERRED_DAY_POINTS = 3
LAYERS = {
    "rules": "Rules that may give way",
    "stand-ins": "Stand-ins in the kit versions",
    "wishes": "Wishes: this week's shortlist, hard and easy days",
}


@dataclass(slots=True)
class Drafted:
    """What solving gave.

    Attributes:
        plan: None where the musts leave no week, or none was found.
        proof: how good it is; None without a plan.
        impossible: whether it is certain that there is none.
        timings: seconds by step, for the benchmark.
    """

    plan: Plan | None
    proof: Proof | None
    impossible: bool = False
    timings: dict[str, float] = field(default_factory=dict)


@dataclass(slots=True)
class _Master:
    """The first stage: lines on the gym floor, and the layers of the objective.

    ``ceilings`` hold each layer at what it reached while the next one is solved; they are variables, so that
    they can be lifted again when a cut sends everything back to the first layer.
    """

    model: cp_model.CpModel
    view: ModelView
    priced: list[PricedTerm]
    layers: dict[str, Expr]
    ceilings: dict[str, cp_model.IntVar]


def draft_plan(problem: Problem, seconds: float, progress: Progress = lambda _label, _done: None) -> Drafted:
    """Solves a week.

    Args:
        problem: everything that is known.
        seconds: budget of the solver's own deterministic time, about a second each.
        progress: called with a label and a fraction done.
    """
    start = time.perf_counter()
    progress("Writing down the rules", 0.0)
    master = _master(problem)
    timings = {"build": time.perf_counter() - start, "cuts": 0.0}
    answers = _layers(problem, master, seconds, progress, timings)
    filled = None
    for tries in range(MOST_ROUNDS):
        if answers is None:
            return Drafted(None, None, impossible=timings.get("impossible", 0) > 0, timings=timings)
        floor = _floor(problem, master, answers["wishes"].values)
        progress("Doses and kit versions", 0.92)
        filled = fill(problem, floor, Budget(FILL_BUDGET, problem.seed))
        if filled is not None:
            break
        timings["cuts"] += 1
        bad = _cut(problem, master, floor)
        answers = _mended(problem, master, answers, bad, tries) or _layers(
            problem, master, seconds, progress, timings
        )
    if filled is None or answers is None:
        return Drafted(None, None, timings=timings)
    step = time.perf_counter()
    answers, filled = _polish(problem, master, answers, filled)
    timings["polish"] = time.perf_counter() - step
    timings["total"] = time.perf_counter() - start
    progress("Done", 1.0)
    plan = Plan(week=problem.week, sessions=filled.sessions)
    return Drafted(plan, _proof(problem, master, answers, filled), timings=timings)


def _polish(
    problem: Problem, master: _Master, answers: dict[str, LayerAnswer], filled: Filled
) -> tuple[dict[str, LayerAnswer], Filled]:
    """Other lines for days whose stand-ins cost more than they would have to, as long as no layer gets worse.

    What the first stage counts is the least that stand-ins can cost; where two lines of a piece want the same
    stand-in, or its time does not fit, a day costs more. A week whose days all cost the least is proved best.
    """
    model = master.model.clone()
    for _ in range(MOST_POLISHED):
        costly = _costly_days(problem, master, answers["wishes"].values, filled)
        if not costly:
            break
        floor = _floor(problem, master, answers["wishes"].values)
        for day in costly:
            model.add_bool_or([~x for x in _literals(master, day, floor[day])])
        again = _repair(problem, master, answers, costly, model)
        if again is None:
            break
        other = fill(
            problem, _floor(problem, master, again["wishes"].values), Budget(FILL_BUDGET, problem.seed)
        )
        if other is not None and _price(other) < _price(filled):
            answers, filled = again, other
    return answers, filled


def _price(filled: Filled) -> tuple[int, int]:
    return filled.breach_points, filled.stand_in_points


def _costly_days(problem: Problem, master: _Master, values: tuple[int, ...], filled: Filled) -> list[Day]:
    """Days whose stand-ins cost more than the least that was counted for their lines."""
    kits = [kit.id for kit in problem.gym.kits[1:]]
    out = []
    for day, v in master.view.days.items():
        there = [x.facts for x in v.lines if values[x.literal.index]]
        least = sum(problem.options.least_points(kit, f) for f in there for kit in kits)
        if filled.points_by_day[day] > least:
            out.append(day)
    return out


def _master(problem: Problem) -> _Master:
    model = cp_model.CpModel()
    view = floor_view(problem, model)
    early = tuple(r for r in problem.rules if r.stage != "doses")
    priced = encode(model, view, early, problem.facts)
    layers = {
        "rules": weighted([(t.slack, t.points) for t in priced]),
        "stand-ins": _stand_in_points(problem, view),
        "wishes": _wishes(problem, view),
    }
    ceilings = {}
    for name, objective in layers.items():
        ceilings[name] = model.new_int_var(NO_CEILING, NO_CEILING, f"ceiling/{name}")
        model.add(objective <= ceilings[name])
    return _Master(model, view, priced, layers, ceilings)


NO_CEILING = 1_000_000
"""More points than any week can have."""


def _set_ceiling(master: _Master, name: str, points: int) -> None:
    _set_domain(master.model, master.ceilings[name], points)


def _set_domain(model: cp_model.CpModel, variable: cp_model.IntVar, value: int) -> None:
    domain = model.proto.variables[variable.index].domain
    domain.clear()
    domain.extend([value, value])


def _stand_in_points(problem: Problem, view: ModelView) -> Expr:
    """The least that the versions can cost, over all kits: what each line's best stand-in costs."""
    kits = [kit.id for kit in problem.gym.kits[1:]]
    pairs = []
    for day in view.days.values():
        for x in day.lines:
            points = sum(problem.options.least_points(kit, x.facts) for kit in kits)
            pairs.append((x.literal, points))
    return weighted(pairs)


def _wishes(problem: Problem, view: ModelView) -> Expr:
    pairs: list[tuple[Expr, int]] = []
    for day, v in view.days.items():
        pairs += [(x.literal, 1) for x in v.lines if x.facts.movement.id not in problem.shortlist]
        for hardness, days in (("hard", problem.gym.hard_days), ("easy", problem.gym.easy_days)):
            if day in days:
                pairs.append((1 - view.hard_or_easy(day, hardness), PREFERRED_DAY_POINTS))
    return weighted(pairs)


def _layers(
    problem: Problem, master: _Master, seconds: float, progress: Progress, timings: dict[str, float]
) -> dict[str, LayerAnswer] | None:
    """Every layer in order, each held at what it reached; None where there is no week."""
    for name in master.layers:
        _set_ceiling(master, name, NO_CEILING)
    left = seconds * SHARES["first"]
    progress("A first week", 0.05)
    first = solve_layer(master.model, None, Budget(max(left, 10.0), problem.seed))
    timings["first"] = first.seconds
    if not first.values:
        timings["impossible"] = float(first.status == "impossible")
        return None
    answers: dict[str, LayerAnswer] = {"first": first}
    left = max(0.0, left - first.deterministic)
    last, done = replace(_tight(master, first), seconds=0.0, deterministic=0.0), 0.25
    for name, objective in master.layers.items():
        progress(LAYERS[name], done)
        left += seconds * SHARES[name]
        answer = _layer(problem, master, objective, replace(last, seconds=0.0, deterministic=0.0), left)
        left = max(0.0, left - answer.deterministic)
        timings[name] = answer.seconds
        answers[name] = last = answer
        _set_ceiling(master, name, answer.objective)
        done += SHARES[name]
    return answers


def _layer(
    problem: Problem, master: _Master, objective: Expr, last: LayerAnswer, budget: float
) -> LayerAnswer:
    """One layer: good weeks first, then the bound; never worse than the week in hand."""
    search = solve_layer(
        master.model, objective, Budget(budget * SEARCH_SHARE, problem.seed), last.values, effort="search"
    )
    best = _better(master, objective, last, search)
    if best.status == "proved":
        return best
    rest = Budget(max(0.0, budget - search.deterministic), problem.seed)
    return _better(master, objective, best, solve_layer(master.model, objective, rest, best.values))


def _better(master: _Master, objective: Expr, last: LayerAnswer, new: LayerAnswer) -> LayerAnswer:
    """The new week, or the one in hand where a search came back with nothing or no better."""
    seconds, work = last.seconds + new.seconds, last.deterministic + new.deterministic
    values = _tight(master, new).values if new.values else last.values
    if value_of(objective, values) > value_of(objective, last.values):
        values = last.values
    reached = value_of(objective, values)
    bound = min(reached, new.bound if new.values else 0)
    status: Status = "proved" if bound == reached else "not proved"
    return LayerAnswer(status, reached, bound, values, seconds, 0.0, work)


def _tight(master: _Master, answer: LayerAnswer) -> LayerAnswer:
    """The same week with every slack pressed down to the true measure."""
    values = list(answer.values)
    for t in master.priced:
        values[t.slack.index] = true_slack(t, value_of(t.term.expr, answer.values))
    return replace(answer, values=tuple(values))


def _floor(problem: Problem, master: _Master, values: tuple[int, ...]) -> dict[Day, FloorDay]:
    """What the first stage chose."""
    out = {}
    for day, v in master.view.days.items():
        lead = next(s for s, literal in v.shapes if values[literal.index])
        family = next(f for f in problem.options.families if f.lead is lead)
        out[day] = FloorDay(family, tuple(x.facts for x in v.lines if values[x.literal.index]))
    return out


def _cut(problem: Problem, master: _Master, floor: dict[Day, FloorDay]) -> list[Day]:
    """Forbids the days that cannot be filled by themselves; the whole week where only that cannot."""
    budget = Budget(FILL_BUDGET, problem.seed)
    alone = [day for day, f in floor.items() if fill(problem, {day: f}, budget) is None]
    if not alone:
        literals = [x for day, f in floor.items() for x in _literals(master, day, f)]
        master.model.add_bool_or([~x for x in literals])
        return list(floor)
    for bad in alone:
        for day in master.view.days:
            master.model.add_bool_or([~x for x in _literals(master, day, floor[bad])])
    return alone


def _mended(
    problem: Problem, master: _Master, answers: dict[str, LayerAnswer], bad: list[Day], tries: int
) -> dict[str, LayerAnswer] | None:
    """A repair that costs nothing; after some tries one that may cost wishes; None when it is time to start over."""
    if tries >= 2 * MOST_CHEAP_REPAIRS:
        return None
    if tries >= MOST_CHEAP_REPAIRS:
        _set_ceiling(master, "wishes", NO_CEILING)
    return _repair(problem, master, answers, bad)


def _repair(
    problem: Problem,
    master: _Master,
    answers: dict[str, LayerAnswer],
    bad: list[Day],
    base: cp_model.CpModel | None = None,
) -> dict[str, LayerAnswer] | None:
    """Other lines for the days that a cut struck, all else as it is and no layer worse; None if there are none.

    The bounds of the layers hold on: a cut takes away only weeks that cannot be filled.
    """
    last = answers["wishes"]
    model = (base or master.model).clone()
    for day, v in master.view.days.items():
        if day not in bad:
            for literal in [*(x.literal for x in v.lines), *(x for _, x in v.shapes)]:
                _set_domain(model, literal, last.values[literal.index])
    again = solve_layer(
        model, _stiffness(problem, master, bad), Budget(REPAIR_BUDGET, problem.seed), effort="search"
    )
    if not again.values:
        return None
    tight = _tight(master, again)
    return {**answers, "wishes": replace(last, values=tight.values)}


def _stiffness(problem: Problem, master: _Master, days: list[Day]) -> Expr:
    """Least where lines can stretch most: doses that reach far up and down fit almost any time."""
    stretch = {
        c.facts: sum(high - low for low, high in reach.tenths.values()) // len(reach.tenths)
        for c, reach in zip(problem.options.conditioning, problem.options.reaches, strict=True)
    }
    lines = [x for day in days for x in master.view.days[day].piece("conditioning")]
    return weighted([(x.literal, -stretch[x.facts]) for x in lines])


def _literals(master: _Master, day: Day, f: FloorDay) -> list[cp_model.IntVar]:
    """The decisions that make a day's conditioning what it is."""
    v, wanted = master.view.days[day], {x for x in f.lines if x.piece == "conditioning"}
    lines = [x.literal for x in v.lines if x.facts in wanted]
    return [*lines, *(literal for s, literal in v.shapes if s is f.family.lead)]


def _proof(problem: Problem, master: _Master, answers: dict[str, LayerAnswer], filled: Filled) -> Proof:
    """What the layers reached, doses and versions included, against what no week can beat."""
    final = answers["wishes"].values
    reached = {name: value_of(master.layers[name], final) for name in LAYERS}
    reached["rules"] += filled.breach_points
    reached["stand-ins"] = filled.stand_in_points
    tiers = []
    for name, label in LAYERS.items():
        bound = max(0, min(answers[name].bound, reached[name]))
        gap = round((reached[name] - bound) / max(1, reached[name]), 4)
        tiers.append(
            TierProof(
                name=label,
                objective=reached[name],
                bound=bound,
                gap=gap,
                status="proved" if reached[name] == bound else "not proved",
                seconds=round(answers[name].deterministic, 2),
            )
        )
    return Proof(
        tiers=tuple(tiers),
        seed=problem.seed,
        solver=f"CP-SAT, OR-Tools {ortools.__version__}",
        seconds=round(sum(a.deterministic for a in answers.values()) + filled.deterministic, 2),
        variables=len(master.model.proto.variables),
        constraints=len(master.model.proto.constraints),
    )
