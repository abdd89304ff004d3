"""Tiny models solved to the last week: fixed weeks, and lists of all weeks."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.line import LineFacts
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.rules.base import AuditDay, Term
from planner.solve.model.decisions import lines_view
from planner.solve.model.rows import PricedTerm, true_slack, write_rules
from planner.solve.model.versions import DayModel, FloorDay
from planner.solve.model.view import DayVars, ModelView, value_of
from tests.oracle import FloorLines

LineKey = tuple[str, str, str, str]
DayKey = tuple[frozenset, str]
WeekKey = tuple[DayKey, ...]


def line_key(f: LineFacts) -> LineKey:
    """A line told apart from every other of its day."""
    return f.piece, f.movement.id, f.tier, f.scheme.id if f.scheme else ""


class _Listing(cp_model.CpSolverSolutionCallback):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[int, ...]] = []

    def on_solution_callback(self) -> None:
        self.found.append(tuple(self.response_proto.solution))


def all_solutions(model: cp_model.CpModel) -> list[tuple[int, ...]]:
    """Every solution there is; nothing short of all of them is accepted."""
    solver, listing = cp_model.CpSolver(), _Listing()
    solver.parameters.enumerate_all_solutions = True
    solver.parameters.num_workers = 1
    status = solver.solve(model, listing)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE), solver.status_name(status)
    return listing.found


def least(model: cp_model.CpModel, objective: Any = None) -> tuple[int, tuple[int, ...]] | None:
    """The least value of an objective and its solution; None where there is exactly no solution."""
    if objective is None:
        model.clear_objective()
    else:
        model.minimize(objective)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL, f"{solver.status_name(status)}: {model.validate()}"
    return round(solver.objective_value), tuple(solver.response_proto.solution)


# The first stage ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Floor:
    """The first stage's model of a tiny problem, with one rule or none."""

    problem: Problem
    model: cp_model.CpModel
    view: ModelView
    priced: list[PricedTerm]

    @classmethod
    def of(cls, problem: Problem, *rules: Rule) -> Floor:
        model = cp_model.CpModel()
        view = lines_view(problem, model)
        return cls(problem, model, view, write_rules(model, view, rules, problem, stage_exact=False))

    def fix(self, week: Iterable[DayKey]) -> None:
        """Sets every decision to what a week says."""
        for v, (lines, lead) in zip(self.view.days.values(), week, strict=True):
            pairs = [(x.literal, line_key(x.facts) in lines) for x in v.lines]
            pairs += [(literal, s.id == lead) for s, literal in v.shapes]
            for literal, there in pairs:
                self.model.add(literal == int(there))

    def read(self, values: tuple[int, ...]) -> WeekKey:
        """The week of a solution."""
        return tuple(
            (
                frozenset(line_key(x.facts) for x in v.lines if values[x.literal.index]),
                next(s.id for s, literal in v.shapes if values[literal.index]),
            )
            for v in self.view.days.values()
        )


def key_of(day: FloorLines) -> DayKey:
    return frozenset(line_key(f) for f in day.lines), day.family.lead.id


def key_of_audited(problem: Problem, day: AuditDay) -> DayKey:
    """The same from a day as written by hand."""
    lead = next(f.lead for f in problem.options.families if day.shape in f.members)
    return frozenset(line_key(x.facts) for x in day.lines), lead.id


# The second stage ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Doses:
    """The second stage's model: lines are given, doses, shapes and stand-ins are not."""

    problem: Problem
    model: cp_model.CpModel
    days: dict[Day, DayModel]
    views: dict[str, ModelView]

    @classmethod
    def of(cls, problem: Problem, week: Iterable[FloorLines]) -> Doses | None:
        """None where a line has no dose or no stand-in at all."""
        model = cp_model.CpModel()
        given = zip(problem.gym.days, week, strict=True)
        days = {day: DayModel(problem, model, day, FloorDay(f.family, f.lines)) for day, f in given}
        if not all(d.possible for d in days.values()):
            return None
        views = {}
        for kit in problem.gym.kits:
            lines = {
                day: DayVars(
                    day,
                    list(d.floor) if kit is problem.gym.kits[0] else [c.line for c in d.kits[kit.id]],
                    list(d.shapes),
                )
                for day, d in days.items()
            }
            views[kit.id] = ModelView(model, lines, floor=kit is problem.gym.kits[0])
        return cls(problem, model, days, views)

    def priced(self, rule: Rule, kit: str) -> list[PricedTerm]:
        facts = replace(self.problem.facts, days=tuple(self.days))
        return write_rules(self.model, self.views[kit], (rule,), replace(self.problem, facts=facts))

    def terms(self, rule: Rule, kit: str) -> list[Term]:
        facts = replace(self.problem.facts, days=tuple(self.days))
        return list(rule.encode(self.views[kit], facts))

    def read(self, kit: str, values: tuple[int, ...]) -> tuple[tuple[frozenset, str], ...]:
        """Lines with their doses, and the shape, of each day in a kit version."""
        out = []
        for v in self.views[kit].days.values():
            lines = frozenset(
                (*line_key(x.facts), d.choice.dose)
                for x in v.lines
                if values[x.literal.index]
                for d in x.doses
                if values[d.literal.index]
            )
            out.append((lines, next(s.id for s, literal in v.shapes if values[literal.index])))
        return tuple(out)


def measured(terms: Iterable[Term], value: Callable[[Any], int]) -> dict[str, int]:
    """Breach by place, from the terms of one solution."""
    out: dict[str, int] = {}
    for t in terms:
        steps = true_slack(PricedTerm("", t, None, 0), value(t.expr))  # type: ignore[arg-type]
        if steps:
            out[t.place] = out.get(t.place, 0) + steps * t.scale
    return out


def by_value(values: tuple[int, ...]) -> Callable[[Any], int]:
    return lambda expr: value_of(expr, values)
