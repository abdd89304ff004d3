"""What is looked for beside a week keeps to its budget, whatever a single question says that it took."""

from __future__ import annotations

from typing import Any

import pytest

from planner.problem.problem import Problem
from planner.solve.explain import clashes
from planner.solve.explain.clashes import FILLING, Switchboard
from planner.solve.search import not_here as lacking
from planner.solve.search.draft import Drafted
from planner.solve.search.fill import Unknown
from tests.rules.universe import rule, universe

LEFT = 1.0


def at_odds() -> Problem:
    """Two heavy days of two, and two days of rest between such."""
    heavy = {"where": {"load": "heavy"}, "must": True}
    musts = (
        rule(id="heavy", kind="limit", count="days", per="week", at_least=2, **heavy),
        rule(id="rest", kind="spacing", hours=48, **heavy),
    )
    return universe(tuple(r.as_shipped(shipped=True) for r in musts))


def test_a_search_for_a_whole_week_counts_each_filling(monkeypatch: pytest.MonkeyPatch) -> None:
    filled: list[Any] = []

    def fill(*given: Any) -> Unknown:
        filled.append(given)
        return Unknown(0.0)

    monkeypatch.setattr(clashes, "fill", fill)
    board = Switchboard(universe(()), seconds=LEFT)

    assert board.find(board.requirements) == "undecided"
    assert 1 < len(filled) <= LEFT / FILLING
    assert board.left <= 0


def test_no_question_is_given_more_than_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[float] = []
    solve, core = clashes.solve_layer, clashes.core_of

    def noted(ask: Any) -> Any:
        def asks(model: Any, what: Any, budget: Any, *more: Any, **named: Any) -> Any:
            given.append(budget.deterministic)
            return ask(model, what, budget, *more, **named)

        return asks

    monkeypatch.setattr(clashes, "solve_layer", noted(solve))
    monkeypatch.setattr(clashes, "core_of", noted(core))
    board = Switchboard(at_odds(), seconds=LEFT)

    assert board.confirm(board.requirements)
    assert board.suspects(board.requirements)
    assert len(given) >= 2
    assert max(given) <= LEFT
    assert given == sorted(given, reverse=True)


def test_what_a_gym_cannot_keep_is_sought_in_one_budget(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each choice of musts takes all the time that it is given, and comes to nothing."""
    given: list[float] = []

    def nothing(_problem: Problem, _musts: Any, seconds: float) -> Drafted:
        given.append(seconds)
        return Drafted(None, None, work=seconds)

    monkeypatch.setattr(lacking, "_least_broken", nothing)

    assert lacking.not_here(at_odds(), 8.0) is None
    assert len(given) > 1
    assert sum(given) <= lacking.MOST_WORK + lacking.LEAST_WORK
