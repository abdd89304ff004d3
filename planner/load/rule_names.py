"""Checks that what rules call by name is in the catalogue: a typo would match nothing, in silence."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from planner.domain.base import Value
from planner.domain.catalogue import Catalogue
from planner.load.rules import OVERLAY
from planner.load.validate import Mistake, refuse
from planner.load.yaml_file import Located, Step, nearest, read_yaml
from planner.rules import Rule
from planner.rules.where import Where


def check_rule_names(
    rules: tuple[Rule, ...], catalogue: Catalogue, folder: Path, gym_folder: Path | None = None
) -> None:
    """Every movement, equipment, scheme and format that a rule names is there.

    Args:
        rules: as loaded from these folders.
        catalogue: what there is.
        folder: of rule files.
        gym_folder: may have a ``rules.yaml`` of its own.

    Raises:
        DataError: with file, line, key and the nearest right word of every name that is not.
    """
    names = {
        "movement": tuple(catalogue.movements),
        "item": tuple(catalogue.items),
        "scheme": tuple(catalogue.schemes),
        "format": tuple(catalogue.formats),
    }
    nodes = _nodes(folder, gym_folder)
    problems = [p for rule in rules for p in _problems(rule, nodes[rule.id], names)]
    if problems:
        refuse(problems)


def _nodes(folder: Path, gym_folder: Path | None) -> dict[str, Located]:
    """Where each rule is written whole; the gym's own comes last and counts."""
    own = gym_folder / OVERLAY if gym_folder else None
    files = sorted(folder.glob("*.yaml")) + ([own] if own is not None and own.exists() else [])
    written = [node for path in files for node in read_yaml(path).child("rules").children()]
    return {node.data["id"]: node for node in written if "kind" in node.data}


def _problems(rule: Rule, node: Located, names: dict[str, tuple[str, ...]]) -> Iterator[Mistake]:
    for steps, part in _parts(rule):
        for key, known in names.items():
            if key not in type(part).model_fields:
                continue
            for index, word in enumerate(getattr(part, key)):
                if word not in known:
                    what = "equipment" if key == "item" else key
                    yield Mistake(
                        node.place(*steps, key, index), f'there is no {what} "{word}".{nearest(word, known)}'
                    )


def _parts(rule: Rule) -> Iterator[tuple[tuple[Step, ...], Value]]:
    """The rule itself and each selector in it, with the steps down to it."""
    yield (), rule
    for name, field in type(rule).model_fields.items():
        value, key = getattr(rule, name), field.alias or name
        if isinstance(value, Where):
            yield (key,), value
        elif isinstance(value, tuple):
            yield from (((key, i), part) for i, part in enumerate(value) if isinstance(part, Where))
