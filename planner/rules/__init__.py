"""Kinds of rules: each is a module here, found by itself, or one that another installed package adds."""

from __future__ import annotations

from functools import reduce
from importlib import import_module
from inspect import isabstract
from operator import or_
from pkgutil import iter_modules
from types import ModuleType
from typing import TYPE_CHECKING, Annotated, Any, get_args

from pydantic import Field, TypeAdapter

from planner.errors import DataError
from planner.extensions import RULE_KINDS, added
from planner.rules.base import Rule


def _kinds() -> dict[str, type[Rule]]:
    """Every kind of rule by its name, ours first."""
    modules = [import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__)]
    kinds: dict[str, type[Rule]] = {}
    for module in (*modules, *added(RULE_KINDS).values()):
        for kind in _kinds_in(module):
            (name,) = get_args(kind.model_fields["kind"].annotation)
            if name in kinds:
                raise DataError(f'{module.__name__} has a kind of rule "{name}", and there is one already')
            kinds[name] = kind
    return kinds


def _kinds_in(module: ModuleType) -> list[type[Rule]]:
    """The complete kinds of rules that a module itself has, not those that it imports."""
    classes = [found for found in vars(module).values() if isinstance(found, type)]
    return [
        found
        for found in classes
        if issubclass(found, Rule) and found.__module__ == module.__name__ and not isabstract(found)
    ]


KINDS = _kinds()
if TYPE_CHECKING:
    AnyRule = Rule
else:
    AnyRule = Annotated[reduce(or_, KINDS.values()), Field(discriminator="kind")]
RULE_ADAPTER: TypeAdapter[Any] = TypeAdapter(AnyRule)

__all__ = ["KINDS", "RULE_ADAPTER", "AnyRule", "Rule"]
