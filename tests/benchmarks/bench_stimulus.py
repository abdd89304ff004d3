"""How much of the gym floor's stimulus the kit versions keep: ``python -m tests.benchmarks.bench_stimulus``.

Drafts weeks of the demo gym in a row, each chosen before the next, and compares each conditioning piece's
power in each kit version with the gym floor's, for the reference man. ``--weeks FOLDER`` reads weeks that
were drafted before, by this or another planner. Nothing is asserted.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import quantiles

from planner.domain.catalogue import Catalogue
from planner.domain.gym import Athlete, Gym
from planner.domain.week import Line, Piece, Week
from planner.domain.work import effort_of
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym, read_week
from planner.paths import home
from planner.weeks.draft import draft

FIRST_WEEK = 49
LEAST, MOST = 60, 160
"""Percent of the floor's power below and above which a version is another piece."""


@dataclass(frozen=True)
class Kept:
    """One piece in one kit version.

    Attributes:
        where: week, day, kit.
        ratio: power against the gym floor's.
        lines: what stands for what, with watts of each.
    """

    where: tuple[str, str, str]
    ratio: float
    lines: str


def drafted_weeks(count: int, seconds: float) -> Iterator[Week]:
    """Weeks of a copy of the demo gym, each behind the next."""
    with tempfile.TemporaryDirectory() as folder:
        gym = Path(folder) / "gym"
        shutil.copytree(home().shared / "gyms" / "demo", gym)
        (gym / "history").mkdir(exist_ok=True)
        for n in range(count):
            year, number = divmod(FIRST_WEEK - 1 + n, 53)
            name = f"{2026 + year}-W{number + 1:02}"
            week = draft(gym, week=name, seed=1, seconds=seconds)
            (gym / "history" / f"{name}.json").write_text(week.model_dump_json(), encoding="utf-8")
            yield week


def line_power(line: Line, catalogue: Catalogue, athlete: Athlete) -> tuple[float, float]:
    """Joules and seconds of a line's dose."""
    movement = catalogue.movements[line.movement]
    load = next((load.kg for load in line.loads if load.athlete == athlete.id), 0.0) * movement.implements
    effort = effort_of(movement, load, athlete.body, line.tier)
    assert effort is not None
    sides = 2 if movement.sides == "per_side" else 1
    return effort.total * line.dose.value * sides, max(1, line.seconds)


def piece_power(lines: tuple[Line, ...], catalogue: Catalogue, athlete: Athlete) -> float:
    """Watts over one round."""
    found = [line_power(line, catalogue, athlete) for line in lines]
    return sum(joules for joules, _ in found) / sum(seconds for _, seconds in found)


def kept(week: Week, catalogue: Catalogue, gym: Gym) -> Iterator[Kept]:
    """Every conditioning piece of a week in every other kit version."""
    him, floor = gym.athletes[0], gym.kits[0].id
    for session in week.sessions:
        for piece in session.pieces:
            if piece.kind not in {"conditioning", "finisher"}:
                continue
            whole = piece_power(piece.versions[floor].lines, catalogue, him)
            for kit in gym.kits[1:]:
                lines = piece.versions[kit.id].lines
                ratio = piece_power(lines, catalogue, him) / whole
                yield Kept(
                    (week.week, session.day, kit.id), ratio, _said(piece, floor, kit.id, catalogue, him)
                )


def _said(piece: Piece, floor: str, kit: str, catalogue: Catalogue, him: Athlete) -> str:
    def told(line: Line) -> str:
        joules, seconds = line_power(line, catalogue, him)
        return f"{line.name} {joules / seconds:.0f} W"

    pairs = zip(piece.versions[floor].lines, piece.versions[kit].lines, strict=True)
    return ", ".join(f"{told(a)} -> {told(b)}" for a, b in pairs if a.movement != b.movement)


def lighter_with_a_bar(week: Week) -> Iterator[str]:
    """Lines on which the owner of a barbell lifts less than the owner of a plate, of those that both load."""
    for session in week.sessions:
        for piece in session.pieces:
            versions = [piece.versions.get(kit) for kit in ("home_barbell", "one_plate")]
            pairs = zip(*(v.lines for v in versions if v), strict=False) if all(versions) else ()
            for bar, plate in pairs:
                if bar.loads and plate.loads:
                    less = bar.loads[0].kg < plate.loads[0].kg
                    yield f"{bar.name} {bar.loads[0].kg} < {plate.name} {plate.loads[0].kg}" if less else ""


def main() -> None:
    """Prints percentiles by kit version, and the worst."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=10, help="weeks in a row (default 10)")
    parser.add_argument("--seconds", type=float, default=10.0, help="budget of each draft (default 10)")
    parser.add_argument("--weeks", type=Path, help="a folder of weeks in place of drafts")
    parser.add_argument("--keep", type=Path, help="a folder to write the drafted weeks to")
    given = parser.parse_args()
    catalogue = load_catalogue(home().shared / "catalogue")
    gym = load_gym(home().shared / "gyms" / "demo", catalogue)
    if given.weeks:
        weeks = [read_week(path) for path in sorted(given.weeks.glob("*.json"))]
    else:
        weeks = list(drafted_weeks(given.count, given.seconds))
    for week in weeks if given.keep else ():
        given.keep.mkdir(exist_ok=True)
        (given.keep / f"{week.week}.json").write_text(week.model_dump_json(), encoding="utf-8")
    found = [x for week in weeks for x in kept(week, catalogue, gym)]
    by_kit: dict[str, list[float]] = defaultdict(list)
    for x in found:
        by_kit[x.where[2]].append(x.ratio)
    for kit, ratios in by_kit.items():
        cuts = quantiles(ratios, n=20, method="inclusive")
        off = sum(not LEAST / 100 <= r <= MOST / 100 for r in ratios)
        print(
            f"{kit:13} {len(ratios):3} pieces, power to the floor's: 5 % {cuts[0]:.2f}, half {cuts[9]:.2f}, "
            f"95 % {cuts[18]:.2f}; least {min(ratios):.2f}, most {max(ratios):.2f}; "
            f"{off} outside {LEAST} to {MOST} %"
        )
    for x in sorted(found, key=lambda x: x.ratio)[:5]:
        print(f"  {x.ratio:.2f} {' '.join(x.where)}: {x.lines}")
    lighter = [said for week in weeks for said in lighter_with_a_bar(week)]
    print(f"lighter with a barbell than with a plate: {sum(map(bool, lighter))} of {len(lighter)} lines")
    for said in [said for said in lighter if said][:8]:
        print(f"  {said}")


if __name__ == "__main__":
    main()
