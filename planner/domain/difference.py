"""Two values of one kind beside each other, field by field, and in what they differ.

A field says by a ``Compared`` in its annotation how it is set beside the same field of the other value. One
that says nothing is compared as it stands and called by its own name, so that no field is overlooked. The
other way round a difference is the same, with its sides exchanged.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import zip_longest
from typing import Any, Generic, TypeVar, get_args

from planner.domain.base import Value

T = TypeVar("T", bound=Value)
ONLY, ORDER = "only", "order"
"""Words that are no field's: one side has it and the other has not; the same things in another order."""
_NOWHERE = 1_000_000


@dataclass(frozen=True)
class Compared:
    """How a field is compared.

    Attributes:
        word: what a difference is called; the field's name where it is empty. Several fields may share one.
        by: for several values: the field of each by which they are lined up. One that is on one side alone is
            called by the word too, and ``only`` where there is none.
        in_turn: whether their order counts: another one is a difference, and those without a counterpart
            stand beside each other in turn.
        after: fields that this one follows from: it is named only where those are the same.
        rest: whether it follows from everything else: it is named only where all else is the same.
        never: whether it is left out, since it is told elsewhere or is not of the matter.
    """

    word: str = ""
    by: str = ""
    in_turn: bool = False
    after: tuple[str, ...] = ()
    rest: bool = False
    never: bool = False


NEVER = Compared(never=True)
NOTES = Compared("notes", rest=True)
"""Words for the reader that follow from everything else."""


@dataclass(frozen=True)
class Difference(Generic[T]):
    """A value beside its counterpart.

    Attributes:
        key: what they are lined up by; both where that differs.
        a: the one; None where only the other is there.
        b: the other.
        own: each word for what differs in the value itself, with the fields that it stands for.
        parts: by field, the values inside that are lined up.
    """

    key: str
    a: T | None
    b: T | None
    own: Mapping[str, tuple[str, ...]]
    parts: Mapping[str, tuple[Difference[Any], ...]]

    @property
    def known(self) -> T:
        """The one, or where there is none the other."""
        known = self.a if self.a is not None else self.b
        assert known is not None
        return known

    @property
    def alone(self) -> bool:
        """Whether one side has it and the other has not."""
        return self.a is None or self.b is None

    @cached_property
    def words(self) -> tuple[str, ...]:
        """All that differs, here and inside, in words, each once."""
        inside = () if self.alone else (part for parts in self.parts.values() for part in parts)
        return tuple(dict.fromkeys([*self.own, *(word for part in inside for word in part.words)]))

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        return not self.words

    def places(self) -> Iterator[tuple[str, ...]]:
        """The way to each difference: fields and keys, and last its word."""
        yield from ((word,) for word in self.own)
        if not self.alone:
            for field, parts in self.parts.items():
                yield from ((field, part.key, *place) for part in parts for place in part.places())


def difference(a: T | None, b: T | None, key: str = "", word: str = ONLY) -> Difference[T]:
    """What differs between two values of one kind, of which one may be missing.

    Args:
        a: the one.
        b: the other.
        key: what they are lined up by.
        word: what it is called if only one is there.
    """
    known = a if a is not None else b
    assert known is not None
    fields = _fields(type(known))
    parts = {
        name: tuple(_lined_up(_items(a, name), _items(b, name), how))
        for name, how in fields.items()
        if how.by
    }
    own = {word: ()} if a is None or b is None else _own(a, b, fields, parts)
    return Difference(key=key, a=a, b=b, own=own, parts=parts)


@cache
def _fields(kind: type[Value]) -> dict[str, Compared]:
    found = {
        name: next((x for x in field.metadata if isinstance(x, Compared)), Compared())
        for name, field in kind.model_fields.items()
    }
    return {name: how for name, how in found.items() if not how.never}


def _items(of: Value | None, name: str) -> tuple[Value, ...]:
    held = getattr(of, name, ())
    return tuple(held.values() if isinstance(held, dict) else held)


def _own(
    a: Value, b: Value, fields: Mapping[str, Compared], parts: Mapping[str, Sequence[Difference[Any]]]
) -> dict[str, tuple[str, ...]]:
    apart = {
        name
        for name, how in fields.items()
        if (not all(x.same for x in parts[name]) if how.by else getattr(a, name) != getattr(b, name))
    }
    first = [n for n in apart if not fields[n].rest]
    own: dict[str, tuple[str, ...]] = {}
    for name, how in fields.items():
        if name in apart and not how.by and (not first if how.rest else apart.isdisjoint(how.after)):
            word = how.word or name.replace("_", " ")
            own[word] = (*own.get(word, ()), name)
        if how.in_turn and _turned(_items(a, name), _items(b, name), how.by):
            own[ORDER] = (*own.get(ORDER, ()), name)
    return own


def _turned(a: Iterable[Value], b: Iterable[Value], by: str) -> bool:
    """Whether those that both have come in another order."""
    one, other = _keyed(a, by), _keyed(b, by)
    return [key for key in one if key in other] != [key for key in other if key in one]


def _lined_up(a: Iterable[Value], b: Iterable[Value], how: Compared) -> Iterator[Difference[Any]]:
    """Each beside the one with its key, in an order that favours neither side."""
    one, other = _keyed(a, how.by), _keyed(b, how.by)
    left, right = [key for key in one if key not in other], [key for key in other if key not in one]
    pairs: list[tuple[str | None, str | None]] = [(key, key) for key in one if key in other]
    pairs += (
        zip_longest(left, right)
        if how.in_turn
        else [*((key, None) for key in left), *((None, key) for key in right)]
    )

    def place(pair: tuple[str | None, str | None]) -> tuple[list[int], list[str]]:
        held = [(key, side) for key, side in zip(pair, (one, other), strict=True) if key]
        return sorted([*(side[key][0] for key, side in held), _NOWHERE])[:2], sorted(key for key, _ in held)

    for x, y in sorted(pairs, key=place):
        key = " / ".join(sorted({key for key in (x, y) if key}))
        yield difference(one[x][1] if x else None, other[y][1] if y else None, key, how.word or ONLY)


def _keyed(items: Iterable[Value], by: str) -> dict[str, tuple[int, Value]]:
    """Place and item by key; the second of a key has a 2 behind it.

    The place is that among the choices for the key, where there are such, else that among the items.
    """
    found: dict[str, tuple[int, Value]] = {}
    for index, item in enumerate(items):
        key, choices = getattr(item, by), get_args(type(item).model_fields[by].annotation)
        again = sum(getattr(known, by) == key for _, known in found.values())
        place = choices.index(key) if choices else index
        found[f"{key} {again + 1}" if again else str(key)] = place, item
    return found
