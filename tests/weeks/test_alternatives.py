"""Alternatives: truly unlike, within the margin, and each the best there is at what it is named for."""

from __future__ import annotations

from functools import cache
from math import ceil

import pytest

from planner.audit.audit import audit_plan, broken_musts, total_cost
from planner.audit.reading import plan_of
from planner.domain.plan import Plan
from planner.domain.requests import Lock, Requests
from planner.problem.problem import Problem
from planner.weeks.alternatives import (
    BEST,
    THEMES,
    Alternative,
    _Search,
    alternatives,
    least_apart,
)
from planner.weeks.setting import Setting
from planner.weeks.written import solved_week
from tests.rules.universe import catalogue, gym, universe
from tests.weeks import small, tiny

NUMBERS = range(16)
MARGIN = 10


def needs(problem: Problem, movement: str, piece: str) -> set[str]:
    """Items that a floor line takes."""
    options = problem.options
    every = (*options.main, *options.assistance, *options.conditioning)
    return next(
        set(c.facts.needs) for c in every if c.facts.movement.id == movement and c.facts.piece == piece
    )


def figures(problem: Problem, plan: Plan) -> dict[str, int]:
    """Every theme's figure, from ids and the catalogue; lower is better."""
    out = dict.fromkeys(("least set-up", "most carrying", "fewest landings", "most barbell work",
                         "least asked of skill", "most body weight"), 0)  # fmt: skip
    for session in plan.sessions:
        floor, items = next(iter(session.versions.values())), set()
        lines = [(x.movement, "assistance" if x.assistance else "main") for x in floor.strength]
        lines += [(x.movement, "conditioning") for x in floor.conditioning]
        for name, piece in lines:
            m, mine = problem.catalogue.movements[name], needs(problem, name, piece)
            items |= mine
            out["most carrying"] -= m.patterns.get("carry", 0) >= 30
            out["fewest landings"] += m.takes.contacts > 0
            out["most barbell work"] -= "barbell" in mine
            out["least asked of skill"] += m.skill >= 2
            out["most body weight"] -= m.modality == "bodyweight"
        out["least set-up"] += len(items)
    return out


def apart(a: Plan, b: Plan) -> int:
    """Pieces that differ by a movement, a scheme or the shape; not by a dose or a load alone."""
    count = 0
    for x, y in zip(a.sessions, b.sessions, strict=True):
        fx, fy = next(iter(x.versions.values())), next(iter(y.versions.values()))
        count += {(s.movement, s.scheme, s.assistance) for s in fx.strength} != {
            (s.movement, s.scheme, s.assistance) for s in fy.strength
        }
        movements = {c.movement for c in fx.conditioning}, {c.movement for c in fy.conditioning}
        count += movements[0] != movements[1] or x.shape != y.shape
    return count


def check(setting: Setting, found: tuple[Alternative, ...], margin: int) -> None:
    """Distance, margin, figures and labels, from the weeks alone."""
    problem = setting.problem()
    plans = [plan_of(a.week) for a in found]
    days = len(setting.gym.days)
    assert least_apart(days) == ceil(2 * days / 3)
    assert found[0].label == BEST
    assert len({a.label for a in found}) == len(found)
    for i, (a, plan) in enumerate(zip(found, plans, strict=True)):
        results = audit_plan(problem, plan)
        assert not broken_musts(results)
        assert a.points == total_cost(results) <= found[0].points * (100 + margin) // 100
        assert a.figures == figures(problem, plan)
        for other in plans[:i]:
            assert apart(plan, other) >= ceil(2 * days / 3)
        if i:
            assert all(a.figures[a.label] < b.figures[a.label] for b in found[:i])


@cache
def tiny_alternatives(number: int) -> tuple[Setting, tuple[Alternative, ...]] | None:
    made = tiny.drafted(number)
    if made is None:
        return None
    return made[0], alternatives(made[0], 4, seconds=tiny.SECONDS, margin_percent=MARGIN)


@pytest.mark.parametrize("number", NUMBERS)
def test_tiny_alternatives_are_the_best_at_their_label(number: int) -> None:
    """No allowed week within the margin, and unlike those before, is better at the label."""
    made = tiny_alternatives(number)
    if made is None:
        return
    setting, found = made
    check(setting, found, MARGIN)
    problem, best = setting.problem(), found[0]
    stand_ins = next(t.objective for t in best.week.proof.tiers if t.name.startswith("Stand-ins"))
    weeks = [
        tiny.plan(w)
        for w, points in tiny.allowed_weeks(problem)
        if points <= best.points * (100 + MARGIN) // 100
        and sum(x.stand_in_points for x in w) <= stand_ins * (100 + MARGIN) // 100
    ]
    for i, a in enumerate(found[1:], 1):
        before = [plan_of(b.week) for b in found[:i]]
        rivals = [p for p in weeks if all(apart(p, b) >= least_apart(len(problem.gym.days)) for b in before)]
        assert a.figures[a.label] <= min(figures(problem, p)[a.label] for p in rivals)


def test_many_tiny_weeks_have_an_alternative() -> None:
    found = [x[1] for x in map(tiny_alternatives, NUMBERS) if x is not None]

    assert sum(len(x) > 1 for x in found) >= 4
    assert sum(len(x) == 1 for x in found) >= 1


@pytest.mark.slow
def test_alternatives_of_a_real_week() -> None:
    found = alternatives(small.setting(), 2, seconds=small.SECONDS)

    assert len(found) == 2
    check(small.setting(), found, 5)


def test_another_load_alone_does_not_make_a_piece_unlike() -> None:
    """Rowing on Monday and a light squat on Tuesday: squats on both days would be the most barbell work.

    But then Tuesday differs by its load alone, and two pieces have to differ.
    """
    made = catalogue(("squat", "row"), ("heavy",), ("dash",))
    setting = tiny.setting_of(universe((), a_catalogue=made, a_gym=gym(("mon", "tue"), ())))
    wanted = (("mon", "row"), ("tue", "squat"))
    locks = tuple(Lock(day=d, part="movement", movement=m, piece="conditioning") for d, m in wanted)
    week = solved_week(setting.asking(Requests(locks=locks)).problem(), tiny.SECONDS)
    theme = next(t for t in THEMES if t.label == "most barbell work")
    search = _Search(setting.problem(), week, MARGIN)
    search.another(theme, tiny.SECONDS)

    assert all(apart(plan_of(week), plan_of(w)) >= least_apart(2) for w in search.weeks[1:])
