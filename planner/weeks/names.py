"""Finds the movement, item, day or rule that a coach names; suggests the nearest if there is none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from planner.domain.catalogue import Catalogue, Movement
from planner.domain.groups import PATTERNS_AND_GROUPS, PatternOrGroup, group_spoken
from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.errors import DataError
from planner.load.yaml_file import nearest
from planner.weeks.setting import Setting


def movement_named(catalogue: Catalogue, word: str) -> str:
    """The id of a movement, from its id or its name, in any case: ``bench press``.

    Raises:
        DataError: there is none; suggests the nearest.
    """
    return _found(word, {m.id: (m.name,) for m in catalogue.movements.values()}, "movement")


def variants(catalogue: Catalogue, movement: str) -> tuple[Movement, ...]:
    """Returns movements whose ids have all the words of another's: burpee_over_bar is a variant of burpee."""
    words = set(movement.split("_"))
    others = (m for m in catalogue.movements.values() if m.id != movement)
    return tuple(m for m in others if words <= set(m.id.split("_")))


def pattern_named(word: str) -> PatternOrGroup:
    """A pattern, or a group of patterns, from its id or as said: ``vertical pull``, ``pull``, ``leg day``.

    Raises:
        DataError: there is none; suggests the nearest, or lists them all.
    """
    known: dict[str, tuple[str, ...]] = {
        p: (group_spoken(p), f"{group_spoken(p)} day") for p in PATTERNS_AND_GROUPS
    }
    found = _found(word, known, "pattern or group of patterns")
    return next(name for name in PATTERNS_AND_GROUPS if name == found)


def item_named(setting: Setting, word: str) -> str:
    """The id of something that the gym owns, from its id or its name in singular or plural.

    Raises:
        DataError: the gym has none; suggests the nearest.
    """
    items = setting.catalogue.items
    held = {i: (items[i].name, items[i].plural) for i in setting.gym.inventory if i in items}
    return _found(word, held, "equipment", "in this gym")


def day_named(word: str) -> Day:
    """The day that ``thu`` or ``Thursday`` names.

    Raises:
        DataError: there is no such day.
    """
    known: dict[str, tuple[str, ...]] = {d: (DAY_NAMES[d],) for d in DAYS}
    found = _found(word, known, "day")
    return next(d for d in DAYS if d == found)


def rule_named(setting: Setting, word: str) -> str:
    """The id of a rule that is in force.

    Raises:
        DataError: there is none; suggests the nearest.
    """
    known = [rule.id for rule in setting.rules if not rule.off]
    if word not in known:
        hint = nearest(word, known) or " planner rules lists them."
        raise DataError(f'there is no rule "{word}" in force.{hint}')
    return word


def _found(word: str, known: Mapping[str, Iterable[str]], what: str, where: str = "") -> str:
    """The key with this id or name."""
    wanted = _plain(word)
    spoken = {_plain(w): key for key, names in known.items() for w in names} | {_plain(k): k for k in known}
    if wanted in spoken:
        return spoken[wanted]
    near = nearest(wanted, list(spoken))
    if near:
        right = next(w for w in spoken if near.endswith(f'"{w}"?'))
        near = f' Did you mean "{right}"?'
    elif len(known) <= 30:  # noqa: PLR2004  (more would not be read)
        near = f" Known: {', '.join(known)}."
    raise DataError(f'there is no {what} "{word}"{f" {where}" if where else ""}.{near}')


def _plain(word: str) -> str:
    return " ".join(word.casefold().replace("_", " ").replace("-", " ").split())
