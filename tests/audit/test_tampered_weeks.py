"""A drafted demo week passes its audit, and no change by hand to its JSON gets by unseen."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from planner.audit.as_written import AS_WRITTEN, BY_HAND, ORIGIN
from planner.audit.audit import STRUCTURE, audit_plan, broken_musts, total_cost
from planner.audit.doses import DOSES, is_usual
from planner.audit.reading import plan_of
from planner.domain.plan import ConditioningLine
from planner.domain.requests import Ban, Overrule, Requests
from planner.domain.week import RuleResult, Week
from planner.errors import DataError
from planner.problem.problem import Problem
from planner.weeks import audit as auditing
from planner.weeks.audit import audit_file
from tests.plans import with_versions
from tests.prescribe import builders
from tests.solve import demo
from tests.solve.demo import demo_problem, folder
from tests.weeks import small

Tree = dict[str, Any]


@pytest.fixture(scope="module")
def drafted() -> Week:
    return demo.week()


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
    """A day whose piece has rounds and no more, so that its doses are read from its lines."""
    days = ((i, conditioning(tree, i)) for i in range(len(tree["sessions"])))
    of_another_kind = {"ladder", "climbing_ladder", "on_the_minute"}
    spots = (({x["spot"] for x in p["versions"]["floor"]["lines"]}, i, p) for i, p in days)
    return next(i for spots, i, p in spots if spots == {"turn"} and p["format"] not in of_another_kind)


def test_a_drafted_week_breaks_no_must_and_costs_what_its_proof_says(problem: Problem, tree: Tree) -> None:
    results = audited(problem, tree)

    assert not broken_musts(results)
    assert total_cost(results) == tree["proof"]["tiers"][0]["objective"]


def test_the_week_carries_what_the_audit_finds(problem: Problem, tree: Tree, drafted: Week) -> None:
    assert audited(problem, tree) == drafted.rules
    assert all(r.checked for r in drafted.rules if r.kind not in ("rotate", "capacity", "due", "queue"))


def _renamed(day: Tree, piece: str, kit: str, field: str) -> Tree:
    line = next(p for p in day["pieces"] if p["kind"] == piece)["versions"][kit]["lines"][0]
    was, line[field] = line[field], f"{line[field]}x"
    return {"was": was}


def _of_nothing(day: Tree) -> Tree:
    piece = next(p for p in day["pieces"] if p["kind"] == "conditioning")
    was, piece["shape"] = piece["shape"], f"{piece['shape']}x"
    return {"was": was}


def _without_kit(day: Tree) -> Tree:
    for piece in day["pieces"]:
        piece["versions"].pop("no_kit", None)
    return {}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (
            lambda day: _renamed(day, "strength", "floor", "movement"),
            ("Monday, strength, floor", "no movement", '"{was}x"', 'Did you mean "{was}"?'),
        ),
        (
            lambda day: _renamed(day, "conditioning", "no_kit", "movement"),
            ("Monday, conditioning, no_kit", "no movement", '"{was}x"'),
        ),
        (
            lambda day: _renamed(day, "strength", "floor", "scheme"),
            ("Monday, strength, floor", "no scheme", '"{was}x"', '"{was}"?'),
        ),
        (_of_nothing, ("Monday, conditioning", "no shape", '"{was}x"', '"{was}"?')),
        (_without_kit, ("mon: there is no version for No kit",)),
    ],
)
def test_a_week_that_does_not_fit_names_file_place_and_what_would_be_right(
    change: Callable[[Tree], Tree], said: tuple[str, ...], tree: Tree, tmp_path: Path
) -> None:
    words = change(tree["sessions"][0])
    file = tmp_path / "week.json"
    with pytest.raises(DataError) as refused:
        auditing.audit(Week.model_validate_json(json.dumps(tree)), folder(), file)
    assert str(refused.value).startswith(f"{file}: ")
    assert refused.value.advice
    for part in said:
        assert part.format(**words) in str(refused.value)


def test_a_day_without_its_strength_piece_is_no_draft(problem: Problem, tree: Tree) -> None:
    tree["sessions"][0]["pieces"].pop(1)
    broken = {r.id: r for r in broken_musts(audited(problem, tree))}
    assert any("the coach wrote none" in p.sentence for p in broken["structure"].places)


def test_a_week_for_a_gym_with_more_kits_or_less_kit_names_the_file(tree: Tree, tmp_path: Path) -> None:
    gym = yaml.safe_load((folder() / "gym.yaml").read_text(encoding="utf-8"))
    file = tmp_path / "week.json"
    for change, said in (
        ({"kits": [*gym["kits"], {"id": "shed", "name": "Shed", "contains": ["sandbag"]}]}, '"shed"'),
        ({"inventory": {"plate": {10: 2}}}, "cannot be done with the equipment at hand"),
    ):
        (tmp_path / "gym.yaml").write_text(yaml.safe_dump(gym | change), encoding="utf-8")
        with pytest.raises(DataError, match=said) as refused:
            auditing.audit(Week.model_validate_json(json.dumps(tree)), tmp_path, file)
        assert str(refused.value).startswith(f"{file}: ")
        assert "that it was written for" in refused.value.advice


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
        ((1, 10, 20), 40, {"rounds": 1, "laps": 3, "opening": 1, "spot": "opening"}, True),
        ((1, 10, 20), 40, {"rounds": 1, "laps": 3, "opening": 1, "spot": "turn"}, False),
        ((1, 10, 21), 45, {"ladder": (21, 15, 9)}, True),
        ((1, 10, 20), 45, {"ladder": (21, 15, 9)}, False),
        ((10, 21), 45, {"ladder": (21, 15, 9)}, False),
    ],
)
def test_which_doses_are_usual(doses: tuple[int, ...], dose: int, shape: Tree, usual: bool) -> None:
    movement = builders.movement("hop", doses={"open": doses}, cap=100)
    line = ConditioningLine(movement="hop", dose=dose, tier="open", spot=shape.pop("spot", "turn"))
    assert is_usual(movement, line, builders.shape(**shape)) is usual
    heavy = line.model_copy(update={"tier": "heavy"})
    assert not is_usual(movement, heavy, builders.shape(**shape))


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
        lines = conditioning(changed, day)["versions"][kit]["lines"]
        if len(lines) == 1 and change is instead_of_its_neighbour:
            continue
        change(lines)

        assert STRUCTURE in {r.id for r in broken_musts(audited(problem, changed))}


def test_a_line_that_comes_elsewhere_than_its_piece_has_lines_is_seen(problem: Problem, tree: Tree) -> None:
    conditioning(tree, in_rounds(tree))["versions"]["floor"]["lines"][0]["spot"] = "opening"

    assert STRUCTURE in {r.id for r in broken_musts(audited(problem, tree))}


def test_a_main_lift_taken_out_is_seen(problem: Problem, tree: Tree) -> None:
    piece = strength(tree, 0)
    for version in piece["versions"].values():
        version["lines"] = [x for x in version["lines"] if x["assistance"]]

    assert STRUCTURE in {r.id for r in broken_musts(audited(problem, tree))}


def test_two_days_with_one_lift_break_the_rule_that_says_so(problem: Problem, tree: Tree) -> None:
    strength(tree, 1)["versions"]["floor"]["lines"][0] = strength(tree, 0)["versions"]["floor"]["lines"][0]

    assert "lift-once" in {r.id for r in broken_musts(audited(problem, tree))}


# What follows from the plan --------------------------------------------------------------------------------

PROOF = {"objective", "bound", "gap", "status"}
"""Of how the week was found, these have to fit the plan and each other; the rest does not follow from it."""


@cache
def small_tree() -> Tree:
    return json.loads(small.week().model_dump_json())


@cache
def small_problem() -> Problem:
    return small.setting().problem()


def of_file(tree: Tree) -> dict[str, RuleResult]:
    week = Week.model_validate_json(json.dumps(tree))
    return {r.id: r for r in audit_file(week, small_problem())}


def leaves(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every number and text."""
    if isinstance(node, dict | list):
        for key, inside in node.items() if isinstance(node, dict) else enumerate(node):
            yield from leaves(inside, (*path, key))
    elif node is not None:
        yield path


def derived() -> list[tuple[Any, ...]]:
    """Those that follow from plan and inputs, or name them."""
    every = leaves(small_tree())
    return [x for x in every if x[0] != "inputs_digest" and (x[0] != "proof" or x[-1] in PROOF)]


def at(tree: Tree, path: tuple[Any, ...]) -> Any:
    for key in path:
        tree = tree[key]
    return tree


def changed(path: tuple[Any, ...], new: Any) -> Tree:
    tree = json.loads(json.dumps(small_tree()))
    at(tree, path[:-1])[path[-1]] = new
    return tree


def found(tree: Tree) -> bool:
    """Whether the file is refused, breaks a must, or is told to be from elsewhere or changed by hand."""
    try:
        results = of_file(tree)
    except (DataError, ValueError):  # no such value, or no such week
        return True
    return bool(broken_musts(tuple(results.values())) or results[ORIGIN].measure or results[BY_HAND].measure)


def other(value: Any, dice: Random) -> Any:
    """Another value of the same kind."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, str):
        return dice.choice((f"{value}x", value[1:] or "x", "nothing of the kind"))
    step = dice.choice((1, 3, 40))
    return value + dice.choice((step, -step))


def test_a_week_as_it_was_drafted_is_what_its_plan_comes_to() -> None:
    results = of_file(small_tree())

    assert not broken_musts(tuple(results.values()))
    assert [results[name].measure for name in (AS_WRITTEN, BY_HAND, ORIGIN)] == [0, 0, 0]


@settings(max_examples=50, deadline=None)
@given(st.data())
def test_any_one_number_or_text_that_is_changed_is_found(data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(derived()))
    node = at(small_tree(), path)
    new = other(node, data.draw(st.randoms(use_true_random=False)))

    assert found(changed(path, new)), (path, node, new)


def kinds_of_fields() -> list[tuple[Any, ...]]:
    """One way to each field of each kind of value: list places and keys of versions left out."""
    seen: dict[tuple[str, ...], tuple[Any, ...]] = {}
    for path in derived():
        seen.setdefault(tuple(x for x in path if isinstance(x, str)), path)
    return list(seen.values())


def test_each_field_that_follows_from_the_plan_is_held_to_it() -> None:
    dice = Random("each field")
    ways = kinds_of_fields()
    missed = [p for p in ways if not found(changed(p, other(at(small_tree(), p), dice)))]

    assert len(ways) > 100
    assert not missed


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_no_week(number: float) -> None:
    ways = [p for p in kinds_of_fields() if isinstance(at(small_tree(), p), float)]
    assert {p[-1] for p in ways} >= {"kg", "gap"}
    for path in ways:
        with pytest.raises(ValidationError, match="finite"):
            Week.model_validate_json(json.dumps(changed(path, number)))


def a_loaded_line() -> tuple[Any, ...]:
    return next(p[:-3] for p in leaves(small_tree()) if p[-1] == "kg" and p[-3] == "loads")


def test_a_load_changed_by_hand_is_named_with_its_day_line_and_athlete() -> None:
    path = a_loaded_line()
    right = at(small_tree(), path)
    tree = changed((*path, "loads", 0, "kg"), 61.0)
    (place,) = of_file(tree)[AS_WRITTEN].places

    assert f"{right['name']}, {right['loads'][0]['athlete']}, kg: 61, and it comes to" in place.sentence


def test_a_line_that_the_coach_marked_is_told_as_such_and_breaks_nothing() -> None:
    path = a_loaded_line()
    tree = changed((*path, "by_hand"), new=True)
    line = at(tree, path)
    line["too_heavy"] = "Ask me."
    results = of_file(tree)

    assert not broken_musts(tuple(results.values()))
    (place,) = results[BY_HAND].places
    assert "too heavy: Ask me., in place of" in place.sentence


def test_the_lines_that_differ_are_marked_and_no_others(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(auditing, "_problem", lambda *_: small_problem())
    path = a_loaded_line()
    tree = changed((*path, "too_heavy"), "Ask me.")
    week = auditing.with_marks(Week.model_validate_json(json.dumps(tree)), folder())

    at(tree, path)["by_hand"] = True
    assert json.loads(week.model_dump_json()) == tree
    with pytest.raises(DataError, match="no line can be marked: the file was written by version 0"):
        auditing.with_marks(week.model_copy(update={"program": "0.0.1"}), folder())


def test_only_overrules_and_sessions_by_hand_that_the_file_has_excuse_it() -> None:
    plan = plan_of(small.week())
    floor = [with_versions(s, {"floor": s.versions["floor"]}) for s in plan.sessions]
    other = with_versions(floor[1], floor[1].versions, floor[0].shape)
    overrule = Overrule(rule="easy-day", place="week", reason="a competition")
    asked = Requests(overrules=(overrule,), by_hand=(floor[0], other), bans=(Ban(movement="burpee"),))

    assert other.shape != floor[1].shape
    assert auditing.excused(asked, plan) == Requests(overrules=(overrule,), by_hand=(floor[0],))


def test_a_marked_line_still_needs_plates_that_there_are() -> None:
    path = a_loaded_line()
    tree = changed((*path, "by_hand"), new=True)
    at(tree, path)["loads"][0] |= {"kg": 61.0, "text": "61 kg"}

    (place,) = of_file(tree)[AS_WRITTEN].places
    assert "make no 61 kg on any of the gym's bars" in place.sentence


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("program", "", "does not name the version"),
        ("program", "0.0.1", "written by version 0.0.1"),
        ("basis_digest", "0" * 64, "another catalogue or gym"),
    ],
)
def test_a_file_from_elsewhere_is_said_to_be_and_its_sums_are_checked(
    field: str, value: str, said: str
) -> None:
    tree = changed((field,), value)
    results = of_file(tree)
    assert said in results[ORIGIN].places[0].sentence
    assert not results[AS_WRITTEN].measure

    for break_it in SUMS:
        broken = json.loads(json.dumps(tree))
        break_it(broken)
        assert of_file(broken)[AS_WRITTEN].measure, break_it.__name__


def test_a_file_from_before_versions_were_named_is_read() -> None:
    tree = json.loads(json.dumps(small_tree()))
    del tree["program"], tree["basis_digest"]

    assert of_file(tree)[ORIGIN].measure == 1


def other_monday(tree: Tree) -> None:
    tree["monday"] = "2026-12-07"


def other_date(tree: Tree) -> None:
    tree["sessions"][1]["date"] = tree["sessions"][0]["date"]


def gap_in_the_clock(tree: Tree) -> None:
    tree["sessions"][0]["clock"][2]["start_minute"] += 1


def longer_than_the_class(tree: Tree) -> None:
    tree["sessions"][0]["clock"][-1]["minutes"] += 40


def other_rating(tree: Tree) -> None:
    tree["sessions"][0]["rating"] += 1


def softer_word(tree: Tree) -> None:
    session = tree["sessions"][0]
    session["hardness"] = "easy" if session["hardness"] != "easy" else "hard"


def other_day_load(tree: Tree) -> None:
    tree["load"]["daily_au"][0] += 5


def other_week_load(tree: Tree) -> None:
    tree["load"]["week_au"] += 5


def other_total(tree: Tree) -> None:
    conditioning(tree, 0)["versions"]["floor"]["lines"][0]["total"] += 1


def other_mass(tree: Tree) -> None:
    at(tree, a_loaded_line())["loads"][0]["kg"] += 1


def plate_that_nobody_has(tree: Tree) -> None:
    load = at(tree, a_loaded_line())["loads"][0]
    load["per_side_kg"] = [*load["per_side_kg"], 7.0]
    load["kg"] += 14
    load["text"] = f"{load['kg']:g} kg"


def cheaper_rule(tree: Tree) -> None:
    tree["rules"][0]["measure"] += 1


def better_proof(tree: Tree) -> None:
    tree["proof"]["tiers"][0]["objective"] += 1
    tree["proof"]["tiers"][0]["bound"] += 1


def other_verdict(tree: Tree) -> None:
    tier = tree["proof"]["tiers"][-1]
    tier["status"] = "not proved" if tier["status"] == "proved" else "proved"


SUMS: tuple[Callable[[Tree], None], ...] = (
    other_monday, other_date, gap_in_the_clock, longer_than_the_class, other_rating, softer_word,
    other_day_load, other_week_load, other_total, other_mass, plate_that_nobody_has, cheaper_rule,
    better_proof, other_verdict,
)  # fmt: skip
