"""One layer of the objective after another: parameters, statuses, reading the answer."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from math import ceil
from typing import Any, Literal, TypeVar

from ortools.sat.python import cp_model

from planner.errors import SolverFault
from planner.rules.base import Expr
from planner.solve.model.view import value_of
from planner.stopping import stoppable

Status = Literal["proved", "not proved", "impossible", "undecided"]
NO_END = 2**52
"""More than any objective."""


@dataclass(frozen=True, slots=True)
class Budget:
    """How long a search may take.

    Attributes:
        deterministic: the solver's own measure of work; about a second each; the same on every machine.
        seed: of the search.
        wall_s: a wall-clock stop as a last resort; reaching it makes the answer unrepeatable, and is said.
    """

    deterministic: float
    seed: int
    wall_s: float = 300.0


@dataclass(frozen=True, slots=True)
class LayerAnswer:
    """What a search of one layer gave.

    Attributes:
        status: proved, not proved (a week, but no proof), impossible, undecided (no week in the time).
        objective: of the best week found.
        bound: no week is below; proved means that the two are equal, and nothing else does.
        values: of every variable, by index; empty without a week.
        seconds: wall clock.
        deterministic: work used.
        walled: whether the wall-clock stop ended the search, so that another run may end elsewhere.
    """

    status: Status
    objective: int
    bound: int
    values: tuple[int, ...]
    seconds: float
    deterministic: float
    walled: bool = False


AT_ONCE = 2
"""So many questions that do not hang on each other are asked at once, each in a thread of its own."""
Question = TypeVar("Question")
Answer = TypeVar("Answer")
Effort = Literal["any", "search", "proof", "both"]
"""Any week; a good week soon; a bound that says how good it can get; or both, where neither is near."""
SEARCHES: dict[Effort, tuple[str, ...]] = {
    "any": ("no_lp",),
    "search": ("no_lp",),
    "proof": ("max_lp",),
    "both": ("max_lp", "no_lp"),
}
"""Full searches that take turns with the neighbourhoods: without linear relaxation, and with all of it."""
BATCH = 3
"""So many pieces of work are handed out at a time, in a fixed order: as repeatable as one, no core idle."""
TOLERANCE = 1e-6
"""The solver's bound is a float; one that is above a whole number by less than this is that number."""
WALL_REACHED = 0.9
"""Of the wall-clock stop: a search that broke off later than this, with work left, ran into it."""


def parameters(budget: Budget, effort: Effort, *, presolve: bool = True) -> cp_model.CpSolver:
    """A solver set to be repeatable: strategies take turns in a fixed order; work is counted, not seconds.

    Full searches and neighbourhood search take turns: without linear relaxation a week is found sooner, with
    as much of it as there is a bound. Layers of a whole week want both (measured on four scarce gyms open all
    days: each rules layer proved with 2.2 to 4.1 of work; by one full search two open after 7); doses and
    kit versions, which are soon had, are dearer that way. One pass of presolve without a search for common
    parts of rows: measured on the demo gym, more costs a second and saves none. Without presolve it is one
    plain search: another way to the same answer, for a second opinion.
    """
    solver = cp_model.CpSolver()
    p = solver.parameters
    p.random_seed = budget.seed % 2**31
    p.max_deterministic_time = budget.deterministic
    p.max_time_in_seconds = budget.wall_s
    p.cp_model_probing_level = 0
    p.symmetry_level = 0
    p.max_presolve_iterations = 1
    p.find_big_linear_overlap = False
    p.cp_model_presolve = presolve
    p.catch_sigint_signal = False  # Ctrl-C ends the whole command, and from several threads it would crash
    if presolve:
        p.subsolvers.extend(SEARCHES[effort])
        p.num_workers = len(p.subsolvers) + 1  # and neighbourhood search
        p.interleave_search = True
        p.interleave_batch_size = BATCH if effort in {"any", "proof", "both"} else 1
    else:
        p.num_workers = 1  # taking turns over a model that was not presolved, the solver may abort
    return solver


def _run(
    model: cp_model.CpModel,
    budget: Budget,
    hint: Sequence[int],
    effort: Effort,
    *,
    presolve: bool,
) -> tuple[cp_model.CpSolver, Any]:
    """One solve; another way where the solver itself trips.

    OR-Tools 9.15 can throw out of a presolve that carries a hint along (google/or-tools issue 5288). Which
    solves it strikes is repeatable, so trying the other strategy, and then no hint, is repeatable too.

    Raises:
        SolverFault: every way tripped.
    """
    other: Effort = "proof" if effort == "search" else "search"
    ways: list[tuple[Effort, Sequence[int]]] = [(effort, hint), (effort, ())]
    if effort != "any":
        ways.insert(1, (other, hint))
    for way, start_from in ways:
        model.clear_hints()  # type: ignore[no-untyped-call]
        if start_from:  # even an empty hint is one, and makes the solver abort where there is no solution
            model.proto.solution_hint.vars.extend(range(len(start_from)))
            model.proto.solution_hint.values.extend(start_from)
        solver = parameters(budget, way, presolve=presolve)
        try:
            with stoppable(solver.stop_search):
                return solver, solver.solve(model)
        except IndexError:
            continue
    raise SolverFault("The solver tripped over this week whichever way it was asked; please report this.")


def solve_layer(
    model: cp_model.CpModel,
    objective: Expr | None,
    budget: Budget,
    hint: Sequence[int] = (),
    effort: Effort = "proof",
    *,
    presolve: bool = True,
    bound: int | None = None,
) -> LayerAnswer:
    """Minimises one layer, or finds any week where ``objective`` is None.

    Args:
        model: the model; what it minimised before, and its hint, go.
        objective: of the layer.
        budget: of the search.
        hint: a solution to start from, by index of the variable. It has to be one: a hint to a model without
            a solution can make OR-Tools 9.15 abort the process.
        effort: what the search is for.
        presolve: False for a second opinion by one plain search.
        bound: proved before, of this objective over this model: the search ends as soon as it is met.

    Raises:
        SolverFault: the model is invalid, or the solver contradicts itself; a fault of ours or the solver's.
    """
    model.clear_objective()  # type: ignore[no-untyped-call]
    if objective is not None:
        model.minimize(objective)
        if bound is not None and not isinstance(objective, int):
            goal = model.proto.objective
            goal.domain.extend([bound - round(goal.offset), NO_END])
    wanted: Effort = "any" if objective is None else effort
    start = time.perf_counter()
    solver, status = _run(model, budget, hint, wanted, presolve=presolve)
    seconds, work = time.perf_counter() - start, solver.response_proto.deterministic_time
    if status == cp_model.MODEL_INVALID:
        raise SolverFault(f"The model is invalid; please report this.\n{model.validate()}")
    if status == cp_model.INFEASIBLE:
        return LayerAnswer("impossible", 0, 0, (), seconds, work)
    done = status == cp_model.OPTIMAL
    walled = not done and work < budget.deterministic and seconds >= WALL_REACHED * budget.wall_s
    if status == cp_model.UNKNOWN:
        return LayerAnswer("undecided", 0, 0, (), seconds, work, walled)
    values = tuple(solver.response_proto.solution)
    if objective is None:
        return LayerAnswer("proved", 0, 0, values, seconds, work, walled)
    reached, least = round(solver.objective_value), ceil(solver.best_objective_bound - TOLERANCE)
    if bound is not None:
        least = max(least, bound)
    if value_of(objective, values) != reached or (done and least != reached):
        raise SolverFault(f"The solver says {reached} and {least} of one best week; please report this.")
    return LayerAnswer(verdict(reached, least), reached, least, values, seconds, work, walled)


def verdict(reached: int, bound: int) -> Status:
    """Whether a week is proved best: its value is its bound, whatever the solver calls it.

    Raises:
        SolverFault: a bound above what was reached, so one of the two is wrong.
    """
    if bound > reached:
        raise SolverFault(
            f"A week with {reached} was found where none below {bound} can be; please report this."
        )
    return "proved" if bound == reached else "not proved"


def at_once(ask: Callable[[Question], Answer], questions: Iterable[Question]) -> Iterator[Answer]:
    """Answers, in the order of the questions, to such as do not hang on each other."""
    with ThreadPoolExecutor(AT_ONCE) as pool:
        yield from pool.map(ask, questions)


@dataclass(frozen=True, slots=True)
class Core:
    """Indices of guards that cannot all be true, none where the solver cannot tell; and the work it took."""

    core: tuple[int, ...]
    deterministic: float


def core_of(model: cp_model.CpModel, guards: Sequence[cp_model.IntVar], budget: Budget) -> Core:
    """Guards that cannot all be true; not the smallest set.

    One plain search: where strategies take turns, assumptions are passed over (google/or-tools issue 4875).
    """
    trial = model.clone()
    trial.add_assumptions(guards)
    solver = parameters(budget, "any", presolve=False)
    with stoppable(solver.stop_search):
        status = solver.solve(trial)
    known = solver.sufficient_assumptions_for_infeasibility() if status == cp_model.INFEASIBLE else ()
    return Core(tuple(known), solver.response_proto.deterministic_time)
