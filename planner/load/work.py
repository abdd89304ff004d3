"""Loads where body and load go, and gives each movement its row."""

from __future__ import annotations

from pathlib import Path

from planner.domain.base import Id, Value
from planner.domain.catalogue import Movement, Pattern
from planner.domain.motion import Motion
from planner.errors import Place
from planner.load.validate import Mistake, checked, refuse
from planner.load.yaml_file import Located, nearest, read_yaml


class _Row(Motion):
    of: tuple[Id, ...]


class _File(Value):
    rows: tuple[_Row, ...] = ()
    patterns: dict[Pattern, Motion]


def with_motions(movements: list[tuple[Movement, Located]], path: Path) -> list[tuple[Movement, Located]]:
    """Movements, each with its own motion, else its row's, else its main pattern's.

    Args:
        movements: with where they were written.
        path: ``work.yaml``; without one, only what they say themselves.

    Raises:
        DataError: the file cannot be used, or speaks of a movement that is not there, or twice of one.
    """
    if not path.is_file():
        return movements
    node, problems = read_yaml(path), list[Mistake]()
    file = checked(_File, node, problems)
    if file is None:
        refuse(problems)
    known, row_of = {m.id: m for m, _ in movements}, dict[str, Motion]()
    first: dict[str, Place] = {}
    for i, row in enumerate(file.rows):
        motion = Motion.model_validate(row.model_dump(exclude={"of"}))
        for j, movement in enumerate(row.of):
            place = node.place("rows", i, "of", j)
            if movement not in known:
                hint = nearest(movement, tuple(known))
                problems.append(Mistake(place, f'there is no movement "{movement}".{hint}'))
            elif movement in first:
                where = f"{first[movement].file}:{first[movement].line}"
                problems.append(Mistake(place, f"{known[movement].name} has a row already: {where}"))
            elif known[movement].motion is not None:
                problems.append(Mistake(place, f"{known[movement].name} says its motion itself"))
            first.setdefault(movement, place)
            row_of[movement] = motion
    if problems:
        refuse(problems)

    def motion_of(m: Movement) -> Motion | None:
        return m.motion or row_of.get(m.id) or file.patterns.get(m.main_pattern)

    return [(m.model_copy(update={"motion": motion_of(m)}), node) for m, node in movements]
