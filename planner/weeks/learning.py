"""Movements that a coach's text names and nobody knows: found, and learnt as the gym's own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from planner import paths
from planner.domain.catalogue import Catalogue
from planner.domain.learnt import Answers, id_for, learnt_entry
from planner.language.files import ENDINGS
from planner.language.phrases import compact
from planner.language.reader import LONGEST_TEXT, unknown_names
from planner.language.vocabulary import Vocabulary, vocabulary_of
from planner.load.own_movements import add_movements
from planner.load.yaml_file import read_text, read_yaml
from planner.weeks.setting import Setting


class UnknownName(NamedTuple):
    """A name that no movement has.

    Attributes:
        said: as written.
        nearest: names of up to three movements that are near.
    """

    said: str
    nearest: tuple[str, ...]


def unknown_on(file: Path, setting: Setting) -> tuple[UnknownName, ...]:
    """The names on a board that may be movements and are none; each once, in the order of the file.

    Args:
        file: text, or YAML or JSON by its ending.
        setting: whose movements are known.

    Raises:
        DataError: the file cannot be read.
    """
    vocabulary = vocabulary_of(setting.catalogue, setting.gym)
    if file.suffix.lower() in ENDINGS:
        said = dict.fromkeys(x for x in _movements_in(read_yaml(file).data) if not _known(x, vocabulary))
    else:
        said = dict.fromkeys(unknown_names(read_text(file, LONGEST_TEXT * 4), vocabulary))
    return tuple(UnknownName(word, vocabulary.nearest_three(word)) for word in said)


def singular(said: str) -> str:
    """What a name is likely to be of which several were written."""
    name = " ".join(said.casefold().split())
    return name.removesuffix("s") if name.endswith("s") and not name.endswith("ss") else name


def learn(answers: Sequence[Answers], gym_folder: Path, catalogue: Catalogue) -> Path:
    """Writes movements into the gym's own file, all or none.

    Args:
        answers: of the coach, for each.
        gym_folder: with ``gym.yaml`` in it.
        catalogue: with the gym's own movements.

    Returns:
        The file.

    Raises:
        DataError: an entry is not right, or the file cannot be written; it is then as it was.
    """
    entries: list[dict[str, object]] = []
    for each in answers:
        entry = learnt_entry(each, catalogue)
        taken = {str(one["id"]) for one in entries}
        entry["id"] = next(x for x in _ids(each.name, catalogue) if x not in taken)
        entries.append(entry)
    return add_movements(gym_folder, paths.home().shared / "catalogue", entries)


def _ids(name: str, catalogue: Catalogue) -> Iterator[str]:
    first = id_for(name, catalogue)
    yield first
    yield from (f"{first}_{n}" for n in range(2, 1000))


def _known(name: str, vocabulary: Vocabulary) -> bool:
    word = vocabulary.words.get(compact(name))
    return name in vocabulary.movements or (word is not None and word.kind == "MOVEMENT")


def _movements_in(data: Any) -> Iterator[str]:
    """Every value under a key ``movement``, however deep."""
    if isinstance(data, list):
        for each in data:
            yield from _movements_in(each)
    elif isinstance(data, dict):
        for key, value in data.items():
            if key == "movement" and isinstance(value, str):
                yield value
            else:
                yield from _movements_in(value)
