"""Between a week's state and what is stored of it: JSON in which each candidate's week is only named.

A week is large and rarely changes, so it is stored once under the hash of its text; a state is small.
"""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Callable, Mapping
from typing import Any

from pydantic import ValidationError

from planner.domain.base import Value
from planner.domain.record import WeekState
from planner.domain.week import SCHEMA_VERSION, Week
from planner.errors import DataError
from planner.load.validate import fault_in_words

Json = dict[str, Any]


def text_of(data: object) -> str:
    """One text for one value: written like this, JSON that is read and written again is the same text."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def sha256_of(text: str) -> str:
    """SHA-256 of a text, hexadecimal."""
    return hashlib.sha256(text.encode()).hexdigest()


def packed(text: str) -> bytes:
    """Compressed."""
    return zlib.compress(text.encode())


def unpacked(blob: bytes, sha256: str, what: str) -> str:
    """The text, proven to be what was stored.

    Raises:
        DataError: it is not.
    """
    try:
        text = zlib.decompress(blob).decode()
    except (zlib.error, UnicodeDecodeError):
        text = None
    if text is None or sha256_of(text) != sha256:
        raise DataError(
            f"{what} is damaged: its checksum does not match",
            advice="Restore the file from a copy; nothing in it was changed.",
        )
    return text


def parsed(text: str) -> Json:
    """The object in a stored text."""
    data: Json = json.loads(text)
    return data


def taken_apart(state: WeekState, kept: Mapping[int, str]) -> tuple[str, dict[str, str]]:
    """The state's text, and the texts of the weeks in it by their hash.

    Args:
        state: of a week.
        kept: hashes of weeks that are stored already, by ``id`` of the value; their texts are left out.
    """
    texts: dict[str, str] = {}
    data = state.model_dump(mode="json", exclude={"candidates": {"__all__": {"week"}}})
    for candidate, written in zip(state.candidates, data["candidates"], strict=True):
        name = kept.get(id(candidate.week))
        if name is None:
            text = text_of(candidate.week.model_dump(mode="json"))
            name = sha256_of(text)
            texts[name] = text
        written["week"] = name
    return text_of(data), texts


def week_names(state: Json) -> tuple[str, ...]:
    """Hashes of the weeks that a stored state names."""
    return tuple(candidate["week"] for candidate in state["candidates"])


def put_together(state: Json, week_called: Callable[[str], Week], what: str) -> WeekState:
    """The state, with its weeks in it.

    Args:
        state: as stored.
        week_called: a week by its hash.
        what: "revision 7 of 2026-W49", for a message.

    Raises:
        DataError: this planner cannot read it.
    """
    filled = [{**candidate, "week": week_called(candidate["week"])} for candidate in state["candidates"]]
    try:
        return WeekState.model_validate({**state, "candidates": filled})
    except ValidationError as error:
        raise unreadable(error, what) from None


def week_from(data: Json, what: str) -> Week:
    """A stored week as a value.

    Raises:
        DataError: this planner cannot read it.
    """
    version = data.get("schema_version")
    if version != SCHEMA_VERSION:
        raise DataError(f"a week in {what} is of version {version}; version {SCHEMA_VERSION} is read")
    try:
        return Week.model_validate(data)
    except ValidationError as error:
        raise unreadable(error, what) from None


def unreadable(error: ValidationError, what: str) -> DataError:
    """The first fault of a stored value, in a sentence."""
    return DataError(f"{what} cannot be read by this planner: {fault_in_words(Value, error)}")
