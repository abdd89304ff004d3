"""Loads the catalogue and checks that its entries know each other."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TypeVar

from planner.domain.catalogue import REFERENCE_LIFTS, Catalogue, Drill, Item, Movement, Scheme
from planner.domain.graph import easier_cycle
from planner.errors import DataError, Place
from planner.load.formats import load_formats
from planner.load.validate import Mistake, entries, refuse
from planner.load.work import with_motions
from planner.load.yaml_file import Located, Step, nearest, read_yaml

Entry = TypeVar("Entry", Item, Movement, Drill, Scheme)


OWN_MOVEMENTS, OWN_SCHEMES, OWN_FORMATS = "movements.yaml", "schemes.yaml", "formats.yaml"
"""What a gym may have of its own, beside ``gym.yaml``: more entries, checked like the catalogue's."""


NONE_IN_IT = "there is no movement in the file; write one, or take the file away"


def load_catalogue(folder: Path, gym_folder: Path | None = None) -> Catalogue:
    """Everything under ``shared/catalogue``, and a gym's own movements, schemes and formats.

    Args:
        folder: with ``equipment.yaml``, ``movements/*.yaml``, ``work.yaml``, ``drills.yaml``,
            ``schemes.yaml`` and ``formats.yaml``.
        gym_folder: with files of a gym's own entries, where it has any; their ids are new ones.

    Raises:
        DataError: a file cannot be used, or entries do not fit together; all that is wrong, by line.
    """
    if not folder.is_dir():
        raise DataError(
            "there is no such folder", Place(folder), "Name the folder with equipment.yaml in it."
        )
    problems: list[Mistake] = []
    items = _entries(Item, (folder / "equipment.yaml",), "items", problems)
    own = [gym_folder / name for name in (OWN_MOVEMENTS, OWN_SCHEMES, OWN_FORMATS)] if gym_folder else []
    own_movements, own_schemes, own_formats = ([p] if p.is_file() else [] for p in own or [Path()] * 3)
    files = (*_movement_files(folder / "movements"), *own_movements)
    movements = _entries(Movement, files, "movements", problems)
    drills = _entries(Drill, (folder / "drills.yaml",), "drills", problems)
    schemes = _entries(Scheme, (folder / "schemes.yaml", *own_schemes), "schemes", problems)
    if problems:  # an entry that could not be read would be missed by all that name it
        refuse(problems)
    domains, formats = load_formats(folder / "formats.yaml", *own_formats)
    catalogue = Catalogue(
        items=_by_id(items, problems),
        movements=_by_id(movements, problems),
        drills=_by_id(drills, problems),
        schemes=_by_id(schemes, problems),
        domains=domains,
        formats=formats,
    )
    read = {node.place().file for _, node in movements}
    bare = [f for f in _movement_files(folder / "movements") if read and f not in read]
    empty = [
        *_empty_lists(folder, catalogue),
        *(Mistake(Place(f, key="movements"), NONE_IN_IT) for f in bare),
    ]
    if empty or problems:  # whatever names an entry of an empty list, or one of two, would be wrong too
        refuse([*empty, *problems])
    movements = with_motions(movements, folder / "work.yaml")
    catalogue = catalogue.model_copy(update={"movements": {m.id: m for m, _ in movements}})
    for movement, node in movements:
        problems += _movement_problems(movement, node, catalogue)
    for scheme, node in schemes:
        known = tuple(catalogue.movements)
        for i, part in enumerate(scheme.parts):
            if part.movement not in catalogue.movements:
                hint = nearest(part.movement, known)
                place = node.place("parts", i, "movement")
                problems.append(Mistake(place, f'there is no movement "{part.movement}".{hint}'))
    problems += _names_twice(movements)
    for drill, node in drills:
        problems += _unknown_items(drill.needs, node, ("needs",), catalogue)
    if problems:
        refuse(problems)
    _check_acyclic(movements, catalogue)
    return catalogue


def _movement_files(folder: Path) -> tuple[Path, ...]:
    files = tuple(sorted(p for p in folder.glob("*") if p.suffix in {".yaml", ".yml"}))
    if not files:
        raise DataError("there are no movements", Place(folder), "Put *.yaml files with movements here.")
    return files


def _entries(
    model_type: type[Entry], files: tuple[Path, ...], key: str, problems: list[Mistake]
) -> list[tuple[Entry, Located]]:
    return [entry for file in files for entry in entries(model_type, read_yaml(file), key, problems)]


def _by_id(found: list[tuple[Entry, Located]], problems: list[Mistake]) -> dict[str, Entry]:
    first: dict[str, Located] = {}
    for entry, node in found:
        if entry.id in first:
            before = first[entry.id].place("id")
            problems.append(
                Mistake(node.place("id"), f'the id "{entry.id}" is taken: {before.file}:{before.line}')
            )
        first.setdefault(entry.id, node)
    return {entry.id: entry for entry, _ in found}


def _empty_lists(folder: Path, catalogue: Catalogue) -> Iterator[Mistake]:
    for name in ("equipment.yaml", "movements", "drills.yaml", "schemes.yaml"):
        part = "items" if name == "equipment.yaml" else name.removesuffix(".yaml")
        if not getattr(catalogue, part):
            yield Mistake(Place(folder / name), "the list is empty; a week needs at least one entry")


def _movement_problems(movement: Movement, node: Located, catalogue: Catalogue) -> Iterator[Mistake]:
    for index, setup in enumerate(movement.setups):
        yield from _unknown_items(setup.needs, node, ("setups", index, "needs"), catalogue)
        if setup.limit:
            yield from _not_a_lift(setup.limit.of, node.place("setups", index, "limit", "of"))
    if movement.lift:
        yield from _not_a_lift(movement.lift.of, node.place("lift", "of"))
    named = [(e.to, node.place("easier", i, "to")) for i, e in enumerate(movement.easier)]
    named += [(to, node.place("substitutes", to)) for to in movement.substitutes]
    others = [known for known in catalogue.movements if known != movement.id]
    for to, place in named:
        if to == movement.id:
            yield Mistake(place, "a movement cannot stand for itself")
        elif to not in catalogue.movements:
            yield Mistake(place, f'there is no movement "{to}".{nearest(to, others)}')


def _names_twice(movements: list[tuple[Movement, Located]]) -> Iterator[Mistake]:
    """Other names that a text could not tell apart: each belongs to one movement of a unit."""
    owner = {(movement.name.casefold(), movement.unit): movement for movement, _ in reversed(movements)}
    for movement, node in movements:
        for index, name in enumerate(movement.also):
            taken = owner.setdefault((name.casefold(), movement.unit), movement)
            if taken.id != movement.id:
                yield Mistake(
                    node.place("also", index),
                    f'{taken.name}, counted in {taken.unit} too, has the name "{name}"',
                )


def _unknown_items(
    needs: tuple[str, ...], node: Located, steps: tuple[Step, ...], catalogue: Catalogue
) -> Iterator[Mistake]:
    for index, item in enumerate(needs):
        if item not in catalogue.items:
            hint = nearest(item, tuple(catalogue.items)) or " Items are listed in equipment.yaml."
            yield Mistake(node.place(*steps, index), f'there is no equipment "{item}".{hint}')


def _not_a_lift(lift: str, place: Place) -> Iterator[Mistake]:
    if lift not in REFERENCE_LIFTS:
        hint = nearest(lift, REFERENCE_LIFTS) or f" These are: {', '.join(REFERENCE_LIFTS)}."
        yield Mistake(place, f'"{lift}" is not a reference lift.{hint}')


def _check_acyclic(movements: list[tuple[Movement, Located]], catalogue: Catalogue) -> None:
    cycle = easier_cycle(catalogue)
    if cycle:
        node = next(node for movement, node in movements if movement.id == cycle[0])
        raise DataError(
            f"easier options run in a circle: {' -> '.join((*cycle, cycle[0]))}",
            node.place("easier"),
            "Take out the one that is not easier.",
        )
