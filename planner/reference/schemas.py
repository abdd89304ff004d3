"""JSON Schemas of what the program reads and writes, from the models that check it."""

from __future__ import annotations

from typing import Any, Literal, get_args

from pydantic import Field, TypeAdapter
from pydantic.json_schema import GenerateJsonSchema

from planner.domain.base import Value
from planner.domain.catalogue import Movement
from planner.domain.gym import Gym
from planner.domain.mark import MARK
from planner.domain.week import Week
from planner.load.rules import Change
from planner.rules import AnyRule

SchemaName = Literal["week", "gym", "rules", "movements"]
SCHEMA_NAMES: tuple[SchemaName, ...] = get_args(SchemaName)
DIALECT = "https://json-schema.org/draft/2020-12/schema"


class RulesFile(Value):
    """A rule file: the program's, or the gym's own, which may also change rules by their id."""

    rules: tuple[AnyRule | Change, ...]


class MovementsFile(Value):
    """A file of movements."""

    movements: tuple[Movement, ...] = Field(min_length=1)


class _EveryKey(GenerateJsonSchema):
    """Whoever reads a week finds every key in it, also those that have a default."""

    def field_is_required(self, field: Any, total: bool) -> bool:
        del field, total
        return True


_MODELS: dict[SchemaName, type[Value]] = {
    "week": Week,
    "gym": Gym,
    "rules": RulesFile,
    "movements": MovementsFile,
}


def schema(name: SchemaName) -> dict[str, Any]:
    """The JSON Schema of one kind of file.

    Args:
        name: ``week`` (JSON, written), ``gym``, ``rules`` or ``movements`` (YAML, read).
    """
    written = name == "week"
    made = TypeAdapter(_MODELS[name]).json_schema(
        by_alias=True,
        mode="serialization" if written else "validation",
        schema_generator=_EveryKey if written else GenerateJsonSchema,
    )
    return {"$schema": DIALECT, "$comment": MARK, **made}
