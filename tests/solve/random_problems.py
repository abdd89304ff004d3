"""Random tiny problems, small enough for brute force."""

from __future__ import annotations

import random
from typing import Any

from planner.domain.catalogue import Catalogue
from planner.problem.problem import Problem
from planner.rules import Rule
from tests import oracle
from tests.rules.universe import catalogue, gym, rule, universe, with_windows

LINE_RULES: tuple[dict[str, Any], ...] = (
    {
        "kind": "limit",
        "where": {"piece": "main", "load": "heavy"},
        "count": "days",
        "per": "week",
        "at_most": 1,
    },
    {
        "kind": "limit",
        "where": {"pattern": "squat"},
        "count": "lines",
        "per": "week",
        "at_least": 2,
        "at_most": 3,
    },
    {
        "kind": "limit",
        "where": {"piece": "conditioning"},
        "each": "movement",
        "count": "days",
        "per": "week",
        "at_most": 1,
    },
    {
        "kind": "limit",
        "where": {"hardness": "hard"},
        "count": "days",
        "per": "week",
        "at_least": 1,
        "at_most": 1,
    },
    {"kind": "limit", "where": {"modality": "cyclic"}, "count": "days", "per": "week", "at_least": 2},
    {"kind": "spacing", "where": {"load": "heavy"}, "each": "pattern", "hours": 30},
    {"kind": "together", "with": {"piece": "main"}, "never": {"piece": "conditioning"}, "each": "pattern"},
    {"kind": "together", "with": {"domain": "medium"}, "needs": {"modality": "cyclic"}},
    {
        "kind": "share",
        "of": {"piece": "conditioning", "modality": "loaded"},
        "to": {"piece": "conditioning"},
        "percent": [25, 50],
    },
    {"kind": "sequence", "differ": "domain"},
    {"kind": "sequence", "never": [{"load": "heavy"}, {"back_at_least": 2}]},
    {"kind": "capacity", "piece": "conditioning"},
    {"kind": "fit", "what": "clock"},
)
LATE_RULES: tuple[dict[str, Any], ...] = (
    {"kind": "limit", "where": {"contacts": True}, "count": "contacts", "per": "week", "at_most": 35},
    {
        "kind": "limit",
        "where": {"piece": "conditioning", "contacts": True},
        "count": "contacts",
        "per": "day",
        "at_most": 24,
        "versions": "all",
    },
    {
        "kind": "limit",
        "where": {"piece": "conditioning"},
        "each": "movement",
        "count": "days",
        "per": "week",
        "at_most": 1,
        "versions": "all",
    },
)
MOST_WEEKS = 5000


def random_problem(number: int, *, late: bool) -> Problem:
    """A tiny problem; with ``late`` also rules that wait for doses or speak of the kit versions."""
    dice = random.Random(f"{number}/{late}")
    while True:
        made = _drawn(dice, number, late=late)
        days = len(made.gym.days)
        most = max(n for n in range(MOST_WEEKS) if n**days <= MOST_WEEKS)
        if (
            not oracle.more_sessions_than(made, most)
            and len(oracle.sessions(made, made.gym.days[0])) ** days >= 20
        ):
            return made


def _drawn(dice: random.Random, number: int, *, late: bool) -> Problem:
    movements = ("squat", *dice.sample(["press", "row", "hop"], dice.choice((2, 3))))
    schemes = tuple(dice.sample(["heavy", "quick"], dice.choice((1, 2))))
    days = dice.choice((("mon", "tue"), ("mon", "wed"), ("mon", "tue", "thu")))
    kits = dice.choice(((), ("bar",), ("bare",))) if "hop" in movements else dice.choice(((), ("bar",)))
    if kits != ("bare",) and dice.random() < 0.3:
        schemes = (*schemes, "beside")
    shapes = dice.choice((("dash", "pair"), ("dash", "pair", "pair5"), ("pair", "pair5"), ("dash",)))
    windows = {s: dice.choice(((0, 9999), (150, 500), (250, 800), (100, 260))) for s in shapes}
    made: Catalogue = with_windows(catalogue(movements, schemes, shapes), windows)
    chosen = [(r, dice.random() < 0.25) for r in dice.sample(LINE_RULES, dice.randint(2, 5))]
    if late:
        chosen += [(r, dice.random() < 0.4) for r in dice.sample(LATE_RULES, dice.randint(1, 3))]
    chosen.append(({"kind": "fit", "what": "domain", "versions": "all"}, True))
    rules: tuple[Rule, ...] = tuple(
        rule(**fields, id=f"r{i}", **({"must": True} if must else {"weight": dice.randint(1, 5)}))
        for i, (fields, must) in enumerate(chosen)
    )
    return universe(
        rules, a_catalogue=made, a_gym=gym(days, kits, minutes=dice.choice((36, 40, 55))), seed=number
    )
