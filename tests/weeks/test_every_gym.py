"""Every gym gets a week: what it cannot keep of the musts as shipped is overruled and said."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from planner import paths
from planner.audit.as_written import AS_WRITTEN, ORIGIN
from planner.audit.audit import broken_musts
from planner.cli.tables.week import overruled_lines, proof_line
from planner.domain.changes import GymChanges
from planner.domain.week import Week
from planner.errors import NoPlanError
from planner.load.rules import load_rules
from planner.problem.lacking import lacking_words
from planner.problem.problem import Problem
from planner.render.html import week_html
from planner.weeks.audit import audit
from planner.weeks.draft import draft
from planner.weeks.keepable import HERE, kept_so
from planner.weeks.redraft import redraft
from planner.weeks.setting import load_setting
from tests.weeks.every_gym import INVENTED, KEEP_ALL, invented

WEEK, SECONDS = "2026-W49", 0.3
QUICK = {"hotel room", "school hall without a bar"}
HEAVY = {"heavy-squat", "heavy-hinge", "heavy-press"}


def folder_of(tmp_path: Path, name: str, rules: str = "", **more: Any) -> Path:
    (tmp_path / "gym.yaml").write_text(yaml.safe_dump(invented(name) | more), encoding="utf-8")
    if rules:
        (tmp_path / "rules.yaml").write_text(rules, encoding="utf-8")
    return tmp_path


def problem_of(tmp_path: Path, name: str) -> Problem:
    return load_setting(folder_of(tmp_path, name), WEEK).problem()


def given_up(week: Week) -> dict[str, list[str]]:
    return {r.id: [p.overruled for p in r.places if p.overruled] for r in week.rules if r.level == "must"}


@pytest.mark.parametrize(
    "name", [name if name in QUICK else pytest.param(name, marks=pytest.mark.slow) for name in INVENTED]
)
def test_every_gym_gets_a_week_that_its_audit_passes(name: str, tmp_path: Path) -> None:
    folder = folder_of(tmp_path, name)
    week = draft(folder, week=WEEK, seconds=SECONDS)
    reasons = {rule: said for rule, said in given_up(week).items() if said}
    assert bool(reasons) == (name not in KEEP_ALL)
    shipped = {r.id: r for r in load_setting(folder, WEEK).rules}
    for rule, said in reasons.items():
        assert shipped[rule].shipped
        for reason in said:
            assert reason.startswith(HERE)
            assert f"{{id: {rule}, off: true}}" in reason
            assert reason in week_html(week).replace("&#39;", "'")
    results = audit(Week.model_validate_json(week.model_dump_json()), folder)
    assert not broken_musts(results)
    assert all(r.measure == 0 for r in results if r.id in (AS_WRITTEN, ORIGIN))
    assert len(overruled_lines(week)) == sum(map(len, reasons.values()))
    assert (f"but for {len(overruled_lines(week))} overruled" in proof_line(week)) == bool(reasons)
    floor = [line for s in week.sessions for line in next(iter(s.pieces[1].versions.values())).lines]
    if "barbell" not in INVENTED[name][3]:
        assert all(line.tier != "heavy" for line in floor)  # never "heavy" where it is not


@pytest.fixture(scope="module")
def two_days(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Week]:
    folder = folder_of(tmp_path_factory.mktemp("gym"), "two open days")
    return folder, draft(folder, week=WEEK, seconds=SECONDS)


def test_no_more_is_given_up_than_has_to_be(two_days: tuple[Path, Week]) -> None:
    """Two days have room for two of three heavy lifts, and for two of three days of strengthening."""
    _, week = two_days
    said = {rule for rule, reasons in given_up(week).items() if reasons}
    assert len(said & HEAVY) == 1
    assert said - HEAVY == {"strengthening-days"}
    excused = [p.excused for r in week.rules for p in r.places if p.overruled]
    assert excused == [1, 1]


def test_a_file_that_claims_more_than_it_breaks_does_not_pass(two_days: tuple[Path, Week]) -> None:
    folder, week = two_days
    data = json.loads(week.model_dump_json())

    def broken(change: Callable[[dict[str, Any]], None]) -> set[str]:
        tree = json.loads(json.dumps(data))
        for rule in tree["rules"]:
            change(rule)
        return {r.id for r in broken_musts(audit(Week.model_validate_json(json.dumps(tree)), folder))}

    def unsaid(rule: dict[str, Any]) -> None:
        if rule["id"] == "strengthening-days":
            rule["places"] = []

    def of_less(rule: dict[str, Any]) -> None:
        for place in rule["places"] if rule["id"] == "strengthening-days" else ():
            place["excused"] = 0

    assert "strengthening-days" in broken(unsaid)
    assert "strengthening-days" in broken(of_less)
    assert broken(lambda _: None) == set()
    (folder / "rules.yaml").write_text(
        "rules:\n  - {id: strengthening-days, must: true, because: our members come for this}\n",
        encoding="utf-8",
    )
    try:
        assert "strengthening-days" in broken(lambda _: None)
    finally:
        (folder / "rules.yaml").unlink()


def test_each_reason_has_lines_to_paste(two_days: tuple[Path, Week], tmp_path: Path) -> None:
    _, week = two_days
    reasons = [reason for said in given_up(week).values() for reason in said]
    lines = [
        reason.split("In gym.yaml, ")[1].split("; or in rules.yaml, under rules: ") for reason in reasons
    ]
    assert [yaml.safe_load(of_gym) for of_gym, _ in lines] == [{"days": ["mon", "tue", "sat"]}] * 2
    own = "".join(f"  {of_rules}\n" for _, of_rules in lines)
    (tmp_path / "rules.yaml").write_text(f"rules:\n{own}", encoding="utf-8")
    off = {rule.id for rule in load_rules(paths.home().constraints, tmp_path) if rule.off}
    assert off == {rule for rule, said in given_up(week).items() if said}


@pytest.mark.slow
@pytest.mark.parametrize("rules", ["", "rules:\n  - {id: heavy-squat, off: true}\n"])
def test_what_is_pasted_changes_it(rules: str, tmp_path: Path) -> None:
    days = {} if rules else {"days": ["mon", "tue", "sat"]}
    week = draft(folder_of(tmp_path, "two open days", rules, **days), week=WEEK, seconds=SECONDS)
    assert {rule for rule, said in given_up(week).items() if said} == (
        {"strengthening-days"} if rules else set()
    )


@pytest.mark.parametrize(
    ("name", "said"),
    [
        (
            "garage with one bar for six",
            "needs 2 barbells for a class of 6, 3 to one, and the gym has 1 barbell",
        ),
        ("park with nothing", "needs 4 barbells for a class of 10, 3 to one, and the gym has no barbell"),
        ("hotel room", "needs 1 barbell for one person, and the gym has no barbell"),
    ],
)
def test_items_counts_and_the_class_are_named(name: str, said: str, tmp_path: Path) -> None:
    problem = problem_of(tmp_path, name)
    rule = next(r for r in problem.rules if r.id == "heavy-hinge")
    assert said in lacking_words(problem, rule.selectors()[0])


def test_a_must_of_the_coachs_own_clashes(tmp_path: Path) -> None:
    """She asked for it: then there is no week, and nothing is named that only came with the program."""
    rules = "rules:\n  - {id: heavy-squat, must: true, because: we are known for our squats}\n"
    with pytest.raises(NoPlanError) as refused:
        draft(folder_of(tmp_path, "school hall without a bar", rules), week=WEEK, seconds=SECONDS)
    (clash,) = refused.value.clashes
    (only,) = clash
    assert only.startswith("heavy-squat: ")
    assert "needs 7 barbells for a class of 20, 3 to one, and the gym has no barbell" in only


@pytest.mark.slow
def test_a_redraft_after_a_loss_or_with_one_day_comes_too() -> None:
    here = load_setting(paths.home().shared / "gyms/demo", WEEK)
    week = draft(paths.home().shared / "gyms/demo", week=WEEK, seconds=2.5)
    for changes in (GymChanges(without=("barbell",)), GymChanges(days=("tue",))):
        made = redraft(here, week, changes=changes, seconds=1.0)
        assert not broken_musts(made.week.rules)
        assert kept_so(made.week, here.rules)
        assert re.search(r"No piece|No week|pieces change", made.certificate)
