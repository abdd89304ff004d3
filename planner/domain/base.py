"""The one base of every value that is read from a file or written to one."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Value(BaseModel):
    """A frozen value that refuses unknown keys, so that a typo never passes in silence."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True)
