"""Reads rule files; the gym's own replace, reweight or switch off those of the same id."""

from __future__ import annotations

from pathlib import Path

from pydantic import Field, model_validator

from planner.domain.base import Value
from planner.errors import DataError
from planner.load.validate import Mistake, checked, refuse
from planner.load.yaml_file import Located, nearest, read_yaml
from planner.rules import KINDS, Rule

OVERLAY = "rules.yaml"


class Change(Value):
    """What a gym changes about a rule that it does not write anew.

    Attributes:
        id: of the rule.
        off: switch it off, or on.
        weight: new weight; the rule is then no must.
        must: make it a must, or no longer.
        because: why the gym wants it so.
    """

    id: str
    off: bool | None = None
    weight: int | None = Field(None, ge=0, le=1000)
    must: bool | None = None
    because: str = ""

    @model_validator(mode="after")
    def _changes_something(self) -> Change:
        if self.off is None and self.weight is None and self.must is None:
            raise ValueError("say what changes: off, weight or must; or give the whole rule with its kind")
        return self


def load_rules(folder: Path, gym_folder: Path | None = None) -> tuple[Rule, ...]:
    """The rules in force, in file order; those of the gym last.

    Args:
        folder: with ``*.yaml`` rule files.
        gym_folder: may have a ``rules.yaml`` of its own.

    Raises:
        DataError: with file, line and key of everything that is wrong.
    """
    problems: list[Mistake] = []
    rules: dict[str, Rule] = {}
    files = sorted(folder.glob("*.yaml"))
    if not files:
        raise DataError(
            f"no rule files in {folder}", advice="It should have at least one file like rest.yaml."
        )
    for path in files:
        for node in _entries(path, problems):
            _add(node, rules, problems)
    own = gym_folder / OVERLAY if gym_folder else None
    if own is not None and own.exists():
        first: dict[str, Located] = {}
        for node in _entries(own, problems):
            rule = node.data.get("id") if isinstance(node.data, dict) else None
            if isinstance(rule, str) and rule in first:
                line = first[rule].place("id").line
                problems.append(
                    Mistake(node.place("id"), f'"{rule}" is in this file twice; first on line {line}')
                )
                continue
            if isinstance(rule, str):
                first[rule] = node
            _overlay(node, rules, problems)
    if problems:
        refuse(problems)
    return tuple(rules.values())


def _entries(path: Path, problems: list[Mistake]) -> list[Located]:
    top = read_yaml(path)
    if (
        not isinstance(top.data, dict)
        or list(top.data) != ["rules"]
        or not isinstance(top.data["rules"], list)
    ):
        problems.append(
            Mistake(top.place(), 'a rule file has one key, "rules:", with a list of rules under it')
        )
        return []
    return list(top.child("rules").children())


def _parsed(node: Located, problems: list[Mistake]) -> Rule | None:
    kind = node.data.get("kind") if isinstance(node.data, dict) else None
    if kind is None:
        problems.append(Mistake(node.place(), f"a rule needs a kind: one of {', '.join(KINDS)}"))
        return None
    if not isinstance(kind, str) or kind not in KINDS:
        hint = nearest(str(kind), list(KINDS)) or f" Known kinds: {', '.join(KINDS)}."
        problems.append(Mistake(node.place("kind"), f'there is no kind of rule called "{kind}".{hint}'))
        return None
    return checked(KINDS[kind], node, problems)


def _add(node: Located, rules: dict[str, Rule], problems: list[Mistake]) -> None:
    rule = _parsed(node, problems)
    if rule is None:
        return
    if rule.id in rules:
        problems.append(Mistake(node.place("id"), f'the id "{rule.id}" is there already; ids are unique'))
    rules[rule.id] = rule.as_shipped(shipped=True)


def _overlay(node: Located, rules: dict[str, Rule], problems: list[Mistake]) -> None:
    if isinstance(node.data, dict) and "kind" in node.data:
        rule = _parsed(node, problems)
        if rule is not None:
            rules[rule.id] = rule
        return
    change = checked(Change, node, problems)
    if change is None:
        return
    if change.id not in rules:
        hint = nearest(change.id, list(rules)) or ""
        problems.append(Mistake(node.place("id"), f'there is no rule "{change.id}" to change.{hint}'))
        return
    old = rules[change.id]
    update: dict[str, object] = {}
    if change.off is not None:
        update["off"] = change.off
    if change.weight is not None:
        update |= {"weight": change.weight, "must": False}
    if change.must is not None:
        update |= {"must": change.must, "weight": 0 if change.must else old.weight}
    if change.because:
        update["because"] = change.because
    rules[change.id] = old.model_copy(update=update).as_shipped(shipped=False)
