"""How long life's questions take on the demo gym: ``python -m tests.benchmarks.bench_life``.

Nothing is asserted: times belong to a machine, so every row also gives its ratio to drafting the week, and to
what was aimed for. All in one process, after start-up; each row once.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from typing import Any

GOALS = {
    "redraft, racks lost: a week": 1.0,
    "redraft, racks lost: certificate": 3.0,
    "redraft, no rig, rings or ropes": 3.0,
    "why not": 2.0,
    "clash with way out": 2.0,
    "three alternatives": 10.0,
    "compare": 0.3,
    "resilience, whole inventory": 60.0,
}


def timed(ask: Callable[[], Any]) -> tuple[float, Any]:
    """Seconds and the answer."""
    start = time.perf_counter()
    answer = ask()
    return time.perf_counter() - start, answer


def row(name: str, seconds: float, draft: float, said: str = "") -> None:
    """Prints one row."""
    goal = GOALS.get(name)
    against = f"{seconds / goal:8.2f}" if goal else f"{'':8}"
    print(f"{name:<34} {seconds:8.2f} {seconds / draft:8.2f} {against}  {said}", flush=True)


def main() -> None:
    """Prints the table."""
    from planner.domain.changes import GymChanges
    from planner.domain.requests import Lock, Requests
    from planner.solve.explain.clashes import find_clashes
    from planner.weeks.alternatives import alternatives
    from planner.weeks.compare import compare
    from planner.weeks.redraft import redraft
    from planner.weeks.resilience import resilience
    from planner.weeks.setting import Setting
    from planner.weeks.why_not import why_not
    from planner.weeks.written import solved_week
    from tests.solve.demo import WEEK, shipped

    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=float, default=8.0, help="budget of each solve (default 8)")
    parser.add_argument("--quick", action="store_true", help="without alternatives and resilience")
    given = parser.parse_args()

    setting = Setting(*shipped(), (), WEEK)
    draft, week = timed(lambda: solved_week(setting.problem(), given.seconds))
    print(f"{'':<34} {'seconds':>8} {'x draft':>8} {'x goal':>8}")
    row("draft", draft, draft)

    racks = GymChanges(without=("rack",))
    marks: list[tuple[str, float]] = []
    start = time.perf_counter()
    again = redraft(
        setting,
        week,
        changes=racks,
        seconds=given.seconds,
        progress=lambda label, _: marks.append((label, time.perf_counter() - start)),
    )
    total = time.perf_counter() - start
    first = next((at for label, at in marks if label == "Pieces changed"), total)
    certificate = next((at for label, at in marks if label == "Lines changed"), total)
    row("redraft, racks lost: a week", first, draft)
    row("redraft, racks lost: certificate", certificate, draft, again.certificate)
    row("redraft, racks lost: all layers", total, draft)

    rig = GymChanges(without=("rig", "rings", "climbing_rope"))
    seconds, without = timed(lambda: redraft(setting, week, changes=rig, seconds=given.seconds))
    row("redraft, no rig, rings or ropes", seconds, draft, without.certificate)

    seconds, answer = timed(
        lambda: why_not(setting, week, "tue", "deadlift", piece="strength", seconds=given.seconds)
    )
    row(
        "why not", seconds, draft, f"{len(answer.changes)} pieces change" if answer.possible else "impossible"
    )

    movement = "kettlebell_swing"
    locks = tuple(
        Lock(day=day, part="movement", movement=movement, piece="conditioning") for day in ("mon", "thu")
    )
    problem = setting.asking(Requests(locks=locks)).problem()
    seconds, found = timed(lambda: find_clashes(problem))
    row("clash with way out", seconds, draft,
        f"{len(found.clashes)} clash, {len(found.ways_out)} ways out")  # fmt: skip

    seconds, _ = timed(lambda: compare(week, without.week))
    row("compare", seconds, draft)
    if given.quick:
        return
    seconds, several = timed(lambda: alternatives(setting, 3, seconds=given.seconds))
    row("three alternatives", seconds, draft, ", ".join(f"{a.label} ({a.points})" for a in several))
    seconds, losses = timed(lambda: resilience(setting, week))
    hurt = sum(x.pieces > 0 or bool(x.impossible) for x in losses)
    row("resilience, whole inventory", seconds, draft, f"{len(losses)} losses, {hurt} of them hurt")


if __name__ == "__main__":
    main()
