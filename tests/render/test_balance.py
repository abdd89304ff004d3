"""What the pictures of the balance show is what the rules measure."""

from __future__ import annotations

import re

from planner import paths
from planner.domain.line import PlannedLine, line_facts
from planner.domain.week import Week
from planner.load.catalogue import load_catalogue
from planner.render.html import week_html
from planner.render.week_print import week_print_html
from planner.rules.base import AuditDay
from planner.rules.share import Share
from tests.solve import demo

from .reading import Sheet
from .sample_week import sample_dict

PUSH = {"horizontal_push", "vertical_push"}
PULL = {"horizontal_pull", "vertical_pull"}
LEGS = {"squat", "hinge", "lunge"}
LEAST_SHARE = 30


def counted(week: Week, patterns: set[str], kind: str = "") -> int:
    """Movements of the gym floor with any of the patterns, by hand: a movement counts once."""
    floor = week.kits[0].id
    pieces = [p for s in week.sessions for p in s.pieces if floor in p.versions and kind in {"", p.kind}]
    return sum(
        any(line.patterns.get(pattern, 0) >= LEAST_SHARE for pattern in patterns)
        for piece in pieces
        for line in piece.versions[floor].lines
    )


def said(html: str) -> str:
    return Sheet(html).text


def test_push_and_pull_are_counted_as_the_rule_counts_them() -> None:
    week = demo.week()
    push, pull = counted(week, PUSH), counted(week, PULL)
    upper, lower = counted(week, PUSH | PULL), counted(week, LEGS)
    rules = {rule.id: rule for rule in week.rules}

    assert rules["push-and-pull"].measure == max(0, abs(push - pull) - 1)
    assert rules["upper-and-lower"].measure == max(0, abs(upper - lower) - 3)
    for text in (said(week_html(week)), said(week_print_html(week))):
        assert re.search(rf"Push against pull:? {push}\D+{pull}\b", text)
        assert re.search(rf"Upper-body against lower-body:? {upper}\D+{lower}\b", text)


def test_a_movement_of_two_pushing_patterns_is_one_movement() -> None:
    """Of the catalogue: a ring dip pushes forward and up, an upright row pulls both ways."""
    home = paths.home()
    catalogue = load_catalogue(home.shared / "catalogue")
    lines = tuple(
        PlannedLine(line_facts("conditioning", catalogue.movements[name], "open", None, (), {}), 5, 5, 10)
        for name in ("ring_dip", "box_dip", "upright_row", "air_squat")
    )
    day = AuditDay("mon", lines, next(iter(catalogue.shapes.values())), 5, 60, (0, 1))
    rule = Share.model_validate(
        {
            "id": "push-and-pull",
            "kind": "share",
            "of": {"pattern": "push"},
            "to": {"pattern": "pull"},
            "within": 1,
            "because": "as much pulling as pushing",
        }
    )
    found = rule.audit((day,), None)

    assert [(side.name, side.count) for side in found.sides] == [("push work", 2), ("pull work", 1)]
    assert found.measure == 0


def test_kinds_of_conditioning_are_those_that_the_rules_measure() -> None:
    week = demo.week()
    for rule in week.rules:
        for kind in ("loaded", "bodyweight"):
            if rule.id == f"{kind}-share":
                assert [side.count for side in rule.sides] == [
                    week.balance.modality[kind],
                    sum(week.balance.modality.values()),
                ]


def test_a_pattern_says_on_how_many_days_it_comes() -> None:
    """The rules ask for days; two movements of a pattern on one day are one."""
    week = demo.week()
    html = week_html(week)
    (rows,) = re.findall(r'(?s)<tbody class="patterns">(.*?)</tbody>', html)
    shown = dict(re.findall(r'(?s)<th scope="row">([^<]+)</th>.*?<td class="sum">(\d+)</td>', rows))
    for name, pattern in (("Squat", "squat"), ("Push, vertical", "vertical_push"), ("Trunk", "trunk")):
        assert int(shown[name]) == sum(bool(s.patterns.get(pattern)) for s in week.sessions)


def test_a_rule_that_a_gym_asks_otherwise_is_drawn_as_asked() -> None:
    data = sample_dict()
    rule = {
        **data["rules"][0],
        "id": "carry-and-jump",
        "kind": "share",
        "statement": "Carry and jump differ by 2.",
    }
    data["rules"] = [
        {**rule, "sides": [{"name": "carry", "count": 3}, {"name": "jump", "count": 5}]},
        {**rule, "id": "older", "sides": []},
    ]
    text = said(week_html(Week.model_validate(data)))

    assert re.search(r"Carry against jump 3 carry jump 5", text)
    assert "Push against pull" not in text
    assert "Counted 3 carry, 5 jump" in text


def test_a_week_written_before_is_still_read() -> None:
    data = sample_dict()
    data["balance"].update(push=8, pull=4, upper=12, lower=7)
    assert Week.model_validate(data).balance.domains
