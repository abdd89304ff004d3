"""Why and why not: every measure counted again from the weeks alone."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from planner.audit.audit import audit_plan, total_cost
from planner.audit.days import version_days
from planner.audit.reading import plan_of
from planner.domain.changes import GymChanges
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.weeks.price import price
from planner.weeks.why import why
from planner.weeks.why_not import why_not
from planner.weeks.written import solved_week
from tests.oracle import Written
from tests.rules import universe as worlds
from tests.weeks import small, tiny

NUMBERS = (*range(8), 14, 16)
"""Tiny weeks; in the last of them two musts bind."""
PIECES = {"strength": {"main", "assistance"}, "conditioning": {"conditioning"}}


@pytest.mark.parametrize("day", small.DAYS)
@pytest.mark.parametrize("piece", sorted(PIECES))
def test_reasons_are_what_is_worse_without_the_line(day: str, piece: str) -> None:
    problem, plan = small.setting().problem(), plan_of(small.week())
    days = version_days(problem, plan, "floor")
    said = why(small.setting(), small.week(), day, piece)
    here = next(d for d in days if d.day == day)
    mine = [x for x in here.lines if x.facts.piece in PIECES[piece]]
    assert [r.movement for r in said] == [x.facts.movement.id for x in mine]
    for reason, line in zip(said, mine, strict=True):
        less = tuple(
            replace(d, lines=tuple(x for x in d.lines if x.facts != line.facts)) if d.day == day else d
            for d in days
        )
        expected = {}
        for rule in problem.rules:
            more = rule.audit(less, problem.facts).measure - rule.audit(days, problem.facts).measure
            if more > 0 and rule.level != "watch" and rule.kind != "fit":
                expected[rule.id] = more
        assert {r.rule: r.by for r in reason.rules} == expected
        levels = [r.level != "must" for r in reason.rules]
        assert levels == sorted(levels)


def measures(changes: GymChanges | None, plan) -> dict[str, tuple[str, int]]:
    problem = small.setting().problem()
    return {r.id: (r.statement, r.measure) for r in audit_plan(problem, plan)}


def absent(day: str) -> list[str]:
    """Some movements for the conditioning that the day does not have and the gym could do."""
    problem = small.setting().problem()
    session = next(s for s in plan_of(small.week()).sessions if s.day == day)
    there = {x.movement for x in session.versions["floor"].conditioning}
    every = sorted({c.facts.movement.id for c in problem.options.conditioning} - there)
    return every[:: max(1, len(every) // 3)][:3]


@pytest.mark.slow
@pytest.mark.parametrize("day", ["mon", "fri"])
def test_why_not_shows_a_week_with_it_and_what_that_costs(day: str) -> None:
    before, decided = plan_of(small.week()), 0
    for movement in absent(day):
        answer = why_not(
            small.setting(), small.week(), day, movement, piece="conditioning", seconds=small.SECONDS
        )
        decided += answer.verdict != "undecided"
        if answer.week is None:
            assert not answer.possible
            assert answer.clashes or answer.verdict == "undecided"
            continue
        after = plan_of(answer.week)
        session = next(s for s in after.sessions if s.day == day)
        assert movement in {x.movement for x in session.versions["floor"].conditioning}
        assert {(c.day, c.piece) for c in answer.changes} == tiny.changed_pieces(before, after)
        assert (day, "conditioning") in {(c.day, c.piece) for c in answer.changes}
        old, new = measures(None, before), measures(None, after)
        worse = {(said, old[i][1], n) for i, (said, n) in new.items() if n > old[i][1]}
        assert set(answer.worse) == worse
        assert len(answer.worse) == len(worse)
        problem = small.setting().problem()
        assert answer.points == total_cost(audit_plan(problem, after)) - total_cost(
            audit_plan(problem, before)
        )
    assert decided


def test_why_not_says_what_stands_against_the_impossible() -> None:
    """Rowing without rowers: the lock alone cannot be had, and undoing it is the way out."""
    setting = small.setting()
    rowing = next(
        m.id
        for m in setting.catalogue.movements.values()
        if m.setups and all("rower" in s.needs for s in m.setups)
    )
    answer = why_not(
        setting.changed(GymChanges(without=("rower",))), small.week(), "mon", rowing, seconds=small.SECONDS
    )

    assert not answer.possible
    assert answer.week is None
    assert len(answer.clashes) == 1
    (clash,) = answer.clashes
    assert any("on Monday, as asked here" in said for said in clash)
    assert "locked" not in str(clash)
    # What was asked is never a way out of the question.
    assert "as asked here" not in str(answer.ways_out)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_price_is_what_brute_force_saves(number: int) -> None:
    """Each must broken by one unit: the best of all weeks then. Each weighted rule that gave way: its weight.

    What is left out of the prices is worth nothing: every must is tried here, not only those that are named.
    """
    made = tiny.drafted(number)
    if made is None:
        return
    expected = prices_by_brute_force(number)

    found = price(*made, seconds=tiny.SECONDS)

    assert {p.rule: (p.measure, p.saves) for p in found} == expected
    assert [p.saves for p in found] == sorted((p.saves for p in found), reverse=True)


def test_most_of_those_prices_are_of_musts_that_bind() -> None:
    """Without such, the comparison above would show little."""
    priced = [prices_by_brute_force(number) for number in NUMBERS if tiny.drafted(number)]
    musts = [rule for found in priced for rule, (measure, _) in found.items() if not measure]
    assert len(musts) >= 3


@cache
def prices_by_brute_force(number: int) -> dict[str, tuple[int, int]]:
    """Breach and saving of every rule that a price is due for."""
    made = tiny.drafted(number)
    assert made is not None
    setting, week = made
    results = audit_plan(setting.problem(), plan_of(week))
    cost = sum(r.weight * r.measure for r in results)
    expected = {r.id: (r.measure, r.weight) for r in results if r.level == "weight" and r.measure}
    for must in (r for r in setting.rules if r.must and r.stage == "lines" and cost):
        problem = replace(setting, rules=tuple(r for r in setting.rules if r is not must)).problem()
        weeks = tiny.allowed_weeks(problem)
        least = min(points for w, points in weeks if broken_units(problem, must, w) <= 1)
        if least < cost:
            expected[must.id] = 0, cost - least
    return expected


def test_a_must_that_allows_none_has_its_price_too() -> None:
    """No heavy day at all, where a heavy day is wished for: one of them saves what the wish costs."""
    heavy = {"kind": "limit", "where": {"piece": "main", "load": "heavy"}, "count": "days", "per": "week"}
    none = worlds.rule(id="none", **heavy, at_most=0, must=True)
    wish = worlds.rule(id="wish", **heavy, at_least=1, weight=7)
    problem = worlds.universe(
        (none, wish), a_catalogue=worlds.catalogue(("squat", "row"), ("heavy", "quick"), ("dash",))
    )
    setting = tiny.setting_of(problem)
    found = price(setting, solved_week(problem, tiny.SECONDS), seconds=tiny.SECONDS)

    assert {p.rule: p.saves for p in found} == {"wish": 7, "none": 7}


def broken_units(problem: Problem, rule: Rule, week: tuple[Written, ...]) -> int:
    """What an audit of one rule measures on the gym floor."""
    kit = problem.gym.kits[0].id
    return rule.audit(tuple(w.audited[kit] for w in week), problem.facts).measure
