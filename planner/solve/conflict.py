"""Where no week was found: which musts clash, by deletion over rules with ordinary solves."""

from __future__ import annotations

from ortools.sat.python import cp_model

from planner.errors import NoPlanError
from planner.problem.problem import Problem
from planner.rules.base import Rule
from planner.solve.encode import encode
from planner.solve.floor import floor_view
from planner.solve.search import Budget, solve_layer

PROBE = 6.0
"""Deterministic budget of one solve."""


def explain_no_week(problem: Problem, *, certain: bool) -> NoPlanError:
    """What to tell the coach: a smallest set of musts that clash, or that the time was too short."""
    if not certain:
        return NoPlanError(
            "No week was found in the time given, and none was ruled out.",
            remedies=("Give it more time with --seconds.", "Soften a must, or open another day."),
        )
    clash = smallest_clash(problem)
    return NoPlanError(
        "No week can hold every must. These cannot all hold together:",
        tuple(f"{r.id}: {r.statement()} ({r.because})" for r in clash),
        tuple(f"Without {r.id} alone there is a week." for r in clash),
    )


def smallest_clash(problem: Problem) -> tuple[Rule, ...]:
    """Musts that cannot all hold, though any one of them less can; by deletion, halves first."""
    musts = [r for r in problem.rules if r.must]
    return tuple(_shrink(problem, [], musts))


def _shrink(problem: Problem, fixed: list[Rule], open_: list[Rule]) -> list[Rule]:
    """QuickXplain (Junker 2004): the members of ``open_`` that clash, given ``fixed``."""
    if fixed and _clash(problem, fixed):
        return []
    if len(open_) == 1:
        return open_
    half = len(open_) // 2
    first, second = open_[:half], open_[half:]
    from_second = _shrink(problem, fixed + first, second)
    from_first = _shrink(problem, fixed + from_second, first)
    return from_first + from_second


def _clash(problem: Problem, rules: list[Rule]) -> bool:
    """Whether these musts are certain to leave no week; a solve that does not decide counts as no."""
    model = cp_model.CpModel()
    view = floor_view(problem, model)
    encode(model, view, tuple(rules), problem.facts)
    return solve_layer(model, None, Budget(PROBE, 1)).status == "impossible"
