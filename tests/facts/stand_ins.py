"""How many of the coach's stand-ins the planner takes: ``python -m tests.facts.stand_ins [--list]``.

The questions are ``stand_ins.yaml``, answered by hand; costs were tuned on one half only.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import yaml

from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.paths import home
from planner.problem.candidates import LineOption
from planner.problem.options import Options

QUESTIONS = Path(__file__).with_suffix(".yaml")
FIRST = 3


@dataclass(frozen=True)
class Answer:
    """One question with both answers, the best first."""

    floor: str
    kit: str
    half: str
    coach: tuple[str, ...]
    planner: tuple[str, ...]

    @property
    def first(self) -> bool:
        """Whether the planner's first is among the coach's three."""
        return self.planner[0] in self.coach

    @property
    def found(self) -> bool:
        """Whether one of the coach's three is among the planner's first three."""
        return bool(set(self.planner) & set(self.coach))


def answers() -> list[Answer]:
    """All questions, answered by the planner on the demo gym."""
    shared = home().shared
    catalogue = load_catalogue(shared / "catalogue")
    options = Options(catalogue, load_gym(shared / "gyms" / "demo", catalogue))
    given = []
    for asked in yaml.safe_load(QUESTIONS.read_text(encoding="utf-8"))["questions"]:
        line = _line(options, asked["floor"], asked["piece"], asked["tier"])
        found = options.stand_ins(asked["kit"], line.facts, line.doses)
        ranked = sorted(found, key=lambda x: x.cost)[:FIRST]
        names = tuple(x.facts.movement.id for x in ranked)
        given.append(Answer(asked["floor"], asked["kit"], asked["half"], tuple(asked["coach"]), names))
    return given


def score(given: list[Answer], half: str) -> tuple[int, int, int]:
    """Questions of a half, those with the first right, those with one of three right."""
    mine = [a for a in given if a.half == half]
    return len(mine), sum(a.first for a in mine), sum(a.found for a in mine)


def _line(options: Options, movement: str, piece: str, tier: str) -> LineOption:
    lines = {"main": options.main, "conditioning": options.conditioning}[piece]
    fits = [x for x in lines if x.facts.movement.id == movement]
    return min(fits, key=lambda x: x.facts.tier not in {tier, "open"})  # the gym may not have it as heavy


def main() -> None:
    """Prints both halves."""
    given = answers()
    if "--list" in sys.argv:
        for a in given:
            if a.half == "tuned":
                mark = "1" if a.first else "3" if a.found else "-"
                print(f"{mark} {a.floor} {a.kit}: {', '.join(a.planner)}  (coach: {', '.join(a.coach)})")
    for half in ("tuned", "held_out"):
        count, first, found = score(given, half)
        print(f"{half}: {count} questions, first right {first}, one of three right {found}")


if __name__ == "__main__":
    main()
