"""What a draft says of itself where a bound is loose, a must is overruled, or only extreme doses will do."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from planner.domain.requests import Overrule, Requests
from planner.solve import draft
from planner.solve.climb import Climb
from planner.solve.draft import draft_plan
from tests import oracle
from tests.rules.universe import catalogue, gym, rule, universe
from tests.solve.random_problems import random_problem

SECONDS = 5.0


def test_a_bound_below_what_was_reached_is_never_called_proved(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that stops one point short of its proof: the week says so, by just that point."""
    real, shown = draft.climb, 0

    def unsure(*given: Any, **more: Any) -> Any:
        step = real(*given, **more)
        if not isinstance(step, Climb):
            return step
        answers = {
            name: replace(a, bound=a.bound - 1, status="not proved") if a.bound > 0 else a
            for name, a in step.answers.items()
        }
        return replace(step, answers=answers)

    monkeypatch.setattr(draft, "climb", unsure)
    for number in range(12):
        drafted = draft_plan(random_problem(number, late=False), SECONDS)
        for tier in drafted.proof.tiers if drafted.proof else ():
            assert (tier.status == "proved") == (tier.objective == tier.bound)
            shown += tier.status == "not proved" and tier.objective == tier.bound + 1
    assert shown >= 3


def test_a_must_that_is_overruled_on_a_day_counts_on_the_others_only() -> None:
    """Every lift is heavy: with none allowed there is no week, on whichever day that does not count."""
    none = rule(
        id="none", kind="limit", where={"piece": "main", "load": "heavy"}, per="day", at_most=0, must=True
    )
    made = catalogue(("squat", "row"), ("heavy",), ("dash",))

    def drafted(*days: str) -> draft.Drafted:
        overrules = tuple(Overrule(rule="none", place=d, reason="it is meant so") for d in days)
        problem = universe((none,), a_catalogue=made, a_gym=gym(("mon", "tue")))
        return draft_plan(replace(problem, requests=Requests(overrules=overrules)), SECONDS)

    assert [drafted(*days).impossible for days in ((), ("mon",), ("tue",))] == [True, True, True]
    both = drafted("mon", "tue")
    assert both.plan is not None
    assert not both.impossible


@pytest.mark.parametrize(("limits", "dose"), [({"at_most": 15}, 5), ({"at_least": 30}, 10)])
def test_where_only_the_smallest_or_the_largest_dose_will_do_it_is_found(
    limits: dict[str, int], dose: int
) -> None:
    """Hops by fives or tens, three rounds: before doses are chosen, lines may have the least and the most."""
    must = rule(kind="limit", where={"contacts": True}, count="contacts", per="day", must=True, **limits)
    made = catalogue(("squat", "hop"), ("heavy",), ("dash",), ("squat",))
    problem = universe((must,), a_catalogue=made)
    assert oracle.best_week(problem) is not None

    drafted = draft_plan(problem, SECONDS)

    assert drafted.plan is not None
    assert {x.dose for s in drafted.plan.sessions for x in s.versions["floor"].conditioning} == {dose}
