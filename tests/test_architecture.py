"""Imports point one way, and an audit shares no code with the encoding that it checks."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "planner"
MODULES = sorted(ROOT.rglob("*.py"))

# What each part of the package may import from the others, be it only for typing.
MAY_IMPORT: dict[str, set[str]] = {
    "errors": set(),
    "extensions": {"errors"},
    "stopping": set(),
    "paths": {"errors"},
    "version": set(),
    "domain": {"errors"},
    "rules": {"domain", "errors", "extensions"},
    "load": {"domain", "errors", "prescribe", "rules", "stopping"},
    "language": {"domain", "errors", "load"},
    "problem": {"domain", "errors", "prescribe", "rules"},
    "solve": {"domain", "errors", "problem", "rules", "stopping"},
    "audit": {"domain", "errors", "prescribe", "problem", "rules"},
    "floor": {"domain", "errors"},
    "prescribe": {"domain", "errors", "floor"},
    "render": {"domain", "errors", "extensions", "floor", "paths", "prescribe", "stopping"},
    "reference": {"domain", "language", "load", "rules"},
    "store": {"domain", "errors", "load", "stopping"},
    "weeks": {
        "audit", "domain", "errors", "floor", "language", "load", "paths", "prescribe", "problem", "render",
        "rules", "solve", "store", "version",
    },
    "cli": {
        "domain", "errors", "extensions", "floor", "language", "load", "paths", "reference", "render",
        "rules", "store", "weeks", "__init__",
    },
    "__init__": {"load", "version", "weeks"},
    "__main__": {"cli", "stopping"},
}  # fmt: skip

# Libraries that only some parts may use when the program runs.
ONLY_IN: dict[str, set[str]] = {
    "ortools": {"solve"},
    "lark": {"language"},
    "yaml": {"load"},
    "jinja2": {"render"},
    "icalendar": {"render"},
    "weasyprint": {"render"},
    "fontTools": {"render"},
    "networkx": {"domain"},
    "numpy": {"floor"},
    "typer": {"cli"},
    "rich": {"cli"},
    "sqlite3": {"store"},
    "highspy": set(),
    "simpy": set(),
    "ciw": set(),
}


def part_of(path: Path) -> str:
    """The subpackage, or the module where there is none."""
    inside = path.relative_to(ROOT).parts
    return inside[0] if len(inside) > 1 else path.stem


def imports(node: ast.AST, *, typing_too: bool) -> Iterator[tuple[int, str]]:
    """Line and full name of each import, those inside functions too."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.If) and ast.unparse(child.test).endswith("TYPE_CHECKING") and not typing_too:
            continue
        if isinstance(child, ast.Import):
            yield from ((child.lineno, name.name) for name in child.names)
        elif isinstance(child, ast.ImportFrom):
            assert child.level == 0, f"line {child.lineno}: write the whole name of what is imported"
            yield from ((child.lineno, f"{child.module}.{name.name}") for name in child.names)
        yield from imports(child, typing_too=typing_too)


def inner(name: str) -> str | None:
    """The part of this package that a name is in; None for another library's."""
    first, *rest = name.split(".")
    if first != "planner":
        return None
    return rest[0] if rest and rest[0] in MAY_IMPORT else "__init__"


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(ROOT)))
def test_imports_point_one_way(path: Path) -> None:
    part = part_of(path)
    assert part in MAY_IMPORT, f"{path}: say in this test what {part} may import"
    tree = ast.parse(path.read_text(encoding="utf-8"))
    wrong = [
        f"{path}:{line}: {part} must not import {name}"
        for line, name in imports(tree, typing_too=True)
        if (other := inner(name)) is not None and other != part and other not in MAY_IMPORT[part]
    ]
    wrong += [
        f"{path}:{line}: {name} belongs in {', '.join(ONLY_IN[library]) or 'no part'}"
        for line, name in imports(tree, typing_too=False)
        if (library := name.split(".")[0]) in ONLY_IN and part not in ONLY_IN[library]
    ]
    assert not wrong, "\n".join(wrong)


def test_the_arrows_have_no_circle() -> None:
    import networkx as nx

    arrows = [(a, b) for a, others in MAY_IMPORT.items() for b in others if b != "__init__"]
    assert nx.is_directed_acyclic_graph(nx.DiGraph(arrows))


def test_no_two_classes_have_one_name() -> None:
    """A name that is imported means one thing; what is private to a module may be called as it likes."""
    places: dict[str, list[str]] = {}
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                places.setdefault(node.name, []).append(f"{path.relative_to(ROOT)}:{node.lineno}")
    twice = [f"{name}: {', '.join(found)}" for name, found in places.items() if len(found) > 1]
    assert not twice, "\n".join(twice)


def test_one_module_is_called_words() -> None:
    """The others say which words they have."""
    assert [str(path.relative_to(ROOT)) for path in MODULES if path.stem == "words"] == ["domain/words.py"]


def kinds() -> list[tuple[Path, ast.ClassDef]]:
    """Each class that has both an encoding and an audit of its own."""
    found = []
    for path in sorted((ROOT / "rules").glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and path.stem != "base":
                names = {f.name for f in node.body if isinstance(f, ast.FunctionDef)}
                if {"encode", "audit"} <= names:
                    found.append((path, node))
    return found


def reached(start: str, bodies: dict[str, ast.FunctionDef]) -> set[str]:
    """Functions of the module that one of them calls, directly or not."""
    seen: set[str] = set()
    waiting = [start]
    while waiting:
        for node in ast.walk(bodies[waiting.pop()]):
            name = node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")
            if name in bodies and name not in seen:
                seen.add(name)
                waiting.append(name)
    return seen - {start}


@pytest.mark.parametrize(("path", "kind"), kinds(), ids=lambda x: getattr(x, "name", ""))
def test_an_audit_shares_no_code_with_its_encoding(path: Path, kind: ast.ClassDef) -> None:
    module = ast.parse(path.read_text(encoding="utf-8"))
    bodies = {f.name: f for f in (*module.body, *kind.body) if isinstance(f, ast.FunctionDef)}
    bodies = {name: f for name, f in bodies.items() if name not in {"statement", "sentence", "remedy"}}
    shared = reached("encode", bodies) & reached("audit", bodies)
    assert not shared, f"{path.name}: encode and audit of {kind.name} both use {', '.join(sorted(shared))}"


def test_there_are_kinds_to_look_at() -> None:
    from planner.rules import KINDS

    assert {node.name for _, node in kinds()} == {kind.__name__ for kind in KINDS.values()}
