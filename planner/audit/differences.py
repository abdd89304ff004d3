"""Where two written weeks differ, field by field, with the place as a coach would say it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.domain.base import Value
from planner.domain.gym import DAY_NAMES
from planner.domain.week import Line, Load, Piece, RulePlace, RuleResult, Session, TierProof
from planner.domain.words import spoken

LONGEST = 60
"""Longer texts are cut short where they are quoted."""


@dataclass(frozen=True, slots=True)
class WrongField:
    """A field of a file that is another than it should be.

    Attributes:
        place: day, piece, version, line, field: from the outside in.
        found: as the file has it.
        right: what it comes to.
        by_hand: whether it is in a line that the coach marked as changed by hand.
    """

    place: tuple[str, ...]
    found: object
    right: object
    by_hand: bool = False

    def sentence(self) -> str:
        """What differs: ``Monday, strength, floor, front squat, woman, kg: 50, and it comes to 42.5``."""
        verb = "in place of" if self.by_hand else "and it comes to"
        return f"{', '.join(self.place)}: {_quoted(self.found)}, {verb} {_quoted(self.right)}."


def differences(
    found: object, right: object, place: tuple[str, ...] = (), *, by_hand: bool = False
) -> Iterator[WrongField]:
    """Every field that differs, in the order of the fields; a list of another length as one."""
    if found == right:
        return
    if isinstance(found, Value) and isinstance(right, Value) and type(found) is type(right):
        by_hand = by_hand or (isinstance(found, Line) and found.by_hand)
        for name in type(found).model_fields:
            if not (isinstance(found, Line) and name == "by_hand"):
                inside = () if name in _UNSAID else (spoken(name),)
                pair = getattr(found, name), getattr(right, name)
                yield from differences(*pair, (*place, *inside), by_hand=by_hand)
    elif isinstance(found, dict) and isinstance(right, dict):
        for key in dict.fromkeys((*found, *right)):
            where = (*place, DAY_NAMES.get(key, spoken(str(key))))
            yield from differences(found.get(key), right.get(key), where, by_hand=by_hand)
    elif isinstance(found, tuple) and isinstance(right, tuple) and len(found) == len(right):
        for number, pair in enumerate(zip(found, right, strict=True), 1):
            yield from differences(*pair, (*place, _called(pair[1], number)), by_hand=by_hand)
    else:
        yield WrongField(place, found, right, by_hand)


_UNSAID = {"sessions", "pieces", "versions", "lines", "loads", "rules", "places"}
"""Fields whose entries have names of their own."""

_NAMED: dict[type[Value], str] = {
    Piece: "kind", Line: "name", TierProof: "name", Load: "athlete", RuleResult: "id", RulePlace: "place",
}  # fmt: skip


def _called(entry: object, number: int) -> str:
    """The name of an entry of a list."""
    if isinstance(entry, Session):
        return DAY_NAMES[entry.day]
    for kind, field in _NAMED.items():
        if isinstance(entry, kind):
            return spoken(getattr(entry, field))
    return f"no. {number}"


def _quoted(value: object) -> str:
    if value is None or value in ("", ()):
        return "nothing"
    if isinstance(value, tuple):
        text = " + ".join(_quoted(x) for x in value)
    elif isinstance(value, Value):
        text = getattr(value, "name", None) or getattr(value, "text", None) or type(value).__name__.lower()
    else:
        text = f"{value:g}" if isinstance(value, float) else str(value)
    return text if len(text) <= LONGEST else f"{text[:LONGEST]}..."
