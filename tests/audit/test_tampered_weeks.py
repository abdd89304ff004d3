"""A drafted demo week passes its audit, and no change by hand to its JSON gets by unseen."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from planner.audit.audit import STRUCTURE, audit_plan, broken_musts, total_cost
from planner.audit.doses import DOSES, is_usual
from planner.audit.reading import plan_of
from planner.domain.week import RuleResult, Week
from planner.errors import DataError
from planner.pipeline import draft
from planner.problem.problem import Problem
from tests.prescribe import builders
from tests.solve.demo import WEEK, demo_problem, folder

Tree = dict[str, Any]


@pytest.fixture(scope="module")
def drafted() -> Week:
    return draft(folder(), week=WEEK, seconds=1.5)


@pytest.fixture(scope="module")
def problem() -> Problem:
    return demo_problem()


def audited(problem: Problem, tree: Tree) -> tuple[RuleResult, ...]:
    return audit_plan(problem, plan_of(Week.model_validate_json(json.dumps(tree))))


@pytest.fixture
def tree(drafted: Week) -> Tree:
    """The week as its file has it, free to be changed."""
    return json.loads(drafted.model_dump_json())


def conditioning(tree: Tree, day: int) -> Tree:
    return next(p for p in tree["sessions"][day]["pieces"] if p["kind"] == "conditioning")


def strength(tree: Tree, day: int) -> Tree:
    return next(p for p in tree["sessions"][day]["pieces"] if p["kind"] == "strength")


def in_rounds(tree: Tree) -> int:
    """A day whose piece is no ladder, so that its doses are read from its lines."""
    return next(i for i in range(len(tree["sessions"])) if not conditioning(tree, i)["ladder"])


def test_a_drafted_week_breaks_no_must_and_costs_what_its_proof_says(problem: Problem, tree: Tree) -> None:
    results = audited(problem, tree)

    assert not broken_musts(results)
    assert total_cost(results) == tree["proof"]["tiers"][0]["objective"]


def test_the_week_carries_what_the_audit_finds(problem: Problem, tree: Tree, drafted: Week) -> None:
    assert audited(problem, tree) == drafted.rules
    assert all(r.checked for r in drafted.rules if r.kind not in ("rotate", "capacity"))


def test_a_dose_changed_by_hand_leaves_the_time_domain_everywhere_it_should(
    problem: Problem, tree: Tree
) -> None:
    line = conditioning(tree, in_rounds(tree))["versions"]["no_kit"]["lines"][0]
    line["dose"]["value"] *= 20

    broken = {r.id: r for r in broken_musts(audited(problem, tree))}

    assert "time-domain" in broken
    assert any(p.place.startswith("No kit, ") and p.measure > 0 for p in broken["time-domain"].places)


def test_a_dose_that_the_catalogue_does_not_list_is_noted_and_breaks_nothing(
    problem: Problem, tree: Tree
) -> None:
    before = {r.id: r for r in audited(problem, tree)}[DOSES]
    line = conditioning(tree, in_rounds(tree))["versions"]["floor"]["lines"][0]
    line["dose"]["value"] += 1
    after = {r.id: r for r in audited(problem, tree)}[DOSES]

    assert (before.level, before.measure, after.measure, after.cost) == ("watch", 0, 1, 0)
    assert f" {line['dose']['value']} " in after.places[0].sentence
    assert line["name"] in after.places[0].sentence


@pytest.mark.parametrize(
    ("doses", "dose", "shape", "usual"),
    [
        ((1, 10, 20), 10, {}, True),
        ((1, 10, 20), 12, {}, False),
        ((1, 10, 20), 40, {}, False),
        ((1, 10, 20), 40, {"format": "chipper", "rounds": 1}, True),
        ((1, 10, 20), 30, {"format": "chipper", "rounds": 1}, False),
        ((1, 10, 60), 100, {"format": "chipper", "rounds": 1}, True),
        ((1, 10, 60), 120, {"format": "chipper", "rounds": 1}, False),
        ((1, 10, 21), 45, {"ladder": (21, 15, 9)}, True),
        ((1, 10, 20), 45, {"ladder": (21, 15, 9)}, False),
        ((10, 21), 45, {"ladder": (21, 15, 9)}, False),
    ],
)
def test_which_doses_are_usual(doses: tuple[int, ...], dose: int, shape: Tree, usual: bool) -> None:
    movement = builders.movement("hop", doses={"open": doses}, cap=100)
    assert is_usual(movement, "open", dose, builders.shape(**shape)) is usual
    assert not is_usual(movement, "heavy", dose, builders.shape(**shape))


def test_a_movement_that_the_kit_cannot_do_is_named(problem: Problem, tree: Tree) -> None:
    conditioning(tree, 0)["versions"]["no_kit"]["lines"][0] |= {"movement": "deadlift", "tier": "light"}

    with pytest.raises(DataError, match="deadlift cannot be done with the equipment at hand"):
        audited(problem, tree)


def test_a_movement_that_nobody_knows_is_named(problem: Problem, tree: Tree) -> None:
    conditioning(tree, 0)["versions"]["floor"]["lines"][0]["movement"] = "moonwalk"

    with pytest.raises(DataError, match="moonwalk"):
        audited(problem, tree)


def test_a_version_taken_out_is_missed(problem: Problem, tree: Tree) -> None:
    del conditioning(tree, 2)["versions"]["one_plate"]

    with pytest.raises(DataError, match="no version for One plate"):
        audited(problem, tree)


def test_a_day_taken_out_is_missed(problem: Problem, tree: Tree) -> None:
    del tree["sessions"][1]

    assert STRUCTURE in {r.id for r in broken_musts(audited(problem, tree))}


def take_a_line(lines: list[Tree]) -> None:
    del lines[0]


def write_a_line_twice(lines: list[Tree]) -> None:
    lines.append(lines[0])


def instead_of_its_neighbour(lines: list[Tree]) -> None:
    lines[0] = lines[1]


@pytest.mark.parametrize("kit", ["floor", "home_barbell", "one_plate", "no_kit"])
@pytest.mark.parametrize("change", [take_a_line, write_a_line_twice, instead_of_its_neighbour])
def test_a_line_too_few_or_too_many_is_seen_in_every_version(
    problem: Problem, tree: Tree, kit: str, change: Callable[[list[Tree]], None]
) -> None:
    for day in range(len(tree["sessions"])):
        changed = json.loads(json.dumps(tree))
        change(conditioning(changed, day)["versions"][kit]["lines"])

        assert STRUCTURE in {r.id for r in broken_musts(audited(problem, changed))}


def test_a_main_lift_taken_out_is_seen(problem: Problem, tree: Tree) -> None:
    piece = strength(tree, 0)
    for version in piece["versions"].values():
        version["lines"] = [x for x in version["lines"] if x["assistance"]]

    assert STRUCTURE in {r.id for r in broken_musts(audited(problem, tree))}


def test_two_days_with_one_lift_break_the_rule_that_says_so(problem: Problem, tree: Tree) -> None:
    strength(tree, 1)["versions"]["floor"]["lines"][0] = strength(tree, 0)["versions"]["floor"]["lines"][0]

    assert "lift-once" in {r.id for r in broken_musts(audited(problem, tree))}
