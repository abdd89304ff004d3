"""What differs, in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from planner.domain.comparison import Aspect, Both

T = TypeVar("T")
ASPECT_WORDS: dict[Aspect, str] = {
    "only": "only in",
    "movement": "movement",
    "dose": "dose",
    "load": "load",
    "scheme": "scheme",
    "setup": "set-up",
    "order": "order",
    "format": "format",
    "domain": "time domain",
    "cap": "cap",
    "minutes": "minutes",
    "drills": "drills",
    "forecast": "forecast",
    "notes": "notes",
}


def aspects(differs: Iterable[Aspect], owner: str) -> str:
    """What differs: "movement, load"; "only in A" where one week alone has it.

    Args:
        differs: what does.
        owner: the week that has it, if only one has.
    """
    return ", ".join(f"only in {owner}" if name == "only" else ASPECT_WORDS[name] for name in differs)


def pair_verdict(differs: Iterable[Aspect], pair: Both[T | None], names: Both[str]) -> str:
    """What differs between two sides, one of which may be missing."""
    return aspects(differs, names.b if pair.a is None else names.a)
