"""Rule files, and what a gym changes about them in its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import DataError
from planner.load.rule_names import check_rule_names
from planner.load.rule_origins import rule_origins
from planner.load.rules import load_rules
from planner.rules import Rule
from tests.prescribe import builders

BASE = """\
rules:
  - {id: soft, kind: limit, where: {pattern: squat}, at_most: 1, weight: 5, because: for the test}
  - {id: firm, kind: limit, where: {pattern: hinge}, at_most: 1, must: true, because: for the test}
  - {id: gone, kind: limit, where: {pattern: lunge}, at_most: 1, off: true, because: for the test}
"""


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, Path]:
    """A folder of rule files with one in it, and a gym's folder with nothing in it."""
    rules, gym = tmp_path / "constraints", tmp_path / "gym"
    for folder in (rules, gym):
        folder.mkdir()
    (rules / "base.yaml").write_text(BASE, encoding="utf-8")
    return rules, gym


def changed(folders: tuple[Path, Path], *lines: str) -> dict[str, Rule]:
    """The rules in force once the gym has its own file."""
    rules, gym = folders
    (gym / "rules.yaml").write_text("\n".join(["rules:", *(f"  - {x}" for x in lines)]), encoding="utf-8")
    return {r.id: r for r in load_rules(rules, gym)}


def test_a_weighted_rule_that_becomes_a_must_keeps_no_weight(folders: tuple[Path, Path]) -> None:
    rule = changed(folders, "{id: soft, must: true}")["soft"]
    assert (rule.level, rule.must, rule.weight) == ("must", True, 0)


def test_a_must_that_gets_a_weight_is_no_must(folders: tuple[Path, Path]) -> None:
    rule = changed(folders, "{id: firm, weight: 3}")["firm"]
    assert (rule.level, rule.must, rule.weight) == ("weight", False, 3)


def test_a_must_that_is_none_any_more_is_only_watched_and_the_others_stay(folders: tuple[Path, Path]) -> None:
    rules = changed(folders, "{id: firm, must: false}")
    assert rules["firm"].level == "watch"
    assert (rules["soft"].weight, rules["gone"].off) == (5, True)


def test_off_and_on_and_why(folders: tuple[Path, Path]) -> None:
    rules = changed(folders, "{id: soft, off: true, because: not with us}", "{id: gone, off: false}")
    assert (rules["soft"].off, rules["soft"].because, rules["soft"].weight) == (True, "not with us", 5)
    assert rules["gone"].off is False


def test_a_rule_written_anew_takes_the_place_of_the_old_one(folders: tuple[Path, Path]) -> None:
    new = "{id: soft, kind: spacing, where: {load: heavy}, hours: 48, weight: 1, because: ours instead}"
    rules = changed(folders, new)
    assert [*rules] == ["soft", "firm", "gone"]
    assert rules["soft"].kind == "spacing"


def test_one_id_twice_in_the_files_is_refused_whatever_its_level(folders: tuple[Path, Path]) -> None:
    again = BASE.split("\n")[1]
    (folders[0] / "more.yaml").write_text(f"rules:\n{again}\n", encoding="utf-8")
    with pytest.raises(DataError, match='"soft" is there already') as found:
        load_rules(folders[0])
    assert "more.yaml:2" in str(found.value)


def test_every_change_of_a_rule_is_named_with_its_file(folders: tuple[Path, Path]) -> None:
    changed(folders, "{id: soft, weight: 1}", "{id: firm, off: true}")
    assert rule_origins(*folders) == {
        "soft": "base.yaml, changed in rules.yaml",
        "firm": "base.yaml, changed in rules.yaml",
        "gone": "base.yaml",
    }


@pytest.mark.parametrize(
    ("line", "key", "right"),
    [
        ("{id: soft, kind: limit, where: {movement: bak_squat}, at_most: 1, because: our own one}",
         "rules.soft.where.movement", "back_squat"),
        ("{id: new, kind: sequence, never: [{load: heavy}, {item: [rowr]}], because: our own one}",
         "rules.new.never.#2.item.#1", "rower"),
        ("{id: new, kind: together, with: {scheme: besid}, never: {load: heavy}, because: our own one}",
         "rules.new.with.scheme", "beside"),
    ],
)  # fmt: skip
def test_a_name_that_nothing_has_is_said_where_the_gym_wrote_it(
    folders: tuple[Path, Path], line: str, key: str, right: str
) -> None:
    rules = tuple(changed(folders, line).values())

    with pytest.raises(DataError, match=f'Did you mean "{right}"') as found:
        check_rule_names(rules, builders.catalogue(), *folders)

    assert f"rules.yaml:2: {key}" in str(found.value)


def test_one_id_twice_in_the_gyms_own_file_is_refused(folders: tuple[Path, Path]) -> None:
    with pytest.raises(DataError, match='"soft" is in this file twice; first on line 2'):
        changed(folders, "{id: soft, weight: 1}", "{id: soft, off: true}")
