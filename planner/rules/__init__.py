"""Kinds of rules: one module each. A new kind is a module here and a line in ``KINDS``."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, TypeAdapter

from planner.rules.base import Rule
from planner.rules.capacity import Capacity
from planner.rules.fit import Fit
from planner.rules.limit import Limit
from planner.rules.rotate import Rotate
from planner.rules.sequence import Sequence
from planner.rules.share import Share
from planner.rules.spacing import Spacing
from planner.rules.together import Together

KINDS: dict[str, type[Rule]] = {
    "limit": Limit,
    "spacing": Spacing,
    "together": Together,
    "share": Share,
    "rotate": Rotate,
    "sequence": Sequence,
    "capacity": Capacity,
    "fit": Fit,
}

AnyRule = Annotated[
    Limit | Spacing | Together | Share | Rotate | Sequence | Capacity | Fit,
    Field(discriminator="kind"),
]
RULE_ADAPTER: TypeAdapter[Rule] = TypeAdapter(AnyRule)

__all__ = ["KINDS", "RULE_ADAPTER", "AnyRule", "Rule"]
