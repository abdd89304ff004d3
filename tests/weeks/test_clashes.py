"""Clashes: all of one is impossible, all but any one of it is not; and every way out leads out."""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from planner.audit.reading import plan_of
from planner.domain.changes import GymChanges
from planner.domain.gym import Day
from planner.domain.requests import Ban, Lock, Requests
from planner.domain.week import Week
from planner.errors import NoPlanError
from planner.problem.problem import Problem
from planner.problem.requirements import Requirement
from planner.solve.explain.clashes import Clashes, Switchboard, find_clashes
from planner.solve.search.draft import draft_plan
from planner.weeks.redraft import redraft
from tests import oracle
from tests.rules.universe import catalogue, gym, rule, universe
from tests.weeks import small

ROW_DAYS = {
    "kind": "limit",
    "where": {"piece": "conditioning", "movement": "row"},
    "count": "days",
    "per": "week",
}
MUSTS = (
    {"id": "once", "kind": "limit", "where": {"piece": "conditioning"}, "each": "movement", "count": "days",
     "per": "week", "at_most": 1},
    {"id": "row-most", **ROW_DAYS, "at_most": 1},
    {"id": "row-least", **ROW_DAYS, "at_least": 2},
    {"id": "two-heavy", "kind": "limit", "where": {"piece": "main", "load": "heavy"}, "count": "days",
     "per": "week", "at_least": 2},
    {"id": "rest", "kind": "spacing", "where": {"load": "heavy"}, "each": "pattern", "hours": 30},
    {"id": "domains", "kind": "sequence", "differ": "domain"},
    {"id": "hard-most", "kind": "limit", "where": {"hardness": "hard"}, "count": "days", "per": "week",
     "at_most": 1},
    {"id": "cyclic", "kind": "limit", "where": {"modality": "cyclic"}, "count": "days", "per": "week",
     "at_least": 2},
)  # fmt: skip
NUMBERS = range(22)


# Against brute force -----------------------------------------------------------------------------------


@cache
def tight_problem(number: int) -> Problem:
    """Many musts, locked movements and bans over two or three days."""
    dice = random.Random(f"clash/{number}")
    days = dice.choice((("mon", "tue"), ("mon", "tue", "wed")))
    movements = ("squat", "row", "hop")
    rules = tuple(rule(**fields, must=True) for fields in dice.sample(MUSTS, dice.randint(3, 5)))
    locks = tuple(
        Lock(day=day, part="movement", movement=dice.choice(movements), piece="conditioning")
        for day in days
        if dice.random() < 0.4
    )
    bans = tuple(
        Ban(movement=dice.choice(movements[1:]), day=dice.choice((*days, None)))
        for _ in range(dice.randint(0, 1))
    )
    made = catalogue(movements, ("heavy", "quick"), ("dash", "pair"))
    plain = universe(rules, a_catalogue=made, a_gym=gym(days, ()), seed=number)
    return replace(plain, requests=Requests(locks=locks, bans=bans))


def exists(problem: Problem, on: Iterable[Requirement]) -> bool:
    """Whether any gym floor holds these rules, locks and bans, by trying every one."""
    names = {s.id for s in on}
    free = universe(problem.rules, a_catalogue=problem.catalogue, a_gym=problem.gym)
    rules = [r for r in problem.rules if r.id in names]
    locks = [x for x in problem.requests.locks if x.words() in names]
    bans = [x for x in problem.requests.bans if x.words() in names]

    def may(day: Day, f: oracle.FloorLines) -> bool:
        there = {x.movement.id for x in f.lines}
        conditioning = {x.movement.id for x in f.lines if x.piece == "conditioning"}
        return all(x.movement in conditioning for x in locks if x.day == day) and not any(
            b.movement in there for b in bans if b.day in (None, day)
        )

    every = oracle.floor_lines(free)
    days = [[f.as_audited(day) for f in every if may(day, f)] for day in problem.gym.days]
    return any(all(r.audit(week, problem.facts).measure == 0 for r in rules) for week in product(*days))


@cache
def found_in(number: int) -> Clashes:
    return find_clashes(tight_problem(number), seconds=20.0)


@pytest.mark.parametrize("number", NUMBERS)
def test_clashes_and_ways_out_hold_by_brute_force(number: int) -> None:
    problem, found = tight_problem(number), found_in(number)
    every = Switchboard(problem).requirements
    assert bool(found.clashes) != exists(problem, every)
    for clash in found.clashes:
        assert not exists(problem, clash.members)
        for one in clash.members:
            assert exists(problem, [s for s in clash.members if s is not one])
    for way in found.ways_out:
        assert exists(problem, [s for s in every if s not in way.members])
        for one in way.members:
            assert not exists(problem, [s for s in every if s not in way.members or s == one])
    assert bool(found.ways_out) == bool(found.clashes)
    assert [w.cost for w in found.ways_out] == sorted(w.cost for w in found.ways_out)


def test_enough_of_the_problems_clash_and_in_more_than_one_way() -> None:
    sizes = [len(found_in(n).clashes) for n in NUMBERS]
    kinds = {s.kind for n in NUMBERS for c in found_in(n).clashes for s in c.members}

    assert sum(n > 0 for n in sizes) >= 8
    assert sum(n == 0 for n in sizes) >= 3
    assert sum(n > 1 for n in sizes) >= 2
    assert kinds == {"rule", "lock", "ban"}


def test_with_nothing_to_lift_no_rule_is_blamed() -> None:
    bare = universe(
        (rule(**MUSTS[0], must=True),), a_catalogue=catalogue(("row", "hop")), a_gym=gym(("mon", "tue"), ())
    )
    found = find_clashes(bare)

    assert found.hopeless
    assert not found.clashes


# By hand, on the demo gym's three days ------------------------------------------------------------------


def check(problem: Problem, expected: set[str]) -> None:
    """A clash of just these members is reported; each is verified anew, and every way out leads to a week."""
    found = find_clashes(problem, seconds=20.0)
    assert expected in [{s.id for s in c.members} for c in found.clashes]
    again = Switchboard(problem)
    for clash in found.clashes:
        assert again.confirm(clash.members)
        for one in clash.members:
            assert again.find([s for s in clash.members if s is not one]) == "possible"
    assert found.ways_out
    for way in found.ways_out:
        assert again.find([s for s in again.requirements if s not in way.members]) == "possible"
    assert found.ways_out[0].cost == min(w.cost for w in found.ways_out)


def problem_with(requests: Requests, changes: GymChanges | None = None, week: Week | None = None) -> Problem:
    setting = small.setting().changed(changes) if changes else small.setting()
    return setting.asking(requests, plan_of(week or small.week())).problem()


def offered() -> str:
    """A movement of Monday's conditioning."""
    return plan_of(small.week()).sessions[0].versions["floor"].conditioning[0].movement


@pytest.mark.slow
def test_one_movement_locked_on_two_days_clashes_with_once_a_week() -> None:
    locks = tuple(
        Lock(day=day, part="movement", movement=offered(), piece="conditioning") for day in ("mon", "fri")
    )
    check(problem_with(Requests(locks=locks)), {"conditioning-once", *(x.words() for x in locks)})


def test_three_hard_days_clash_with_never_three_in_a_row() -> None:
    setting = small.setting()
    days: tuple[Day, ...] = ("mon", "tue", "wed")
    locks = tuple(Lock(day=day, part="property", hardness="hard") for day in days)
    problem = setting.changed(GymChanges(days=days)).asking(Requests(locks=locks)).problem()

    check(problem, {"never-three-hard-days", *(x.words() for x in locks)})


@pytest.mark.slow
def test_a_pull_day_clashes_with_the_ban_of_every_pull_for_a_main_lift() -> None:
    setting = small.setting()
    lock = Lock(day="mon", part="property", pattern="pull")
    pulls = {
        c.facts.movement.id
        for c in setting.problem().options.main
        if c.facts.movement.main_pattern in {"horizontal_pull", "vertical_pull"}
    }
    assert pulls
    bans = tuple(Ban(movement=movement, day="mon") for movement in sorted(pulls))

    check(
        problem_with(Requests(locks=(lock,), bans=bans)),
        {"Monday stays a pull day", *(b.words() for b in bans)},
    )


def test_a_locked_piece_whose_equipment_is_lost_clashes_by_itself() -> None:
    plan, movements = plan_of(small.week()), small.setting().catalogue.movements
    day, piece, item = next(
        (s.day, piece, setup.needs[0])
        for s in plan.sessions
        for piece in ("conditioning", "strength")
        for x in getattr(s.versions["floor"], piece)
        for setup in movements[x.movement].setups
        if len(movements[x.movement].setups) == 1
        and setup.needs
        and setup.needs[0] not in {"barbell", "plate"}
    )
    locks = (Lock(day=day, part=piece),)
    changes = GymChanges(without=(item,))
    problem = problem_with(Requests(locks=locks), changes)

    check(problem, {f"{day}/{piece}"})
    with pytest.raises(NoPlanError, match="cannot be done") as refused:
        redraft(small.setting().asking(Requests(locks=locks)), small.week(), changes=changes, seconds=1.0)
    assert any("change only its" in way for way in refused.value.remedies)


@pytest.mark.slow
def test_a_movement_locked_and_banned_all_week_names_both() -> None:
    lock, ban = Lock(day="mon", part="movement", movement=offered()), Ban(movement=offered())

    check(problem_with(Requests(locks=(lock,), bans=(ban,))), {lock.words(), ban.words()})


def test_where_a_week_is_possible_nothing_clashes() -> None:
    problem = problem_with(Requests())

    assert not find_clashes(problem).clashes
    assert draft_plan(problem, 1.0).plan is not None
