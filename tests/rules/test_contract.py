"""What every kind of rule promises: audit and model agree to the unit, and every rule bites.

``cases.py`` has the rules and their hand-drawn weeks; here each is tried on those, and on all weeks.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from planner.domain.gym import DAY_NAMES
from planner.rules import KINDS
from planner.rules.base import AuditDay
from tests import oracle
from tests.rules.cases import CASES, Case, Example
from tests.rules.solving import (
    Doses,
    Floor,
    all_solutions,
    by_value,
    key_of,
    key_of_audited,
    least,
    line_key,
    measured,
)
from tests.rules.universe import written_week

WEIGHT = 3
ON_LINES = [c for c in CASES if c.rule().stage == "lines"]
ON_DOSES = [c for c in CASES if c.rule().stage == "doses"]
EXAMPLES = [pytest.param(c, e, id=f"{c}-{e.side}-{i}") for c in CASES for i, e in enumerate(c.examples)]
LINE_EXAMPLES = [p for p in EXAMPLES if p.values[0] in ON_LINES]


# Examples -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_weeks_on_both_sides_of_its_edge(kind: str) -> None:
    sides = {e.side for c in CASES if c.fields["kind"] == kind for e in c.examples}

    assert {"passing", "at the limit", "just past", "failing"} <= sides


@pytest.mark.parametrize("kind", KINDS)
def test_every_choice_of_a_kind_is_tried(kind: str) -> None:
    """A value of a field such as ``what`` or ``count`` that no case uses would be untested."""
    from typing import Literal, get_args, get_origin

    for name, field in KINDS[kind].model_fields.items():
        if get_origin(field.annotation) is Literal and name not in ("kind", "versions"):
            used = {c.fields.get(name, field.default) for c in CASES if c.fields["kind"] == kind}
            assert set(get_args(field.annotation)) <= used, name


@pytest.mark.parametrize(("case", "example"), EXAMPLES)
def test_audit_measures_what_a_pencil_does(case: Case, example: Example) -> None:
    problem = case.world()

    found = case.rule().audit(written_week(problem, *example.week), problem.facts)

    assert found.measure == example.measure
    assert found.checked >= len(found.breaches)


@pytest.mark.parametrize(("case", "example"), EXAMPLES)
def test_a_rule_that_says_so_measures_each_day_by_itself(case: Case, example: Example) -> None:
    rule, problem = case.rule(), case.world()
    week = written_week(problem, *example.week)
    assert rule.day_by_day or not rule.on_time
    if not rule.day_by_day:
        return
    for some in (week[:1], week[1:], week[::2]):
        days = tuple(d.day for d in some)
        facts = replace(problem.facts, days=days)
        whole = {b.place: b.measure for b in rule.audit(week, problem.facts).breaches}
        alone = {b.place: b.measure for b in rule.audit(some, facts).breaches}
        assert alone == {p: m for p, m in whole.items() if p.partition(":")[0] in days}


@pytest.mark.parametrize(("case", "example"), LINE_EXAMPLES)
def test_model_accepts_what_passes_and_refuses_what_fails(case: Case, example: Example) -> None:
    problem = case.world()
    week = [key_of_audited(problem, d) for d in written_week(problem, *example.week)]
    must, without = Floor.of(problem, case.rule()), Floor.of(problem)
    must.fix(week)
    without.fix(week)

    assert (least(must.model) is not None) == (example.measure == 0)
    assert least(without.model) is not None, "without the rule nothing is wrong with the week"


@pytest.mark.parametrize(("case", "example"), LINE_EXAMPLES)
def test_least_slack_of_a_fixed_week_is_the_measure_at_each_place(case: Case, example: Example) -> None:
    problem = case.world()
    rule = case.rule(weight=WEIGHT)
    written = written_week(problem, *example.week)
    floor = Floor.of(problem, rule)
    floor.fix(key_of_audited(problem, d) for d in written)

    answer = least(floor.model, sum(t.points * t.slack for t in floor.priced))

    assert answer is not None
    cost, values = answer
    by_place: dict[str, int] = {}
    for t in floor.priced:
        by_place[t.term.place] = by_place.get(t.term.place, 0) + values[t.slack.index] * t.term.scale
    assert cost == WEIGHT * example.measure
    assert {p: m for p, m in by_place.items() if m} == as_found(rule, written, problem)


def as_found(rule, week: tuple[AuditDay, ...], problem) -> dict[str, int]:
    return {b.place: b.measure for b in rule.audit(week, problem.facts).breaches}


# Every week there is ------------------------------------------------------------------------------------


@cache
def every_week(case_name: str) -> dict:
    """All weeks of a tiny world by key, each as the audit sees it."""
    problem = next(c for c in CASES if str(c) == case_name).world()
    days = [[(key_of(f), f.as_audited(day)) for f in oracle.floor_lines(problem)] for day in problem.gym.days]
    return {tuple(k for k, _ in week): tuple(d for _, d in week) for week in product(*days)}


@pytest.mark.parametrize("case", ON_LINES, ids=str)
def test_over_all_weeks_a_must_accepts_just_those_without_a_breach(case: Case) -> None:
    problem, rule = case.world(), case.rule()
    floor = Floor.of(problem, rule)

    accepted = {floor.read(values) for values in all_solutions(floor.model)}

    sound = {
        key for key, week in every_week(str(case)).items() if not rule.audit(week, problem.facts).measure
    }
    assert accepted == sound


@pytest.mark.parametrize("case", ON_LINES, ids=str)
def test_over_all_weeks_the_model_measures_what_the_audit_does(case: Case) -> None:
    """And no term can pass its upper bound, which sizes the slack: a weighted rule is no must beyond it."""
    problem, rule = case.world(), case.rule()
    weeks, floor = every_week(str(case)), Floor.of(problem)
    terms = list(rule.encode(floor.view, problem.facts))
    seen = set()

    for values in all_solutions(floor.model):
        key = floor.read(values)
        seen.add(key)
        assert measured(terms, by_value(values)) == as_found(rule, weeks[key], problem), key
        assert all(by_value(values)(t.expr) <= t.upper for t in terms)

    assert seen == set(weeks), "without the rule every week is allowed"


# Doses --------------------------------------------------------------------------------------------------


def some_weeks(case: Case, n: int = 8) -> list[tuple[oracle.FloorLines, ...]]:
    """Weeks of lines whose doses are open, those of the case's own examples first."""
    problem, dice = case.world(), random.Random(5)
    known = {key_of(f): f for f in oracle.floor_lines(problem)}
    drawn = [written_week(problem, *e.week) for e in case.examples]
    own = [tuple(known[key_of_audited(problem, d)] for d in week) for week in drawn]
    return [*own, *(tuple(dice.choice(list(known.values())) for _ in problem.gym.days) for _ in range(n))]


def audited(problem, week: tuple[oracle.FloorLines, ...]) -> dict:
    """Every way to dose those lines, by key."""
    out = []
    for day, f in zip(problem.gym.days, week, strict=True):
        mine = {}
        for shape in f.family.members:
            for w in oracle._written(problem, day, f, shape):
                d = w.audited["floor"]
                mine[frozenset((*line_key(x.facts), x.dose) for x in d.lines), d.shape.id] = d
        out.append(list(mine.items()))
    return {tuple(k for k, _ in days): tuple(d for _, d in days) for days in product(*out)}


@pytest.mark.parametrize("case", ON_DOSES, ids=str)
def test_over_all_doses_model_and_audit_agree(case: Case) -> None:
    problem, rule = case.world(), case.rule()
    for lines in some_weeks(case):
        weeks = audited(problem, lines)
        free, bound = Doses.of(problem, lines), Doses.of(problem, lines)
        assert free is not None
        assert bound is not None
        terms = free.terms(rule, "floor")
        bound.priced(rule, "floor")

        listed = {free.read("floor", v): v for v in all_solutions(free.model)}
        accepted = {bound.read("floor", v) for v in all_solutions(bound.model)}

        assert set(listed) == set(weeks)
        assert accepted == {k for k, week in weeks.items() if not rule.audit(week, problem.facts).measure}
        for key, values in listed.items():
            assert measured(terms, by_value(values)) == as_found(rule, weeks[key], problem), key
            assert all(by_value(values)(t.expr) <= t.upper for t in terms)


@pytest.mark.parametrize("case", ON_DOSES, ids=str)
def test_least_slack_over_all_doses_is_the_least_measure(case: Case) -> None:
    problem, rule = case.world(), case.rule(weight=WEIGHT)
    for lines in some_weeks(case):
        doses = Doses.of(problem, lines)
        assert doses is not None
        priced = doses.priced(rule, "floor")

        answer = least(doses.model, sum(t.points * t.slack for t in priced))

        assert answer is not None
        audits = [rule.audit(week, problem.facts).measure for week in audited(problem, lines).values()]
        assert answer[0] == WEIGHT * min(audits)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_first_stage_relaxes_every_rule(case: Case) -> None:
    """No week costs less than its lines show, and none that keeps a must breaks a row over its lines."""
    problem, rule = case.world(), case.rule(weight=WEIGHT)
    for lines in some_weeks(case, 4):
        priced, must = Floor.of(problem, rule), Floor.of(problem, case.rule())
        for floor in (priced, must):
            floor.fix(key_of(f) for f in lines)
        answer = least(priced.model, sum(t.points * t.slack for t in priced.priced))
        allowed = least(must.model) is not None

        measures = [rule.audit(week, problem.facts).measure for week in audited(problem, lines).values()]

        assert answer is not None, "a weighted rule never makes a week impossible"
        assert all(answer[0] <= WEIGHT * m for m in measures)
        assert allowed or all(measures), "a must denies lines that have a filling which keeps it"


# Words --------------------------------------------------------------------------------------------------


def spoken_well(text: str) -> None:
    """What is said to a coach is a sentence without ids, brackets or solver words."""
    assert text
    assert text[0].isupper() or text[0].isdigit(), text
    assert text.endswith("."), text
    for mark in "_[]{}()<>=":
        assert mark not in text, text
    assert "None" not in text


@pytest.mark.parametrize("case", CASES, ids=str)
def test_words_exist_and_carry_their_numbers(case: Case) -> None:
    rule = case.rule()
    spoken_well(rule.statement())
    spoken_well(rule.remedy())
    for name in ("at_least", "at_most", "hours", "within", "span_days", "spare_percent"):
        if case.fields.get(name):
            assert str(case.fields[name]) in rule.statement(), name
    assert rule.unit_words()
    for selector in rule.selectors():
        assert selector.words()


@pytest.mark.parametrize(("case", "example"), EXAMPLES)
def test_a_breach_is_said_with_its_place_and_size(case: Case, example: Example) -> None:
    problem, rule = case.world(), case.rule()
    for b in rule.audit(written_week(problem, *example.week), problem.facts).breaches:
        said = rule.sentence(b.place, b.measure)
        spoken_well(said)
        if case.fields["kind"] in ("limit", "spacing", "share", "capacity", "fit"):
            assert str(b.measure) in said
        first = b.place.split(":")[0].split("-")[0]
        assert DAY_NAMES.get(first, "Over the week") in said  # type: ignore[call-overload]
