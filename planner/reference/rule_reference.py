"""The rule reference, ``constraints/README.md``, written from the models that check the rule files.

``python -m planner.reference.rule_reference > constraints/README.md`` writes it anew; a test compares.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable
from typing import Any

from pydantic import BaseModel

from planner.rules import KINDS
from planner.rules.base import Rule
from planner.rules.where import Where

_INTRO = """\
# Rules

This page is generated from the program; do not edit it by hand.

Each `*.yaml` file here holds rules of one topic under the key `rules:`. A rule is a measurement: a whole
number that is not negative, with a unit, at each place where it applies. With `must: true` it has to be
nought. With a `weight` each unit of it costs so many points, and the planner looks for the week with the
fewest points. With neither it is measured and reported only.

A gym's own `rules.yaml` comes on top of these files. There an entry with a `kind` adds a rule, or replaces
the one with the same `id`; an entry without a `kind` changes one: `off`, `weight`, `must`, and `because`.
A mistake is answered with file, line, key and the nearest right word. `planner rules --gym GYM` lists what
is in force.

    rules:
      - id: heavy-squat-rest
        kind: spacing
        where: {pattern: squat, load: heavy}
        hours: 48
        must: true
        because: hard work on the same pattern needs two days
        source: common practice
"""
_SCALARS = {
    "integer": "whole number",
    "number": "number",
    "boolean": "true or false",
    "string": "text",
    "null": "nothing",
}


def rule_reference() -> str:
    """The whole page."""
    parts = [_INTRO, "## Keys of every rule\n", *_fields(Rule, Rule.model_fields)]
    parts += [
        "\n## Selectors: `where` and its like\n",
        f"{_first_paragraph(Where)}\n",
        "A single value may stand without brackets: `load: heavy`.\n",
        *_fields(Where, Where.model_fields),
    ]
    for name, kind in KINDS.items():
        own = [field for field in kind.model_fields if field not in Rule.model_fields]
        parts += [f"\n## `{name}`\n", f"{_first_paragraph(kind)}\n", *_fields(kind, own)]
    return "\n".join(parts) + "\n"


def _fields(model: type[BaseModel], names: Iterable[str]) -> list[str]:
    """One item of a list for each field: key, type, default, meaning."""
    schema = model.model_json_schema(by_alias=True)
    meanings = _attributes(model)
    lines = []
    for name in names:
        field = model.model_fields[name]
        key = field.alias or name
        stated = schema["properties"][key]
        default = "needed" if field.is_required() else _default(field.get_default(call_default_factory=True))
        lines.append(f"- `{key}` ({_type_words(stated)}; {default}): {_meaning(name, meanings)}")
    return lines


def _meaning(name: str, meanings: dict[str, str]) -> str:
    """What a docstring says about a field, be it along with another."""
    if name in meanings:
        return meanings[name].replace("``", "`")
    other = next((field for field, said in meanings.items() if f"``{name}``" in said), None)
    if other is None:
        raise KeyError(f"no docstring says what {name} means")
    return f"as `{other}`."


def _default(value: Any) -> str:
    if value is None or value in ("", ()) or isinstance(value, BaseModel):
        return "may be left out"
    return f"{str(value).lower()} unless given"


def _type_words(schema: dict[str, Any]) -> str:
    """A JSON Schema's type as a coach would read it."""
    if "$ref" in schema:
        return "selector"
    if "anyOf" in schema:
        return " or ".join(_type_words(s) for s in schema["anyOf"] if s.get("type") != "null")
    if "const" in schema:
        return f"`{schema['const']}`"
    if "enum" in schema:
        words = [f"`{word}`" for word in schema["enum"] if word != ""]
        return f"one of {', '.join(words)}" if len(words) > 1 else words[0]
    if schema.get("type") == "array":
        return _list_words(schema)
    return _SCALARS[schema["type"]] + _range_words(schema)


def _list_words(schema: dict[str, Any]) -> str:
    pair = schema.get("prefixItems")
    if pair:
        return "list of " + " and ".join(_type_words(item) for item in pair)
    items = _type_words(schema["items"])
    return f"any {items}" if items.startswith("one of") else f"list of {items}"


def _range_words(schema: dict[str, Any]) -> str:
    low, high = schema.get("minimum"), schema.get("maximum")
    if low is not None and high is not None:
        return f", {low} to {high}"
    return f", at least {low}" if low is not None else ""


def _first_paragraph(model: type[BaseModel]) -> str:
    """A docstring down to its list of attributes, with its line breaks and paragraphs."""
    text = _doc(model).split("Attributes:")[0].replace("``", "`")
    return "\n".join(line.strip() for line in text.strip().splitlines())


def _attributes(model: type[BaseModel]) -> dict[str, str]:
    """What the docstrings of a model and of its parents say about each field."""
    found: dict[str, str] = {}
    for parent in reversed(model.__mro__):
        if not (isinstance(parent, type) and issubclass(parent, BaseModel) and parent.__doc__):
            continue
        _, _, section = _doc(parent).partition("Attributes:\n")
        for match in re.finditer(r"^ {4}(\w+): (.*(?:\n {8}.*)*)", section, re.MULTILINE):
            found[match[1]] = re.sub(r"\s*\n\s*", " ", match[2])
    return found


def _doc(model: type[BaseModel]) -> str:
    lines = (model.__doc__ or "").splitlines()
    return "\n".join([lines[0], *(line.removeprefix("    ") for line in lines[1:])])


if __name__ == "__main__":
    sys.stdout.write(rule_reference())
