"""How long drafts take, by size of catalogue and days: ``python -m tests.benchmarks.bench_draft``.

The catalogue is the shipped one, thinned. Every row is drafted in a process of its own, so that its memory is
its own. Nothing is asserted: times belong to a machine, so the last column gives them as ratios to the row of
the demo gym (whole catalogue, six days), drafted first.
"""

from __future__ import annotations

import argparse
import json
import resource
import subprocess
import sys
import time
from typing import Any

SIZES = (60, 160, 1000)
DAYS = (3, 4, 5, 6, 7)
STEPS = ("build", "lines", "versions")
PHASES = ("presolve", "1 %", "proof")
"""Of the rules layer alone: seconds until each; ``nan`` where it was not proved."""
Row = dict[str, Any]


def measured(about: int, days: int, seconds: float, seed: int) -> Row:
    """Drafts one week and says how it went."""
    from planner.domain.gym import DAYS as WEEK_DAYS
    from planner.solve.search.draft import draft_plan
    from tests.solve.demo import demo_problem

    problem = demo_problem(about, WEEK_DAYS[:days], seed)
    started = time.perf_counter()
    drafted = draft_plan(problem, seconds)
    total = time.perf_counter() - started
    known = drafted.timings
    row: Row = {"movements": len(problem.catalogue.movements), "days": days, "total": total}
    row |= {step: known.get(step, 0.0) for step in STEPS}
    row |= phases(problem, seconds, seed)
    row["cuts"] = int(known.get("cuts", 0))
    row["mib"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    row["variables"] = drafted.proof.variables if drafted.proof else 0
    row["gaps"] = [t.gap for t in drafted.proof.tiers] if drafted.proof else []
    row["points"] = [t.objective for t in drafted.proof.tiers] if drafted.proof else []
    row["verdict"] = "week" if drafted.plan else ("impossible" if drafted.impossible else "none found")
    return row


def phases(problem: Any, seconds: float, seed: int) -> dict[str, float]:
    """The rules layer once more: seconds to presolve, to a week within 1 % of the last, and to the proof."""
    from ortools.sat.python import cp_model

    from planner.solve.model.master import build_master
    from planner.solve.search.solver import Budget, parameters

    class Improving(cp_model.CpSolverSolutionCallback):
        def __init__(self) -> None:
            super().__init__()
            self.found: list[tuple[float, float]] = []

        def on_solution_callback(self) -> None:
            self.found.append((time.perf_counter() - started, self.objective_value))

    master = build_master(problem)
    master.model.minimize(master.layers["rules"])
    solver, watch, lines = parameters(Budget(seconds, seed), "proof"), Improving(), []
    solver.parameters.log_search_progress = True
    solver.parameters.log_to_stdout = False
    solver.log_callback = lambda text: lines.append((time.perf_counter() - started, text))
    started = time.perf_counter()
    status = solver.solve(master.model, watch)
    total = time.perf_counter() - started
    last = watch.found[-1][1] if watch.found else 0.0
    near = next((at for at, points in watch.found if points <= 1.01 * last), total)
    presolve = next((at for at, text in lines if "Presolve summary" in text), 0.0)
    return {"presolve": presolve, "1 %": near, "proof": total if status == cp_model.OPTIMAL else float("nan")}


def apart(about: int, days: int, seconds: float, seed: int) -> Row:
    """The same in a process of its own."""
    command = [sys.executable, "-m", "tests.benchmarks.bench_draft", "--one", str(about), str(days)]
    command += ["--seconds", str(seconds), "--seed", str(seed)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return json.loads(done.stdout.splitlines()[-1])


HEAD = (
    f"{'movements':>9} {'days':>4} " + " ".join(f"{s:>9}" for s in (*STEPS, *PHASES))
    + f" {'total s':>8} {'MiB':>5} {'vars':>6} {'cuts':>4}  {'points':<14} {'gaps %':<14} verdict     x demo"
)  # fmt: skip


def line(row: Row, demo: Row) -> str:
    """A row of the table."""
    steps = " ".join(f"{row[s]:9.2f}" for s in (*STEPS, *PHASES))
    gaps = " ".join(f"{100 * g:.1f}" for g in row["gaps"])
    points = " ".join(map(str, row["points"]))
    return (
        f"{row['movements']:>9} {row['days']:>4} {steps} {row['total']:8.2f} {row['mib']:5.0f} "
        f"{row['variables']:>6} {row['cuts']:>4}  {points:<14} {gaps:<14} {row['verdict']:<11} "
        f"{row['total'] / demo['total']:.2f}"
    )


def main() -> None:
    """Prints the table, or one row as JSON."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--one", nargs=2, type=int, metavar=("MOVEMENTS", "DAYS"), help="one row, as JSON")
    parser.add_argument("--seconds", type=float, default=10.0, help="budget of each draft (default 10)")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    if given.one:
        print(json.dumps(measured(*given.one, given.seconds, given.seed)))
        return
    print("seconds by step; versions: doses, kit versions, cuts and mending; gaps and points by layer")
    print(HEAD, flush=True)
    demo = apart(1000, 6, given.seconds, given.seed)
    print(line(demo, demo) + "  (demo)", flush=True)
    for about in SIZES:
        for days in DAYS:
            if (about, days) != (1000, 6):
                print(line(apart(about, days, given.seconds, given.seed), demo), flush=True)


if __name__ == "__main__":
    main()
