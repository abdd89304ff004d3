"""What a week says about where it comes from."""

from __future__ import annotations

from planner.audit.reading import plan_of
from planner.domain.requests import Ban, Requests
from planner.weeks.written import digest
from tests.weeks import small


def test_problems_that_differ_have_digests_that_differ() -> None:
    """Requests, the plan that locks speak of and closeness were once left out: three problems, one digest."""
    setting, base = small.setting(), plan_of(small.week())
    asked = setting.asking(Requests(bans=(Ban(movement="burpee"),)))
    problems = [
        setting.problem(),
        setting.problem(seed=2),
        asked.problem(),
        setting.asking(Requests(), base).problem(),
        setting.asking(Requests(), base).problem(stay_near=True),
    ]

    assert len({digest(problem, 1.0) for problem in problems}) == len(problems)
    assert digest(setting.problem(), 1.0) == digest(small.setting().problem(), 1.0)
    assert digest(setting.problem(), 1.0) != digest(setting.problem(), 2.0)
