"""Every name that a text may say: movements, schemes and kits, beside the words in general use."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from planner.domain.base import Unit
from planner.domain.catalogue import Catalogue, Movement, Scheme
from planner.domain.gym import Gym
from planner.language.nearest import Nearest
from planner.language.phrases import compact, keywords, said_words

MOST_WORDS = 16
"""Words of the longest name that is sought."""
MOST_NAMED = 3
LITTLE, NEAR, NEAR_WORD, VERY_NEAR = 0.4, 0.6, 0.7, 0.8
"""How near names and words must be to be offered, 0 to 1."""
_CHUNKS = re.compile(r"[^\W\d_]+|[0-9]+|,")
_SHORTER = (
    ("dumbbell", "DB"), ("kettlebell", "KB"), ("medicine ball", "med ball"), ("medicine ball", "MB"),
    ("one-arm", "single-arm"), ("barbell", "BB"),
)  # fmt: skip
"""Words within names, and what they are cut to on a board."""
_PLAIN = frozenset(" -_',")
"""What may stand in a name beside letters and digits."""


class Word(NamedTuple):
    """What a name or a word is: a terminal of the grammar, and what it stands for, the likeliest first."""

    kind: str
    values: tuple[str, ...]


@dataclass(frozen=True, repr=False)
class Vocabulary:
    """The names that a text may say.

    Attributes:
        movements: by id.
        schemes: by id.
        kits: name by id, the gym floor first.
    """

    movements: Mapping[str, Movement]
    schemes: Mapping[str, Scheme]
    kits: Mapping[str, str]

    @cached_property
    def words(self) -> dict[str, Word]:
        """Every name and word by its letters and digits; a word in general use goes before a name."""
        found: dict[str, list[str]] = {}
        for names in (_own_names, _other_names):
            for movement in self.movements.values():
                for key in dict.fromkeys(map(compact, names(movement))):
                    if movement.id not in found.setdefault(key, []):
                        found[key].append(movement.id)
        words = {key: Word("MOVEMENT", tuple(ids)) for key, ids in found.items()}
        for scheme in self.schemes.values():
            for key in map(compact, (scheme.id, scheme.name)):
                words.setdefault(key, Word("SCHEME", (scheme.id,)))
        words |= {key: Word(kind, (value,)) for key, (kind, value) in keywords().items()}
        words.pop("", None)
        return words

    @cached_property
    def chunks_after(self) -> dict[str, int]:
        """By the first word of names: of how many words, signs and numbers the longest of them is made."""
        longest: dict[str, int] = {}
        names = [name for m in self.movements.values() for f in (_own_names, _other_names) for name in f(m)]
        names += [name for s in self.schemes.values() for name in (s.id, s.name)]
        for name in (*names, *said_words().values()):
            if chunks := _CHUNKS.findall(name.casefold()):
                longest[chunks[0]] = max(longest.get(chunks[0], 0), len(chunks), 3)
        return longest

    @cached_property
    def kit_words(self) -> dict[str, str]:
        """Id of each kit by its id and its name."""
        by_name = {compact(name): kit for kit, name in reversed(list(self.kits.items()))}
        by_name.pop("", None)
        return by_name | {compact(kit): kit for kit in self.kits}

    def movement_name(self, movement: str) -> str:
        """What a text says for a movement: its name, or its id where another has that name."""
        known = self.movements.get(movement)
        if known and self._means(known.name, "MOVEMENT", movement):
            return known.name
        return movement if self._means(movement, "MOVEMENT", movement) else f'"{movement}"'

    def scheme_name(self, scheme: str) -> str:
        """What a text says for a scheme: its name, small, or its id where another has that name."""
        known = self.schemes.get(scheme)
        if known and self._means(known.name, "SCHEME", scheme):
            return known.name[:1].lower() + known.name[1:]
        return scheme if self._means(scheme, "SCHEME", scheme) else f'"{scheme}"'

    def kit_name(self, kit: str) -> str:
        """What a text says for a kit: its name, or its id where that would be read as something else."""
        name = self.kits.get(kit, kit)
        taken = compact(name) in self.words or any(c in ":,;" for c in name)
        return kit if taken or self.kit_words.get(compact(name)) != kit else name

    def of_unit(self, movements: Iterable[str], unit: Unit | None) -> str | None:
        """The movement of several with one name that is counted in a unit; the first where none is said."""
        return next((m for m in movements if unit in {None, self.movements[m].unit}), None)

    def nearest_three(self, word: str) -> tuple[str, ...]:
        """Names of the up to three movements that are nearest to a word, the nearest first.

        Args:
            word: one or several words; a name that is known within them is near.

        Returns:
            Nothing where none is near; else three where there are so many.
        """
        near = self._near_movements.to(word, LITTLE)
        within = [self.words[key].values[0] for key in _rows(word) if self._is_movement(key)]
        if not within and (not near or near[0][1] < NEAR):
            return ()
        named = [(self._names[name], likeness) for name, likeness in near]
        first = [movement for movement, likeness in named if likeness >= VERY_NEAR]
        ids = dict.fromkeys([*first, *within, *(movement for movement, _ in named)])
        return tuple(map(self.movement_name, list(ids)[:MOST_NAMED]))

    def begins_with_name(self, words: str) -> bool:
        """Whether several words begin with a movement's name, and go on."""
        said = words.split()[:MOST_WORDS]
        return any(self._is_movement(compact(" ".join(said[:end]))) for end in range(1, len(said)))

    def nearest_word(self, word: str) -> str:
        """The word in general use that is nearest to a word; empty where none is near."""
        return next((near for near, _ in self._near_words.to(word, NEAR_WORD)), "")

    def _is_movement(self, key: str) -> bool:
        return key in self.words and self.words[key].kind == "MOVEMENT"

    @cached_property
    def _names(self) -> dict[str, str]:
        """Each name in the singular, with its movement."""
        names = ((name, m.id) for m in reversed(list(self.movements.values())) for name in (*m.also, m.name))
        return dict(names)

    @cached_property
    def _near_movements(self) -> Nearest:
        return Nearest(self._names)

    @cached_property
    def _near_words(self) -> Nearest:
        return Nearest(word for word in said_words().values() if len(compact(word)) >= MOST_NAMED)

    def _means(self, name: str, kind: str, value: str) -> bool:
        word = self.words.get(compact(name))
        return (
            word is not None
            and (word.kind, word.values[0]) == (kind, value)
            and all(c.isalnum() or c in _PLAIN for c in name)
            and len(name.split()) <= MOST_WORDS
        )


def vocabulary_of(catalogue: Catalogue, gym: Gym) -> Vocabulary:
    """What a coach of a gym may say."""
    return Vocabulary(catalogue.movements, catalogue.schemes, {kit.id: kit.name for kit in gym.kits})


def _rows(words: str) -> list[str]:
    """Every row of neighbouring words, compact, the first and the longest first."""
    said = words.split()[:MOST_WORDS]
    return [compact(" ".join(said[a:b])) for a in range(len(said)) for b in range(len(said), a, -1)]


def _own_names(movement: Movement) -> Iterator[str]:
    yield movement.id
    yield movement.name


def _other_names(movement: Movement) -> Iterator[str]:
    for name in (movement.name, *movement.also):
        said = [name]
        for word, short in _SHORTER:
            said += [one.replace(word, short) for one in said if word in one]
        for one in said:
            yield one
            yield from _plurals(one)


def _plurals(name: str) -> Iterator[str]:
    """The name with any one of its words in the plural, or the first and the last."""
    words = name.split(" ")
    for index, word in enumerate(words):
        yield " ".join([*words[:index], _plural(word), *words[index + 1 :]])
    if len(words) > 1:
        yield " ".join([_plural(words[0]), *words[1:-1], _plural(words[-1])])


def _plural(word: str) -> str:
    if word.endswith(("s", "x", "ch", "sh")):
        return f"{word}es"
    return f"{word[:-1]}ies" if word.endswith("y") and word[-2:-1] not in "aeiou" else f"{word}s"
