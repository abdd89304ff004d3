"""A gym's own movement, from a few answers: what was not asked is taken from what is like it, and says so."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from planner.domain.base import Unit
from planner.domain.catalogue import Catalogue, Item, Modality, Movement, Pattern

NOT_CHECKED = "not checked"
USUAL: dict[Unit, list[int]] = {
    "reps": [1, 5, 8, 10, 12, 15], "metres": [50, 100, 200], "calories": [8, 10, 12, 15],
    "seconds": [20, 30, 40],
}  # fmt: skip
"""Doses where nothing like it has any; common practice."""
ROUNDS = 5
"""The most of the largest dose in a piece; our choice."""


class Answers(NamedTuple):
    """What a coach says of a movement.

    Attributes:
        name: in the singular.
        said: as it stands in her text.
        pattern: what it is counted as.
        unit: what its dose is counted in.
        items: ids of the equipment that one person needs.
        seconds: a unit, for a typical athlete.
    """

    name: str
    said: str
    pattern: Pattern
    unit: Unit
    items: tuple[str, ...]
    seconds: float


def id_for(name: str, catalogue: Catalogue) -> str:
    """An id like the name, which no movement has."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    word = re.sub("[^a-z0-9]+", "_", plain).strip("_")
    word = word if word[:1].isalpha() else f"own_{word}".rstrip("_")
    numbered = (f"{word}_{n}" for n in range(2, len(catalogue.movements) + 3))
    return next(x for x in (word, *numbered) if x not in catalogue.movements)


def learnt_entry(answers: Answers, catalogue: Catalogue) -> dict[str, object]:
    """The entry of ``movements.yaml``: for sessions by hand, not for drafts; its stand-ins go by pattern.

    Args:
        answers: of the coach.
        catalogue: from which the defaults are: the movement most like it, and for its load one with the same
            implement.
    """
    items = [catalogue.items[x] for x in answers.items]
    like = _most_like(answers, items, catalogue)
    loaded = any(item.loaded for item in items)
    modality: Modality = "loaded" if loaded else "cyclic" if like.modality == "cyclic" else "bodyweight"
    entry: dict[str, object] = {
        "id": id_for(answers.name, catalogue),
        "name": answers.name,
        **({"also": [answers.said]} if answers.said != answers.name else {}),
        "patterns": {answers.pattern: 100},
        "modality": modality,
        "setups": [_setup(answers)],
        "unit": answers.unit,
        "roles": [],
    }
    return (
        entry
        | _doses(answers, like, loaded=loaded)
        | (_load(items, catalogue, like) if loaded else {})
        | {
            "skill": 2,
            "standard": f"As the coach shows it; {NOT_CHECKED}.",
            "points": ["as the coach shows it"],
            "easier": _easier(answers, catalogue),
            "prepares": list(like.prepares),
        }
    )


def _most_like(answers: Answers, items: list[Item], catalogue: Catalogue) -> Movement:
    """The first of the pattern that is most like it: in its unit, with as much of its equipment."""
    loaded = any(item.loaded for item in items)

    def off(m: Movement) -> tuple[bool, bool, bool, int]:
        shared = max(len({*answers.items} & {*setup.needs}) for setup in m.setups)
        other_load = (m.modality == "loaded") != loaded
        return m.main_pattern != answers.pattern, m.unit != answers.unit, other_load, -shared

    return min(catalogue.movements.values(), key=off)


def _setup(answers: Answers) -> dict[str, object]:
    if "barbell" not in answers.items:
        return {"needs": list(answers.items)}
    return {"needs": list(answers.items), "start": "rack" if "rack" in answers.items else "floor"}


def _doses(answers: Answers, like: Movement, *, loaded: bool) -> dict[str, object]:
    own = next(iter(like.doses.values()), ()) if like.unit == answers.unit else ()
    numbers = list(own) or USUAL[answers.unit]
    tiers = ("light", "moderate") if loaded else ("open",)
    pace = {
        "seconds": answers.seconds,
        "source": f"asked of the coach, {NOT_CHECKED}",
        "steady_to": numbers[-1],
    }
    return {
        "doses": {tier: list(numbers) for tier in tiers},
        "cap": ROUNDS * numbers[-1],
        "pace": pace | {"slower_percent": 0},
    }


def _load(items: list[Item], catalogue: Catalogue, like: Movement) -> dict[str, object]:
    """Share of a reference lift, or usual masses, as of a movement with the same implement."""
    held = {item.id for item in items if item.loaded}
    others = [m for m in (like, *catalogue.movements.values()) if m.modality == "loaded"]
    same = [m for m in others if any(held & {*setup.needs} for setup in m.setups)]
    model = next((m for m in same if m.main_pattern == like.main_pattern), (same or others)[0])
    if model.lift is not None:
        return {"lift": model.lift.model_dump() | {"source": f"as for {model.name}, {NOT_CHECKED}"}}
    return {"kg": {tier: list(masses) for tier, masses in model.kg.items()}}


def _easier(answers: Answers, catalogue: Catalogue) -> list[dict[str, str]]:
    """The easiest of its pattern that needs nothing."""
    bare = [
        m for m in catalogue.movements.values()
        if m.main_pattern == answers.pattern and any(not setup.needs for setup in m.setups)
    ]  # fmt: skip
    found = min(bare, key=lambda m: (m.unit != answers.unit, m.skill), default=None)
    return [{"to": found.id, "how": "with nothing in the hands"}] if found else []
