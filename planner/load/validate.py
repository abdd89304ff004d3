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

MAX_PROBLEMS, MAX_CHARACTERS = 10, 1200
"""More in one message would not be read; the first problem is always told."""
MAX_FAULTS = 200
"""Faults of one value that are put into words; a huge file can have more than there is time for."""

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
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be at least {ge:g}",
    "less_than": "must be less than {lt:g}",
    "less_than_equal": "must be at most {le:g}",
    "finite_number": "must be a number",
    "none_required": "must be left out",
    "missing_argument": "must be given",
    "union_tag_not_found": "must say which kind it is",
    "recursion_loop": "must not contain itself",
    "too_short": "must have at least {min_length}, and has {actual_length}",
    "too_long": "must have at most {max_length}, and has {actual_length}",
    "string_too_short": "must not be empty",
    "string_too_long": "must have at most {max_length} characters",
}
_PATTERNS = {
    "^[a-z][a-z0-9_]*$": "must be lower-case letters, digits and underscores, a letter first",
    "^[a-z0-9][a-z0-9-]*$": "must be lower-case letters, digits and hyphens",
    "^[A-Z][A-Z0-9]{0,3}$": "must be one to four capital letters and digits, a letter first",
}

_OTHER_TYPE = ("_type", "_parsing", "_from_float")
_TYPE_STEP = re.compile(r"[\[\]()]|^(?:constrained-|function-)|^(?:int|float|str|bool)$")
"""Steps in the library's account of a fault that are not in the file."""


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
    first, *others = problems
    lines = [first.what]
    for problem in others[: MAX_PROBLEMS - 1]:
        line = f"{problem.place}: {problem.what}"
        if sum(map(len, lines)) + len(line) > MAX_CHARACTERS:
            break
        lines.append(line)
    if len(problems) > len(lines):
        lines.append(f"... and {len(problems) - len(lines)} more.")
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
        faults = error.errors(include_url=False)
        problems += _problems(model_type, node, faults[:MAX_FAULTS])
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


def faults_in_words(
    model_type: type[BaseModel], errors: list[ErrorDetails]
) -> list[tuple[tuple[int | str, ...], str]]:
    """What is wrong with a value, each with its steps from the top, without the words of the library.

    Where a value may be of several types, those are left out that it does not even resemble.
    """
    by_place: dict[tuple[int | str, ...], list[ErrorDetails]] = {}
    for error in errors:
        by_place.setdefault(_in_data(error), []).append(error)
    said = []
    for steps, found in by_place.items():
        deeper = any(len(other) > len(steps) and other[: len(steps)] == steps for other in by_place)
        wrong = [error for error in found if not error["type"].endswith(_OTHER_TYPE)]
        if deeper:  # a list counts only its good entries
            wrong = [error for error in wrong if error["type"] != "too_short"]
        if wrong or not deeper:
            said.append((steps, _joined(model_type, wrong or found)))
    return said


def fault_in_words(model_type: type[BaseModel], error: ValidationError) -> str:
    """The first fault of a value that comes from no file, with its key where it has one."""
    steps, said = faults_in_words(model_type, error.errors(include_url=False))[0]
    return f"{'.'.join(map(str, steps))}: {said}" if steps else said


def _problems(model_type: type[BaseModel], node: Located, errors: list[ErrorDetails]) -> list[Mistake]:
    by_place: dict[Place, list[str]] = {}
    for steps, words in faults_in_words(model_type, errors):
        by_place.setdefault(node.place(*steps), []).append(words)
    return [Mistake(place, "; ".join(dict.fromkeys(said))) for place, said in by_place.items()]


def _in_data(error: ErrorDetails) -> tuple[int | str, ...]:
    """Where it is, without steps that name a choice of types, or the bad key of a mapping once more."""
    return tuple(s for s in error["loc"] if isinstance(s, int) or not _TYPE_STEP.search(s))


def _joined(model_type: type[BaseModel], errors: list[ErrorDetails]) -> str:
    """One sentence, with what was found at its end where that helps."""
    said = list(dict.fromkeys(_sentence(model_type, error) for error in errors))
    musts = [words.removeprefix("must ") for words in said if words.startswith("must ")]
    if len(musts) < len(said):
        return "; ".join(said)
    counted = {"too_short", "too_long"} & {error["type"] for error in errors}
    found = "" if counted else f"; it is {_short(errors[0].get('input'))}"
    first, *others = musts
    return f"must {', or '.join([first, *(m.removeprefix('be ') for m in others)])}{found}"


def _sentence(model_type: type[BaseModel], error: ErrorDetails) -> str:
    kind, loc, context = error["type"], error["loc"], error.get("ctx", {})
    found = error.get("input")
    if kind == "missing":
        return f'"{loc[-1]}" is missing'
    if kind == "extra_forbidden":
        names = _field_names(model_type, loc[:-1])
        hint = nearest(str(loc[-1]), names) or f" Known here: {', '.join(names)}."
        return f"unknown key {_short(str(loc[-1]))}.{hint}"
    if kind == "literal_error":
        right = re.findall(r"'([^']*)'", str(context.get("expected", "")))
        hint = nearest(str(found), right) or f" It must be one of {', '.join(right)}."
        return f"{_short(found)} is not known here.{hint}"
    if kind == "value_error":
        return error["msg"].removeprefix("Value error, ")
    if kind == "string_pattern_mismatch" and context.get("pattern") in _PATTERNS:
        return _PATTERNS[context["pattern"]]
    template = _WORDS.get(kind)
    return template.format(**context) if template else "must be something else"


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
