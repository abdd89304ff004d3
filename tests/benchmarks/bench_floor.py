"""What a class meets on the floor, over many weeks: ``python -m tests.benchmarks.bench_floor --weeks 8``.

Drafts weeks one after the other, each looking back at those before, runs every class two hundred times, and
prints a row for each gym: pieces with a wait over 30 s, over 5 % of the time, or with slots missed by over
one in ten; items over their count, recounted from the log of events, and from the cards without the
simulation; days past the class; how much of it is used; how often rowers, bars and sandbags come. Nothing is
asserted.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from planner import paths
from planner.audit.reading import plan_of
from planner.domain.gym import Gym
from planner.domain.plan import ConditioningLine
from planner.domain.running import shape_of, timed_lines
from planner.domain.week import Piece, Week
from planner.errors import PlannerError
from planner.floor.simulate import Played, play
from planner.prescribe.on_floor import floor_piece
from planner.prescribe.set_out import Room
from planner.weeks.draft import drafted
from planner.weeks.setting import Setting, load_setting
from tests.weeks.every_gym import gym_of

GYMS = (
    "demo",
    "hall with twelve racks",
    "garage with one bar for six",
    "park with nothing",
    "alone at home with one kettlebell",
)
RARE = ("rower", "barbell", "sandbag")
WAIT_S, SHARE_PERCENT, MISSED_PERCENT = 30, 5, 10
COLUMNS = (
    "weeks",
    "days",
    "pieces",
    "wait",
    "share",
    "missed",
    "over count",
    "over card",
    "past",
    "90 %",
    *RARE,
    "ms/day",
)


def weeks_of(setting: Setting, count: int, seconds: float) -> Iterator[tuple[Setting, Week]]:
    """Weeks in a row, the last four behind each."""
    past: list[Week] = []
    for number in range(count):
        name = f"2027-W{number + 1:02d}"
        here = replace(setting, week=name, history=tuple(reversed(past[-4:])))
        week = drafted(here, seed=number + 1, seconds=seconds)
        past.append(week)
        yield here, week


def setting_for(name: str) -> Setting:
    """The demo gym's setting, with another gym in it."""
    demo = load_setting(paths.home().shared / "gyms" / "demo", "2027-W01")
    return demo if name == "demo" else replace(demo, gym=gym_of(name))


def runs_of(week: Week, setting: Setting) -> Iterator[tuple[Piece, Played]]:
    """Every piece on the clock, run."""
    kit, catalogue = week.kits[0].id, setting.catalogue
    for session, plan in zip(week.sessions, plan_of(week).sessions, strict=True):
        room = Room(catalogue, setting.gym.on(session.day))
        for piece, planned in zip((p for p in session.pieces if p.versions), plan.pieces, strict=True):
            shape = None if planned.lifts else shape_of(planned, catalogue)
            if shape is not None:
                lines = [x for x in planned.versions[kit] if isinstance(x, ConditioningLine)]
                written, timed = piece.versions[kit].lines, timed_lines(lines, catalogue)
                yield (
                    piece,
                    play(floor_piece(planned, shape, catalogue.domains[shape.domain], written, timed, room)),
                )


def over_count(played: Played, gym: Gym) -> int:
    """Seconds at which an item is over the inventory's count at its printed mass, in the first ten runs."""
    over = 0
    for r in range(min(10, len(played.start))):
        taken: dict[Any, list[tuple[float, int]]] = {}
        for a in played.athletes:
            for v, visit in enumerate(a.visits):
                if np.isfinite(played.start[r, a.number, v]):
                    for item, kg in played.piece.running.stations[visit.station].takes[a.group]:
                        times = played.start[r, a.number, v], played.done[r, a.number, v]
                        taken.setdefault((item, kg), []).extend([(times[0], 1), (times[1], -1)])
        for (item, kg), moves in taken.items():
            held = gym.inventory.get(item, 0)
            by_mass = isinstance(held, dict) and kg is not None and item != "barbell"
            most = held.get(kg, 0) if isinstance(held, dict) and by_mass else gym.count(item)
            here = 0
            for _, step in sorted((round(t, 3), step) for t, step in moves):
                here += step
                over += here > most
    return over


def over_card(week: Week, gym: Gym) -> int:
    """Rows of the set-up cards, and plates over all bars, beyond the inventory."""
    over = 0
    for session in week.sessions:
        for piece in session.pieces:
            plates: dict[float, int] = {}
            for row in piece.set_out:
                held = gym.inventory.get(row.item, 0)
                most = (
                    held.get(row.kg, 0)
                    if isinstance(held, dict) and row.kg is not None
                    else gym.count(row.item)
                )
                over += row.count > most
                for kg in row.per_side_kg:
                    plates[kg] = plates.get(kg, 0) + 2 * row.count
            there = gym.inventory.get("plate", {})
            over += sum(n > there.get(kg, 0) for kg, n in plates.items()) if isinstance(there, dict) else 0
    return over


def measured(name: str, count: int, seconds: float) -> dict[str, int]:
    """One gym's row."""
    row = dict.fromkeys(COLUMNS, 0)
    spent = 0.0
    for setting, week in weeks_of(setting_for(name), count, seconds):
        row["weeks"] += 1
        row["over card"] += over_card(week, setting.gym)
        for session in week.sessions:
            row["days"] += 1
            minutes = sum(e.minutes for e in session.clock)
            row["past"] += minutes > week.class_minutes
            row["90 %"] += 0.9 * week.class_minutes <= minutes <= week.class_minutes
            pieces = [p for p in session.pieces if p.on_floor]
            for piece in pieces:
                test = piece.on_floor
                row["pieces"] += 1
                row["wait"] += test.longest_wait_s > WAIT_S
                row["share"] += test.waited_percent > SHARE_PERCENT
                row["missed"] += (test.missed_percent or 0) > MISSED_PERCENT
                for item in RARE:
                    row[item] += any(x.item == item for x in piece.set_out)
        started = time.process_time()
        runs = list(runs_of(week, setting))
        spent += time.process_time() - started
        row["over count"] += sum(over_count(played, setting.gym) for _, played in runs)
    row["ms/day"] = round(1000 * spent / max(1, row["days"]))
    return row


def main() -> None:
    """Prints the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument(
        "--weeks", type=int, default=8, help="weeks of the demo gym; a quarter of them elsewhere"
    )
    parser.add_argument("--seconds", type=float, default=10.0, help="budget of each draft (default 10)")
    parser.add_argument("--gym", choices=GYMS, help="only this one")
    given = parser.parse_args()
    print(f"{'gym':<36}" + "".join(f"{c:>11}" for c in COLUMNS), flush=True)
    for name in [given.gym] if given.gym else GYMS:
        count = given.weeks if name == "demo" or given.gym else max(1, given.weeks // 4)
        try:
            row = measured(name, count, given.seconds)
        except PlannerError as error:
            print(f"{name:<36}  {str(error).splitlines()[0]}", flush=True)
            continue
        print(f"{name:<36}" + "".join(f"{row[c]:>11}" for c in COLUMNS), flush=True)


if __name__ == "__main__":
    main()
