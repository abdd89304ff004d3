"""Doses and kit versions for given lines, or the word that there are none, or that the time was too short."""

from __future__ import annotations

from dataclasses import dataclass

from planner.domain.gym import Day
from planner.domain.line import LineFacts
from planner.domain.plan import SessionPlan
from planner.problem.problem import Problem
from planner.solve.model.master import Master
from planner.solve.model.versions import FloorDay, build_versions, points_by_line, session_of
from planner.solve.model.view import value_of, weighted
from planner.solve.search.solver import Budget, solve_layer

FILL_BUDGET = 4.0
"""Deterministic seconds for one filling."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A week with all its doses and kit versions.

    Attributes:
        sessions: in day order.
        breach_points: of weighted rules measured here.
        stand_in_points: of all stand-ins.
        points_by_line: of each floor line's stand-ins, over all kits, by day.
        proved: whether no better filling of these lines exists.
        deterministic: work used.
    """

    sessions: tuple[SessionPlan, ...]
    breach_points: int
    stand_in_points: int
    points_by_line: dict[Day, dict[LineFacts, int]]
    proved: bool
    deterministic: float


@dataclass(frozen=True, slots=True)
class Infeasible:
    """It is shown that these lines have no doses and versions that keep every must."""

    deterministic: float


@dataclass(frozen=True, slots=True)
class Unknown:
    """Neither was found in the time."""

    deterministic: float


Filling = Filled | Infeasible | Unknown


def fill(problem: Problem, floor: dict[Day, FloorDay], seconds: float = FILL_BUDGET) -> Filling:
    """Doses and kit versions for the lines of some days.

    Args:
        problem: with the requirements that count.
        floor: the lines.
        seconds: deterministic budget.
    """
    versions = build_versions(problem, floor)
    if versions is None:
        return Infeasible(0.0)
    answer = solve_layer(versions.model, versions.objective, Budget(seconds, problem.seed))
    if answer.status == "impossible":
        return Infeasible(answer.deterministic)
    if not answer.values:
        return Unknown(answer.deterministic)
    values = answer.values
    by_line = {day: points_by_line(d, values) for day, d in versions.days.items()}
    return Filled(
        sessions=tuple(session_of(problem, day, d, values) for day, d in versions.days.items()),
        breach_points=value_of(weighted([(t.slack, t.points) for t in versions.priced]), values),
        stand_in_points=sum(sum(points.values()) for points in by_line.values()),
        points_by_line=by_line,
        proved=answer.status == "proved",
        deterministic=answer.deterministic,
    )


def floor_of(master: Master, problem: Problem, values: tuple[int, ...]) -> dict[Day, FloorDay]:
    """What a solution of the first stage chose, and which pieces of the base plan stay as they are."""
    out = {}
    for day, v in master.view.days.items():
        lead = next((s for s, literal in v.shapes if values[literal.index]), None)
        family = next((f for f in v.families if f.lead is lead), None)
        stays = {p for (d, p), expr in master.kept.items() if d == day and value_of(expr, values)}
        stays |= problem.locked_pieces(day)
        lines = tuple(x.facts for x in v.lines if values[x.literal.index])
        out[day] = FloorDay(family, lines, problem.base_session(day) if stays else None, frozenset(stays))
    return out
