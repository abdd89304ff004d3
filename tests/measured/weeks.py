"""Weeks that no solver has made: whatever the kits can do, at random, audited and written out."""

from __future__ import annotations

import json
import random
from dataclasses import dataclass
from functools import cache, partial
from typing import Any

from planner.audit.audit import audit_plan
from planner.domain.gym import Gym
from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine, VersionPlan
from planner.domain.week import Week
from planner.prescribe.write_out import write_out
from planner.problem.problem import Problem, assemble_problem
from planner.rules import RULE_ADAPTER, Rule
from tests.measured.data import Data, Tree, from_files
from tests.measured.hold import ROOT, setup_at_hand
from tests.measured.week import Line, turn_lines
from tests.once import once
from tests.prescribe import builders
from tests.solve.demo import folder, shipped

WEEKS = ("2026-W50", "2026-W51", "2026-W52", "2026-W53", "2027-W01")
ALL_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MORE_RULES: tuple[Tree, ...] = (
    {"kind": "spacing", "where": {"modality": "cyclic"}, "hours": 96},
    {"kind": "spacing", "where": {"pattern": ["push", "carry"]}, "each": "pattern", "hours": 72},
    {"kind": "limit", "where": {"sides": "per_side"}, "count": "units", "per": "day", "at_most": 10},
    {"kind": "limit", "where": {"sides": "per_side"}, "count": "units", "per": "week", "at_least": 900},
    {"kind": "limit", "where": {"pattern": "legs"}, "count": "units", "per": "day", "at_most": 30},
    {"kind": "limit", "where": {"contacts": True}, "count": "contacts", "per": "day", "at_most": 5},
    {"kind": "limit", "where": {"load": "heavy"}, "count": "sets", "per": "week", "at_most": 3},
    {"kind": "limit", "where": {"item": ["rower", "bike", "rig"]}, "count": "large", "at_most": 0},
    {"kind": "limit", "where": {"skill_at_least": 2}, "count": "lines", "at_most": 1},
    {"kind": "limit", "where": {"goal": ["power", "assistance"]}, "per": "week", "at_most": 1},
    {"kind": "limit", "where": {"pattern": "trunk", "share_at_least": 15}, "per": "week", "at_most": 2},
    {"kind": "limit", "where": {"eccentric": True}, "at_most": 0},
    {"kind": "limit", "where": {"main_pattern": ["jump", "cyclic"]}, "at_most": 0},
    {"kind": "limit", "where": {"heats": 2}, "count": "days", "per": "week", "at_most": 0},
    {"kind": "limit", "where": {"back_at_least": 2}, "each": "movement", "per": "week", "at_most": 1},
    {"kind": "together", "with": {"grip_at_least": 1}, "never": {"overhead_at_least": 1}},
    {"kind": "sequence", "never": [{"back_at_least": 1}, {"grip_at_least": 2}]},
    {"kind": "share", "of": {"unit": "metres"}, "to": {"modality": "bodyweight"}, "percent": [20, 40]},
    {"kind": "due", "where": {"domain": "short"}, "weeks": 2},
    {"kind": "due", "where": {"piece": "main", "sets": "find"}, "on": "fullest", "weeks": 3},
    {"kind": "rotate", "what": "movement", "weeks": 2},
    {"kind": "rotate", "what": "lift_and_scheme", "weeks": 4},
    {"kind": "capacity", "piece": "strength", "sharing": 2},
    {"kind": "fit", "what": "use", "spare_percent": 3},
)
"""In every version, where the shipped rules are of the floor or seldom broken."""


def more_rules() -> tuple[Rule, ...]:
    """Those, as rules."""
    return tuple(
        RULE_ADAPTER.validate_python(
            {"id": f"more-{i}", "because": "the test says so", "weight": 1, "versions": "all", **fields}
        )
        for i, fields in enumerate(MORE_RULES)
    )


@cache
def gym_of(size: int, turns: int) -> Gym:
    """The demo gym, open all week, with a class that does not divide well."""
    gym = shipped()[1]
    changed = gym.class_.model_copy(update={"size": size, "turns": turns})
    return gym.model_copy(update={"class_": changed, "days": ALL_DAYS})


@cache
def data_of(size: int, turns: int) -> Data:
    """The same from the files, as the second measurement reads it."""
    made = from_files(folder(), ROOT / "shared", ROOT / "constraints")
    listed = [r.model_dump(mode="json", by_alias=True) for r in more_rules()]
    own = {**made.gym, "days": list(ALL_DAYS), "class": {**made.class_, "size": size, "turns": turns}}
    return Data(
        made.items, made.movements, made.schemes, made.shapes, made.domains, own, [*made.rules, *listed]
    )


@dataclass
class Pool:
    """What random plans are made of: a few shapes and movements, so that much comes again.

    Attributes:
        data: the gym and the catalogue.
        dice: decides everything.
    """

    data: Data
    dice: random.Random

    def __post_init__(self) -> None:
        by_format: dict[str, list[Tree]] = {}
        for shape in self.data.shapes.values():
            by_format.setdefault(shape["format"], []).append(shape)
        few = self.dice.sample(sorted(by_format), 5)
        self.shapes = [self.dice.choice(by_format[name]) for name in few for _ in range(2)]
        mains = [s for s in self.data.schemes.values() if s["goal"] != "assistance" and not s.get("parts")]
        self.mains = self.dice.sample(mains, 3)
        self.beside = [s for s in self.data.schemes.values() if s["goal"] == "assistance"]
        self._able: dict[tuple[str, str], list[Tree]] = {}

    def plan(self, week: str) -> Plan:
        """A plan that hangs together; whether it is any good is for the rules to say."""
        sessions = []
        for day in self.data.gym["days"]:
            shape, main = self.dice.choice(self.shapes), self.dice.choice(self.mains)
            beside = self.dice.choice([None, *self.beside])
            tier = self.dice.choice(("light", "moderate", "heavy"))
            versions = {
                kit["id"]: self.version(kit, shape, main, beside, tier) for kit in self.data.gym["kits"]
            }
            sessions.append(SessionPlan(day=day, shape=shape["id"], versions=versions))
        return Plan(week=week, sessions=tuple(sessions))

    def version(self, kit: Tree, shape: Tree, main: Tree, beside: Tree | None, tier: str) -> VersionPlan:
        """A session with one kit."""
        strength = [self.lift(kit, main, "main")]
        if beside:
            strength.append(self.lift(kit, beside, "assistance"))
        every = self.able(kit, "conditioning")
        able = [m for m in every if m["modality"] != "loaded" or tier in m["doses"]]
        lines = []
        order = ("opening", "turn", "after_each", "closing")
        count = {**shape, "turn": turn_lines(shape)}
        spots = [spot for spot in order for _ in range(count[spot])]
        for m, spot in zip(self.dice.sample(able, shape["movements"]), spots, strict=True):
            own = tier if m["modality"] == "loaded" else "open"
            dose = sum(shape["ladder"]) or self.dice.choice(m["doses"][own])
            lines.append(ConditioningLine(movement=m["id"], dose=dose, tier=own, spot=spot))
        return VersionPlan(strength=tuple(strength), conditioning=tuple(lines))

    def lift(self, kit: Tree, scheme: Tree, piece: str) -> StrengthLine:
        """A lift that takes the scheme; another scheme of the goal where the kit has none in its unit."""
        every = self.able(kit, piece)
        units = {unit_of(m) for m in every}
        if unit_of(scheme) not in units:
            alike = [s for s in self.data.schemes.values() if s["goal"] == scheme["goal"]]
            scheme = self.dice.choice([s for s in alike if unit_of(s) in units])
        able = [m for m in every if unit_of(m) == unit_of(scheme)]
        name = self.dice.choice(able)["id"]
        return StrengthLine(movement=name, scheme=scheme["id"], assistance=piece == "assistance")

    def able(self, kit: Tree, piece: str) -> list[Tree]:
        """Some movements of a role that can be done with a kit, and a few that do not count reps."""
        key = kit["id"], piece
        if key not in self._able:
            roles = {"main", "assistance"} if piece == "assistance" else {piece}
            able = [
                m
                for m in self.data.movements.values()
                if roles & {*m["roles"], *m.get("stands_in", [])}
                and setup_at_hand(self.data, kit, Line(piece, m, "open", None, [], 0, 0, 0, {})) is not None
            ]
            some = self.dice.sample(able, min(len(able), 22))
            self._able[key] = some + [m for m in able if unit_of(m) != "reps" and m not in some][:4]
        return self._able[key]


def unit_of(entry: Tree) -> str:
    """What a movement or a scheme counts."""
    return str(entry.get("unit", "reps"))


def written(problem: Problem, plan: Plan) -> Week:
    """A plan audited and written out, however bad it is."""
    return write_out(
        plan,
        problem.catalogue,
        problem.gym,
        rules=audit_plan(problem, plan),
        proof=builders.proof(),
        history=problem.history,
        inputs_digest="",
    )


def tree(week: Week) -> Tree:
    """As the week's file has it."""
    return dict(json.loads(week.model_dump_json()))


@cache
def random_weeks(seed: int) -> tuple[Data, list[Tree]]:
    """Weeks one after the other, each after those before it; every class of its own size."""
    dice = random.Random(seed)
    size, turns = dice.choice((7, 9, 12, 13)), dice.choice((2, 3, 4))
    data, catalogue, gym = data_of(size, turns), shipped()[0], gym_of(size, turns)
    rules: Any = (*shipped()[2], *more_rules())
    made: list[Week] = []
    pool = Pool(data, dice)
    for week in sorted(dice.sample(WEEKS, 3)):
        problem = assemble_problem(catalogue, gym, rules, tuple(reversed(made)), week, 1)
        plan = pool.plan(week)
        made.append(once(f"random_{seed}_{week}", partial(written, problem, plan)))
    return data, [tree(w) for w in made]
