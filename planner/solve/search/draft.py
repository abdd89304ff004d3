"""A week from a problem: lines layer by layer, then doses and versions; cut and repeat until both agree."""

from __future__ import annotations

import time
from collections.abc import Iterable
from dataclasses import dataclass, field
from importlib.metadata import version
from itertools import chain, combinations

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.line import LineFacts
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.week import Proof, TierProof
from planner.problem.problem import Problem
from planner.problem.requirements import NEAR, without
from planner.solve.model.master import (
    ASIDE,
    LAYERS,
    Master,
    build_master,
    least_of,
    set_ceiling,
    set_value,
    switch,
)
from planner.solve.model.versions import FloorDay
from planner.solve.model.view import value_of, weighted
from planner.solve.search import cuts
from planner.solve.search.fill import FILL_BUDGET, Filled, Infeasible, Unknown, fill, floor_of
from planner.solve.search.lexicographic import NoWeek, Reached, bounds_that_hold, solve_layers
from planner.solve.search.repair import REPAIR_BUDGET, other_lines
from planner.solve.search.solver import Budget, solve_layer, verdict
from planner.solve.search.week_in_hand import hold_other_days, tight

NO_WEEK = 10**9
"""Points where no week was found: more than any week has."""
ROUND = 0.02
"""What a round of filling and cutting counts for at least."""
MORE_TIME = 4
"""A filling that came to nothing in its time gets so many times as much."""
MOST_REPAIRS = 6
"""So many repairs are tried before the layers are solved again."""
AGAIN_SHARE = 0.5
"""Of the budget, what solving them again may take."""
MOST_LATE, LATE_WORK = 8, 1.0
"""Climbs, and the work of each, beyond the budget where it filled no week: any week is better than none."""
MOST_POLISHED = 8
"""Tries at bringing the stand-ins down to the least that they can cost."""


@dataclass(slots=True)
class Drafted:
    """What solving gave.

    Attributes:
        plan: None where the musts leave no week, or none was found.
        proof: how good it is; None without a plan.
        impossible: whether it is proved that there is none.
        timings: seconds by step, for the benchmark; they add up to ``total``.
        kept: for a redraft: pieces of the base plan that stay, by day and piece.
        lifted: ids of requirements that were given up unasked, since no week keeps them.
        master: the model with its cuts, for the search for clashes.
        work: deterministic seconds that it took.
    """

    plan: Plan | None
    proof: Proof | None
    impossible: bool = False
    timings: dict[str, float] = field(default_factory=dict)
    kept: frozenset[tuple[Day, str]] = frozenset()
    lifted: tuple[str, ...] = ()
    master: Master | None = None
    work: float = 0.0


def draft_plan(problem: Problem, seconds: float, progress: Progress = quiet) -> Drafted:
    """Solves a week; what lifts itself is lifted where no week keeps it.

    Args:
        problem: everything that is known.
        seconds: budget of the solver's own deterministic time, about a second each.
        progress: called with a label and a fraction done.
    """
    start = time.perf_counter()
    progress("Writing down the rules", 0.0)
    master = build_master(problem)
    timings = {"build": time.perf_counter() - start}
    return finish(master, seconds, progress, timings)


def finish(
    master: Master, seconds: float, progress: Progress = quiet, timings: dict[str, float] | None = None
) -> Drafted:
    """From a first-stage model to a whole week."""

    def drafted(lifted: tuple[str, ...], *passed_over: str) -> Drafted:
        switch(master, (name for name in master.guards if name not in {*lifted, *passed_over}))
        problem = without(master.problem, lifted)
        found = _Drafting(master, problem, seconds, progress, dict(timings or {})).run()
        found.lifted, found.master = lifted, master
        return found

    spare = [r.id for r in master.requirements if r.lifts_itself]
    found, work = Drafted(None, None), 0.0
    for lifted in chain.from_iterable(combinations(spare, n) for n in range(len(spare) + 1)):
        found = drafted(lifted)
        work += found.work
        if found.plan is not None or not found.impossible:
            break
    if found.plan is None and not found.impossible and NEAR not in found.lifted:
        further = drafted((*found.lifted, NEAR), ASIDE)  # other stand-ins are better than no week
        work += further.work
        found = found if further.plan is None else further
    found.work = work
    return found


def least_points(problem: Problem, seconds: float) -> tuple[int, int]:
    """The least that the weighted rules cost in any week found, and what no week is below.

    Args:
        problem: everything that is known; musts that it loosens may be broken by one unit in one place.
        seconds: deterministic budget.
    """
    master = build_master(problem)
    master.layers = {"rules": master.layers["rules"]}
    drafted = finish(master, seconds)
    if drafted.proof is None:
        return NO_WEEK, 0
    rules = next(t for t in drafted.proof.tiers if t.name == LAYERS["rules"])
    return rules.objective, rules.bound


@dataclass(frozen=True, slots=True)
class _Whole:
    """A week with everything, and what it truly costs, layer by layer."""

    found: Reached
    filled: Filled
    reached: dict[str, int]


class _Drafting:
    """One run: solve, fill, cut, until the filled week costs what the first stage said, or the time is up."""

    def __init__(
        self, master: Master, problem: Problem, seconds: float, progress: Progress, timings: dict[str, float]
    ) -> None:
        self.master, self.problem, self.seconds, self.progress = master, problem, seconds, progress
        self.timings = timings
        self.left = seconds * AGAIN_SHARE
        self.aside, self.cut_days, self.repairs, self.polished = False, 0, 0, 0
        self.late = 0
        self.walled, self.work = False, 0.0
        self.best: _Whole | None = None
        self.last: Reached | None = None

    def run(self) -> Drafted:
        start = time.perf_counter()
        step = solve_layers(self.master, self.problem.seed, self.seconds, self.progress)
        self.work += step.work
        self.timings["lines"] = time.perf_counter() - start
        while isinstance(step, Reached):
            self.last, self.walled = step, self.walled or step.walled
            self.progress("Doses and kit versions", 0.92)
            following = self._fill(step)
            if following is None:
                break
            step = following
        self.timings["versions"] = time.perf_counter() - start - self.timings["lines"]
        self.timings["total"] = self.timings.get("build", 0.0) + time.perf_counter() - start
        if self.best is None:
            certain = isinstance(step, NoWeek) and step.certain and not self.aside
            return Drafted(None, None, impossible=certain, timings=self.timings, work=self.work)
        self.progress("Done", 1.0)
        plan = Plan(week=self.problem.week, sessions=self.best.filled.sessions)
        values = self.best.found.values
        kept = frozenset(key for key, expr in self.master.kept.items() if value_of(expr, values))
        return Drafted(plan, self._proof(self.best), timings=self.timings, kept=kept, work=self.work)

    def _fill(self, found: Reached) -> Reached | NoWeek | None:
        """Fills a week's lines; the next week to try, or None where nothing is to gain or no time left."""
        master, problem = self.master, self.problem
        floor = floor_of(master, problem, found.values)
        filled = fill(problem, floor)
        if isinstance(filled, Unknown):
            filled = fill(problem, floor, FILL_BUDGET * MORE_TIME)
        self.left -= ROUND + filled.deterministic
        self.work += ROUND + filled.deterministic
        if isinstance(filled, Filled):
            whole = _Whole(found, filled, self._reached(found, filled))
            if self._allowed(whole) and (self.best is None or _better(whole, self.best)):
                self.best = whole
            return self._cheaper(found, floor, filled)
        if isinstance(filled, Infeasible):
            bad = cuts.cut(master, problem, floor)
        else:
            self.aside = True
            cuts.set_aside(master, floor)
            bad = list(floor)
        self.cut_days += 1
        if self.best is not None and self.left <= 0:
            return None
        mended = _mended(problem, master, found, bad) if self.repairs < MOST_REPAIRS else None
        self.repairs += 1
        return mended or self._again(found)

    def _again(self, found: Reached) -> Reached | NoWeek | None:
        """Climbs all layers once more under the new cuts; None where the time is up."""
        if self.left <= 0:
            if self.best is not None or self.late == MOST_LATE:
                return NoWeek(certain=False) if self.best is None else None
            self.late += 1
        work = max(self.left, LATE_WORK)
        step = solve_layers(self.master, self.problem.seed, work, self.progress, known=found.answers)
        self.work += step.work
        if isinstance(step, Reached):
            self.left -= sum(a.deterministic for a in step.answers.values())
        return step

    def _cheaper(self, found: Reached, floor: dict[Day, FloorDay], filled: Filled) -> Reached | NoWeek | None:
        """Another week that may be cheaper, where this one costs more than the first stage counted for it."""
        counted = {name: value_of(expr, found.values) for name, expr in self.master.measures.items()}
        reached = self._reached(found, filled)
        if all(reached[name] <= counted[name] for name in counted):
            return None
        if not cuts.price_lines(self.master, self.problem, floor, found.values, filled):
            return None
        if self.polished < MOST_POLISHED:
            self.polished += 1
            costly = _costly_days(self.problem, self.master, found.values, filled)
            nearby = _nearby(self.problem, self.master, found, costly)
            if nearby is not None:
                return nearby
        return self._again(found)

    def _reached(self, found: Reached, filled: Filled) -> dict[str, int]:
        """What a week truly costs: what its lines decide, and what its filling does."""
        values = found.values
        reached = {name: value_of(expr, values) for name, expr in self.master.measures.items()}
        exact = [(t.slack, t.points) for t in self.master.priced if t.exact]
        return reached | {
            "rules": value_of(weighted(exact), values) + filled.breach_points,
            "stand-ins": filled.stand_in_points,
        }

    def _allowed(self, whole: _Whole) -> bool:
        """Whether a week keeps to what is held of measures that are not minimised here."""
        held = self.master.measures.keys() - self.master.layers.keys()
        return all(whole.reached[name] <= self._ceiling(name) for name in held)

    def _ceiling(self, name: str) -> int:
        return int(list(self.master.model.proto.variables[self.master.ceilings[name].index].domain)[-1])

    def _proof(self, best: _Whole) -> Proof:
        """What the layers reached against what no week can beat.

        The bound of a layer holds among weeks that are no worse in the layers before than what those were
        held at; where the week is worse in one of them, nothing is known of the layers after it.
        """
        known = self.last.answers if self.last else best.found.answers
        hold = bounds_that_hold(known, best.reached)
        tiers = []
        for name, expr in self.master.measures.items():
            least = max(0, least_of(self.master.model, expr))
            elsewhere = {} if name in known else self.master.bounds
            bound = max(least, hold.get(name, elsewhere.get(name, least)))
            work = known[name].deterministic if name in known else 0.0
            tiers.append(_tier(name, best.reached[name], bound, work))
        return Proof(
            tiers=tuple(tiers),
            seed=self.problem.seed,
            solver=f"CP-SAT, OR-Tools {version('ortools')}",
            seconds=round(sum(a.deterministic for a in known.values()) + best.filled.deterministic, 2),
            walled=self.walled,
            variables=len(self.master.model.proto.variables),
            constraints=len(self.master.model.proto.constraints),
        )


def _tier(name: str, reached: int, bound: int, seconds: float) -> TierProof:
    return TierProof(
        name=LAYERS[name],
        objective=reached,
        bound=bound,
        gap=round((reached - bound) / max(1, reached), 4),
        status="proved" if verdict(reached, bound) == "proved" else "not proved",
        seconds=round(seconds, 2),
    )


def _better(one: _Whole, other: _Whole) -> bool:
    return list(one.reached.values()) < list(other.reached.values())


# Mending ------------------------------------------------------------------------------------------------


def _nearby(problem: Problem, master: Master, found: Reached, days: Iterable[Day]) -> Reached | None:
    """Other lines for some days, no dearer than the layers are held at; wishes may go for stand-ins."""
    model = master.model.clone()
    again = _repair(problem, master, found, list(days), model)
    if again is None and "wishes" in master.layers:
        set_ceiling(master, "wishes", None, model)
        again = _repair(problem, master, found, list(days), model)
    return again


def _costly_days(problem: Problem, master: Master, values: tuple[int, ...], filled: Filled) -> list[Day]:
    """Days that may change and whose stand-ins cost more than the least counted for them; else all."""
    out = []
    for day, v in master.view.days.items():
        locked, barred = problem.locked_pieces(day), problem.banned_on(day)
        for x in v.lines:
            piece = "conditioning" if x.facts.scheme is None else "strength"
            if (
                values[x.literal.index]
                and piece not in locked
                and _costs_more(problem, day, x.facts, filled, barred)
            ):
                out.append(day)
                break
    return out or list(master.view.days)


def _costs_more(problem: Problem, day: Day, facts: LineFacts, filled: Filled, barred: frozenset[str]) -> bool:
    least = sum(problem.options.least_points(kit.id, facts, barred) for kit in problem.gym.kits[1:])
    return filled.points_by_line[day][facts] > least


def _mended(problem: Problem, master: Master, found: Reached, bad: list[Day]) -> Reached | None:
    """A week without what was cut, at least at what cost there is.

    Other lines on those days, then on all; then a week that costs wishes. Where a layer was not proved best,
    such a week is too hard to find, and one that is best on those days alone has to do.
    """
    every = list(master.view.days)
    trials = (bad,) if len(bad) == len(every) else (bad, every)
    for lifted in (False, True) if "wishes" in master.layers else (False,):
        model = master.model.clone()
        if lifted:
            set_ceiling(master, "wishes", None, model)
        for days in trials:
            again = _repair(problem, master, found, days, model)
            if again is not None:
                return again
    proved = all(answer.status == "proved" for answer in found.answers.values())
    return None if proved else _best_nearby(problem, master, found, bad)


def _best_nearby(problem: Problem, master: Master, found: Reached, bad: list[Day]) -> Reached | None:
    """With all other days as they are, the least of one layer after the other; ceilings rise to that."""
    model, values = master.model.clone(), found.values
    hold_other_days(model, master, found.values, bad)
    for name in master.layers:
        set_ceiling(master, name, None, model)
    for name, layer in master.layers.items():
        answer = solve_layer(model, layer, Budget(REPAIR_BUDGET, problem.seed), effort="search")
        if not answer.values:
            return None
        values = tight(master, answer.values)
        set_value(model, master.ceilings[name], value_of(layer, values))
    for name, layer in master.layers.items():
        set_ceiling(master, name, max(found.answers[name].objective, value_of(layer, values)))
    return Reached(found.answers, values)


def _repair(
    problem: Problem, master: Master, found: Reached, days: list[Day], base: cp_model.CpModel
) -> Reached | None:
    """Other lines for some days, no layer worse than ``base`` lets it be; None if there are none.

    The bounds of the layers hold on: a cut takes away only weeks that cannot be filled.
    """
    again = other_lines(problem, master, found.values, days, base)
    if not again.values:
        return None
    return Reached(found.answers, tight(master, again.values))
