"""Drafts a thinned demo week and prints its plan; run in a process of its own to see that it repeats."""

from __future__ import annotations

import sys

from planner.solve.search.draft import draft_plan
from tests.solve.demo import demo_problem


def main(seed: int) -> None:
    """Prints the plan and its proof as JSON."""
    drafted = draft_plan(demo_problem(45, ("mon", "wed", "fri"), seed=seed, kits=2), 2.0)
    assert drafted.plan is not None
    assert drafted.proof is not None
    print(drafted.plan.model_dump_json())
    print(drafted.proof.model_dump_json())


if __name__ == "__main__":
    main(int(sys.argv[1]))
