"""No week gets out that breaks a must, or whose price is not what the solver said."""

from __future__ import annotations

import pytest

from planner.domain.plan import Plan
from planner.domain.week import RULES_LAYER, Proof, TierProof
from planner.errors import SolverFault
from planner.problem.problem import Problem
from planner.weeks.written import written_week
from tests import oracle
from tests.rules.universe import WEEK, catalogue, gym, rule, universe

ROWING = {"kind": "limit", "where": {"modality": "cyclic"}, "count": "days", "per": "week"}


def proof(points: int) -> Proof:
    tier = TierProof(name=RULES_LAYER, objective=points, bound=0, gap=0.0, status="not proved", seconds=0.0)
    proved = tier.model_copy(
        update={"status": "proved" if points == 0 else "not proved", "gap": float(points > 0)}
    )
    return Proof(tiers=(proved,), seed=1, solver="none", seconds=0, variables=0, constraints=0)


def rows_on_both_days(**level: object) -> tuple[Problem, Plan]:
    """The one week that there is, and a rule that it breaks by one."""
    made = catalogue(("squat", "row"), ("heavy",), ("dash",), ("squat",))
    problem = universe((rule(**ROWING, at_most=1, **level),), a_catalogue=made, a_gym=gym())
    days = [oracle.sessions(problem, day)[0].plan for day in problem.gym.days]
    return problem, Plan(week=WEEK, sessions=tuple(days))


def test_a_week_that_breaks_one_must_is_a_fault_of_ours() -> None:
    problem, plan = rows_on_both_days(must=True)

    with pytest.raises(SolverFault, match="breaks a must"):
        written_week(problem, plan, proof(0), 1.0)


@pytest.mark.parametrize("said", [2, 4])
def test_a_price_other_than_the_audits_is_a_fault_of_ours(said: int) -> None:
    problem, plan = rows_on_both_days(weight=3)

    with pytest.raises(SolverFault, match=f"3 points and the solver {said}"):
        written_week(problem, plan, proof(said), 1.0)
    assert written_week(problem, plan, proof(3), 1.0).week == WEEK
