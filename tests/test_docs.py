"""README, rule reference and developers' page say what the program does today."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
import typer

from planner.cli import app
from planner.reference.rule_reference import rule_reference
from planner.rules import KINDS
from planner.rules.base import Rule
from planner.rules.where import Where

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
REFERENCE = (ROOT / "constraints" / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w*)\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


def commands() -> dict[str, list[str]]:
    """Options of each command, by its words: ``catalogue check``."""
    found: dict[str, list[str]] = {}

    def walk(command: object, words: tuple[str, ...]) -> None:
        for name, child in getattr(command, "commands", {}).items():
            walk(child, (*words, name))
        if not hasattr(command, "commands"):
            options = [o for p in command.params for o in p.opts if o.startswith("--")]  # type: ignore[attr-defined]
            found[" ".join(words)] = options

    walk(typer.main.get_command(app), ())
    return found


def test_the_first_two_blocks_are_one_line_of_shell_each() -> None:
    assert [language for language, _ in BLOCKS[:2]] == ["sh", "sh"]
    assert [text.count("\n") for _, text in BLOCKS[:2]] == [1, 1]
    assert "planner draft shared/gyms/demo" in BLOCKS[0][1]
    assert BLOCKS[1][1].rstrip().endswith("-m pytest")


@pytest.mark.parametrize("command", commands())
def test_every_command_and_option_is_in_the_readme(command: str) -> None:
    rows = [
        line
        for line in README.splitlines()
        if line.startswith((f"| `planner {command} ", f"| `planner {command}`"))
    ]
    assert len(rows) == 1, f"the table of commands has no row for planner {command}"
    known = {*re.findall(r"--[\w-]+", rows[0]), "--help", "--force"}  # told once, for all
    missing = [option for option in commands()[command] if option not in known]
    assert not missing, f"planner {command}: {', '.join(missing)} not in the README"


@pytest.mark.parametrize("command", commands())
def test_the_readme_gives_no_option_that_is_not_there(command: str) -> None:
    row = next(
        line
        for line in README.splitlines()
        if line.startswith((f"| `planner {command} ", f"| `planner {command}`"))
    )
    usage = row.split("|", 2)[1] if "\\|" not in row else row.replace("\\|", "/").split("|", 2)[1]
    assert set(re.findall(r"--[\w-]+", usage)) <= set(commands()[command])


def test_what_the_readme_shows_and_links_is_there() -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", README + DEVELOPERS):
        if "://" not in target:
            assert (ROOT / target).exists(), target


def test_the_rule_reference_is_up_to_date() -> None:
    assert rule_reference() == REFERENCE, (
        "run: python -m planner.reference.rule_reference > constraints/README.md"
    )


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_and_each_of_its_keys_is_in_the_rule_reference(kind: str) -> None:
    section = REFERENCE.split(f"## `{kind}`\n", 1)[1].split("\n## ", 1)[0]
    for name, field in KINDS[kind].model_fields.items():
        if name not in Rule.model_fields:
            assert re.search(
                rf"(?m)^- `{field.alias or name}` \(.+\): \w+|^- `{field.alias or name}` ", section
            ), name


def test_every_key_of_a_selector_is_in_the_rule_reference() -> None:
    for name in (*Where.model_fields, *Rule.model_fields):
        assert f"- `{name}` (" in REFERENCE


def test_every_topic_of_rules_is_in_the_readme() -> None:
    for path in (ROOT / "constraints").glob("*.yaml"):
        assert f"- **{path.stem.capitalize()}**:" in README


def test_the_developers_page_names_every_part() -> None:
    parts = [p.parent.name for p in (ROOT / "planner").glob("*/__init__.py")]
    assert [part for part in parts if f"`planner/{part}/`" not in DEVELOPERS] == []


def test_every_path_on_the_developers_page_is_there() -> None:
    for path in re.findall(r"`((?:planner|shared|constraints|templates|tests)/[\w/.-]*)`", DEVELOPERS):
        assert (ROOT / path).exists(), path


def test_the_examples_on_the_developers_page_are_those_that_are_tried() -> None:
    extras = ROOT / "tests" / "outside"
    files = [*(extras / "gym_extras").glob("*.py"), *extras.glob("*/entry_points.txt")]
    there = {line.strip() for path in files for line in path.read_text(encoding="utf-8").splitlines()}
    blocks = re.findall(r"^```(python|toml)\n(.*?)^```", DEVELOPERS, re.MULTILINE | re.DOTALL)
    shown = [
        line.strip() for language, block in blocks if language == "python" for line in block.splitlines()
    ]
    (entries,) = (block for language, block in blocks if language == "toml")

    assert len(shown) > 40
    assert [line for line in shown if line not in there] == []
    for group, lines in tomllib.loads(entries)["project"]["entry-points"].items():
        assert f"[{group}]" in there
        assert {f"{name} = {value}" for name, value in lines.items()} <= there


def test_the_version_is_that_of_the_newest_entry() -> None:
    version = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    newest = re.search(r"(?m)^## (\S+)", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"))
    assert newest is not None
    assert newest[1] == version
