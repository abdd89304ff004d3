"""Weeks of the demo gym in a row, each chosen before the next: ``python -m tests.benchmarks.bench_weeks``.

Prints what each week's pieces are made of, how often each kind came, and which of what should come round is
missing from any four weeks in a row. Nothing is asserted.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from itertools import islice

ROUND = (
    "line_between", "start_and_finish", "in_pairs", "single_intervals", "climbing_ladder", "chipper",
    "on_the_clock", "complex", "find",
)  # fmt: skip
"""Formats and families of sets that any four weeks in a row should have."""
FOUR = 4


def main() -> None:
    """Prints the table."""
    from planner.audit.reading import plan_of
    from planner.domain.iso_week import monday_of, next_week
    from planner.domain.plan import scheme_of_line
    from planner.weeks.setting import Setting
    from planner.weeks.written import solved_week
    from tests.solve.demo import WEEK, shipped

    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--weeks", type=int, default=20, help="how many (default 20)")
    parser.add_argument("--seconds", type=float, default=10.0, help="budget of each draft (default 10)")
    given = parser.parse_args()

    catalogue, gym, rules = shipped()
    name, history, made = WEEK, (), []
    for _ in range(given.weeks):
        start = time.perf_counter()
        week = solved_week(Setting(catalogue, gym, rules, history, name).problem(), given.seconds)
        kinds = []
        for session in plan_of(week).sessions:
            strength = session.versions[week.kits[0].id].strength
            schemes = [scheme_of_line(x, catalogue) for x in strength if not x.assistance]
            kinds += [catalogue.shapes[session.shape].format, *(s.family for s in schemes if s)]
        points = next(t.objective for t in week.proof.tiers if t.name.startswith("Rules"))
        took = time.perf_counter() - start
        print(f"{name} {took:5.1f} s {points:3d} points  {' '.join(kinds)}", flush=True)
        made.append((name, kinds))
        history, name = (week, *history), next_week(monday_of(name))
    for i in range(len(made) - FOUR + 1):
        there = {kind for _, kinds in islice(made, i, i + FOUR) for kind in kinds}
        if missing := [kind for kind in ROUND if kind not in there]:
            print(f"{made[i][0]} to {made[i + FOUR - 1][0]}: no {', '.join(missing)}")
    print("In all:", dict(Counter(kind for _, kinds in made for kind in kinds).most_common()))
    print("Most in a week:", {kind: max(kinds.count(kind) for _, kinds in made) for kind in ROUND})


if __name__ == "__main__":
    main()
