"""Which lines, and which sessions, a selector of a rule means."""

from __future__ import annotations

from typing import Any

from tests.measured.data import GROUPS, Tree
from tests.measured.week import Day, Line, main_pattern

OF_SESSIONS = ("format", "domain", "hardness", "movements", "heats")
SHARE = 30
"""Percent of a pattern that make a movement work of it."""


def listed(value: Any) -> list[Any]:
    """One or several, as a list."""
    return list(value) if isinstance(value, (list, tuple)) else [value]


def patterns_named(where: Tree, key: str = "pattern") -> list[str]:
    """Patterns of a selector, each group as its patterns, none twice."""
    named = [p for name in listed(where.get(key) or []) for p in GROUPS.get(name, (name,))]
    return list(dict.fromkeys(named))


def about_sessions(where: Tree) -> bool:
    """Whether a selector means whole sessions."""
    return any(where.get(k) for k in OF_SESSIONS)


def least_share(where: Tree) -> int:
    """Percent of a pattern that it asks for."""
    return int(where.get("share_at_least") or SHARE)


def has_share(line: Line, pattern: str, where: Tree) -> bool:
    """Whether a line is work of a pattern, as a selector counts it."""
    return int(line.movement["patterns"].get(pattern, 0)) >= least_share(where)


def means(where: Tree, line: Line) -> bool:
    """Whether a line is meant: all that is given must hold."""
    m, takes = line.movement, line.movement.get("takes") or {}
    piece = "strength" if line.piece in {"main", "assistance"} else line.piece
    one_of = {
        "piece": {line.piece, piece},
        "movement": {m["id"]},
        "load": {line.tier},
        "modality": {m["modality"]},
        "item": set(line.needs),
        "sides": {m.get("sides", "both")},
        "unit": {m.get("unit", "reps")},
        "goal": {line.scheme["goal"]} if line.scheme else set(),
        "scheme": {line.scheme["id"]} if line.scheme else set(),
        "sets": {set_family(line.scheme)} if line.scheme else set(),
    }
    at_least = {
        "skill_at_least": m.get("skill", 1),
        "grip_at_least": takes.get("grip", 0),
        "overhead_at_least": takes.get("overhead", 0),
        "back_at_least": takes.get("back", 0),
    }
    if any(where.get(k) and not found & set(listed(where[k])) for k, found in one_of.items()):
        return False
    if any(has < (where.get(k) or 0) for k, has in at_least.items()):
        return False
    mains = patterns_named(where, "main_pattern")
    if mains and main_pattern(m) not in mains:
        return False
    named = patterns_named(where)
    if named and not any(has_share(line, p, where) for p in named):
        return False
    for key, has in (("contacts", takes.get("contacts", 0) > 0), ("eccentric", m.get("eccentric", False))):
        if where.get(key) is not None and where[key] != has:
            return False
    return True


def set_family(scheme: Tree) -> str:
    """What stands out of a scheme's sets."""
    if scheme.get("parts"):
        return "complex"
    if scheme.get("every_s"):
        return "on_the_clock"
    return (
        "tempo"
        if scheme.get("tempo")
        else "paused"
        if scheme.get("pause_s")
        else scheme.get("form") or "across"
    )


def hardness(rating: int) -> str:
    """Hard from 8, easy up to 5."""
    return "hard" if rating >= 8 else "easy" if rating <= 5 else "medium"


def means_session(where: Tree, day: Day) -> bool:
    """Whether a session is meant."""
    has = {k: day.shape[k] for k in ("format", "domain", "movements", "heats")}
    has["hardness"] = hardness(day.rating)
    return all(not where.get(k) or has[k] in listed(where[k]) for k in OF_SESSIONS)


def there(where: Tree, day: Day) -> bool:
    """Whether a day has it."""
    return means_session(where, day) if about_sessions(where) else any(means(where, x) for x in day.lines)
