"""The page on the model speaks of what is in the code, and of nothing that is not."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "docs" / "model.md").read_text(encoding="utf-8")
NAMES = sorted(set(re.findall(r"`([A-Za-z_]+(?:\.[a-z_]+)?)`", PAGE)) - {"code", "planner"})


def defined() -> dict[str, set[str]]:
    """Every class, function and constant of the package, with the names that it holds."""
    out: dict[str, set[str]] = {}
    for path in (ROOT / "planner").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                inside = {x.name for x in node.body if isinstance(x, ast.FunctionDef)}
                inside |= {x.target.id for x in node.body if isinstance(x, ast.AnnAssign)}  # type: ignore[union-attr]
                selfs = (x for x in ast.walk(node) if isinstance(x, ast.Attribute))
                out.setdefault(node.name, set()).update(inside, (x.attr for x in selfs))
            elif isinstance(node, ast.FunctionDef):
                out.setdefault(node.name, set())
            elif isinstance(node, (ast.Assign, ast.AnnAssign)):
                targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                names = (x for t in targets for x in ast.walk(t) if isinstance(x, ast.Name))
                out |= {x.id: out.get(x.id, set()) for x in names}
    return out


DEFINED = defined()


@pytest.mark.parametrize("name", NAMES)
def test_every_name_on_the_page_is_in_the_code(name: str) -> None:
    owner, _, member = name.partition(".")

    assert owner in DEFINED
    assert not member or member in DEFINED[owner]


def test_the_page_names_every_kind_of_requirement() -> None:
    kinds = re.search(
        r"Kind = Literal\[(.*?)\]", (ROOT / "planner/problem/requirements.py").read_text("utf-8")
    )
    assert kinds
    rows = PAGE.split("## Requirements")[1].split("## ")[0]

    for kind in re.findall(r'"([a-z-]+)"', kinds[1]):
        assert re.search(rf"^\|.*\b{kind}\b", rows, re.MULTILINE), kind


def test_the_page_is_short() -> None:
    assert len(PAGE.splitlines()) <= 170
    assert len(NAMES) >= 30
