"""The one base of every value that is read from a file or written to one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field

Name = Annotated[str, Field(min_length=1, max_length=100)]
"""What something is called on a sheet, in characters."""
Id = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")]
"""A stable name in the files."""
Unit = Literal["reps", "metres", "calories", "seconds"]
"""What a dose or a set counts."""


class Value(BaseModel):
    """A frozen value that refuses unknown keys and numbers that are none: no slip passes in silence."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True, allow_inf_nan=False)

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy; what is derived from the fields, and kept, is derived anew."""
        copy = super().model_copy(update=update, deep=deep)
        for name in copy.__dict__.keys() - type(self).model_fields.keys():
            del copy.__dict__[name]
        return copy
