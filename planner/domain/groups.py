"""Groups of patterns, as coaches name days after them: one table for locks, wishes and rules."""

from __future__ import annotations

from typing import Literal

from planner.domain.catalogue import PATTERNS, Pattern
from planner.domain.words import spoken

Group = Literal["push", "pull", "legs", "upper", "lower"]
PatternOrGroup = Literal[Pattern, Group]

_PUSH: tuple[Pattern, ...] = ("horizontal_push", "vertical_push")
_PULL: tuple[Pattern, ...] = ("horizontal_pull", "vertical_pull")
_LEGS: tuple[Pattern, ...] = ("squat", "hinge", "lunge")
GROUPS: dict[PatternOrGroup, tuple[Pattern, ...]] = {
    "push": _PUSH,
    "pull": _PULL,
    "legs": _LEGS,
    "upper": _PUSH + _PULL,
    "lower": _LEGS,
}
"""Patterns of each group; common practice. Hinges are legs, though some coaches count them as pulls; carry,
trunk, jump and cyclic are in no group."""
PATTERNS_AND_GROUPS: tuple[PatternOrGroup, ...] = (*PATTERNS, *GROUPS)

_AS_SAID: dict[PatternOrGroup, str] = {"legs": "leg", "upper": "upper-body", "lower": "lower-body"}


def is_group(name: PatternOrGroup) -> bool:
    """Whether a name is that of a group, not of a pattern."""
    return name in GROUPS


def patterns_of(name: PatternOrGroup) -> tuple[Pattern, ...]:
    """The patterns that a name stands for: those of a group, or the pattern alone."""
    return GROUPS.get(name) or tuple(p for p in PATTERNS if p == name)


def group_spoken(name: PatternOrGroup) -> str:
    """A pattern or a group as it goes before "work" and "day": "vertical pull", "leg"."""
    return _AS_SAID.get(name, spoken(name))


def work_words(name: PatternOrGroup) -> str:
    """The work as a coach says it: "upper-body work", "vertical pull work"."""
    return f"{group_spoken(name)} work"


def day_words(name: PatternOrGroup) -> str:
    """A day as a coach says it: "a pull day"."""
    said = group_spoken(name)
    return f"{'an' if said[0] in 'aeiou' else 'a'} {said} day"
