"""Turns what was read into a model, or says all that is wrong with it, each with its place."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, NoReturn, TypeVar, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from planner.errors import DataError, Place
from planner.load.yaml_file import Located, nearest

Model = TypeVar("Model", bound=BaseModel)

MAX_PROBLEMS = 40
"""More in one message would not be read."""

_WORDS = {
    "tuple_type": "must be a list: in square brackets, or one item a line",
    "list_type": "must be a list: in square brackets, or one item a line",
    "dict_type": "must be a set of keys and values",
    "model_type": "must be a set of keys and values",
    "model_attributes_type": "must be a set of keys and values",
    "string_type": "must be text; put quotes around it",
    "int_type": "must be a whole number",
    "int_parsing": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "float_parsing": "must be a number",
    "bool_type": "must be true or false",
    "bool_parsing": "must be true or false",
    "greater_than": "must be more than {gt}",
    "greater_than_equal": "must be at least {ge}",
    "less_than": "must be less than {lt}",
    "less_than_equal": "must be at most {le}",
    "too_short": "must have at least {min_length}, and has {actual_length}",
    "too_long": "must have at most {max_length}, and has {actual_length}",
    "string_too_short": "must have at least {min_length} characters",
    "string_too_long": "must have at most {max_length} characters",
    "string_pattern_mismatch": "must look like {pattern}",
}
_ID_PATTERN = "^[a-z][a-z0-9_]*$"


@dataclass(frozen=True)
class Mistake:
    """One thing that is wrong.

    Attributes:
        place: where.
        what: in a sentence, with the nearest right word where there is one.
    """

    place: Place
    what: str


def refuse(problems: list[Mistake], advice: str = "") -> NoReturn:
    """Raise all problems as one error, each on its own line.

    Args:
        problems: at least one.
        advice: said once, at the end.

    Raises:
        DataError: always.
    """
    first, *others = problems[:MAX_PROBLEMS]
    lines = [first.what, *(f"{p.place}: {p.what}" for p in others)]
    if len(problems) > MAX_PROBLEMS:
        lines.append(f"... and {len(problems) - MAX_PROBLEMS} more.")
    raise DataError("\n".join(lines), first.place, advice)


def validated(model_type: type[Model], node: Located) -> Model:
    """Check a value against its model.

    Args:
        model_type: what it should be.
        node: what was read.

    Raises:
        DataError: with every problem on its own line: file, line, key, and the nearest right word.
    """
    problems: list[Mistake] = []
    model = checked(model_type, node, problems)
    if model is None:
        refuse(problems)
    return model


def checked(model_type: type[Model], node: Located, problems: list[Mistake]) -> Model | None:
    """Check a value against its model, and add what is wrong to ``problems``; None if anything is."""
    try:
        return model_type.model_validate(node.data)
    except ValidationError as error:
        problems += _problems(model_type, node, error.errors(include_url=False))
        return None


def entries(
    model_type: type[Model], top: Located, key: str, problems: list[Mistake]
) -> list[tuple[Model, Located]]:
    """The entries of a file that has one key with a list under it; what is wrong goes to ``problems``.

    Args:
        model_type: of each entry.
        top: the file.
        key: the one key.
        problems: added to.

    Returns:
        The good entries, in file order, each with its place.
    """
    if not isinstance(top.data, dict):
        problems.append(Mistake(top.place(), f'the file must begin with "{key}:"'))
        return []
    for other in top.data:
        if other != key:
            hint = nearest(str(other), [key]) or f' The only key at the top is "{key}".'
            problems.append(Mistake(top.place(str(other)), f'unknown key "{other}".{hint}'))
    if key not in top.data:
        if not problems:
            problems.append(Mistake(top.place(), f'the file must have "{key}:" with a list under it'))
        return []
    if not isinstance(top.data[key], list):
        problems.append(Mistake(top.place(key), "must be a list: each entry with a dash before it"))
        return []
    found = ((checked(model_type, node, problems), node) for node in top.child(key).children())
    return [(model, node) for model, node in found if model is not None]


def _problems(model_type: type[BaseModel], node: Located, errors: list[ErrorDetails]) -> list[Mistake]:
    """One problem for each place; where a value may be of several types, what each would need, joined."""
    by_place: dict[Place, list[str]] = {}
    for error in errors:
        # A bad key of a mapping is reported one step below itself; the walk passes over that step.
        said = by_place.setdefault(node.place(*error["loc"]), [])
        words = _sentence(model_type, error)
        if words not in said:
            said.append(words)
    return [Mistake(place, _joined(said)) for place, said in by_place.items()]


def _joined(said: list[str]) -> str:
    choices = [words.removeprefix("must ") for words in said]
    if len(said) > 1 and all(words.startswith("must ") for words in said):
        return "must " + ", or ".join(choices)
    return "; ".join(said)


def _sentence(model_type: type[BaseModel], error: ErrorDetails) -> str:
    kind, loc, context = error["type"], error["loc"], error.get("ctx", {})
    found = error.get("input")
    if kind == "missing":
        return f'"{loc[-1]}" is missing'
    if kind == "extra_forbidden":
        names = _field_names(model_type, loc[:-1])
        hint = nearest(str(loc[-1]), names) or f" Known here: {', '.join(names)}."
        return f'unknown key "{loc[-1]}".{hint}'
    if kind == "literal_error":
        right = re.findall(r"'([^']*)'", str(context.get("expected", "")))
        hint = nearest(str(found), right) or f" It must be one of {', '.join(right)}."
        return f"{_short(found)} is not known here.{hint}"
    if kind == "value_error":
        return error["msg"].removeprefix("Value error, ")
    if kind == "string_pattern_mismatch" and context.get("pattern") == _ID_PATTERN:
        return f"must be lower-case letters, digits and underscores, a letter first; it is {_short(found)}"
    template = _WORDS.get(kind)
    words = template.format(**context) if template else error["msg"]
    return words if kind in {"too_short", "too_long"} else f"{words}; it is {_short(found)}"


def _short(value: Any) -> str:
    if isinstance(value, dict | list | tuple):
        return "a set of keys and values" if isinstance(value, dict) else "a list"
    if value is None:
        return "empty"
    if isinstance(value, bool):
        return str(value).lower()
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else f'{text[:57]}..."'  # noqa: PLR2004  (fits a line)


def _field_names(model_type: type[BaseModel], loc: tuple[int | str, ...]) -> list[str]:
    """Keys that are right at a place inside a model."""
    models = [model_type]
    for step in loc:
        under = [
            field.annotation
            for model in models
            for name, field in model.model_fields.items()
            if step in {name, field.alias}
        ]
        if under:
            models = [model for annotation in under for model in _models_in(annotation)]
    fields = [(name, field) for model in models for name, field in model.model_fields.items()]
    return list(dict.fromkeys(field.alias or name for name, field in fields))


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in _models_in(part)]
