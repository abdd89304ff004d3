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
from planner.load.yaml_file import Located, Step, nearest, read_yaml

Entry = TypeVar("Entry", Item, Movement, Drill, Scheme)


def load_catalogue(folder: Path) -> Catalogue:
    """Everything under ``shared/catalogue``.

    Args:
        folder: with ``equipment.yaml``, ``movements/*.yaml``, ``drills.yaml``, ``schemes.yaml`` and
            ``formats.yaml``.

    Raises:
        DataError: a file cannot be used, or entries do not fit together; all that is wrong, by line.
    """
    if not folder.is_dir():
        raise DataError(
            "there is no such folder", Place(folder), "Name the folder with equipment.yaml in it."
        )
    problems: list[Mistake] = []
    items = _entries(Item, (folder / "equipment.yaml",), "items", problems)
    movements = _entries(Movement, _movement_files(folder / "movements"), "movements", problems)
    drills = _entries(Drill, (folder / "drills.yaml",), "drills", problems)
    schemes = _entries(Scheme, (folder / "schemes.yaml",), "schemes", problems)
    if problems:  # an entry that could not be read would be missed by all that name it
        refuse(problems)
    domains, formats = load_formats(folder / "formats.yaml")
    catalogue = Catalogue(
        items=_by_id(items, problems),
        movements=_by_id(movements, problems),
        drills=_by_id(drills, problems),
        schemes=_by_id(schemes, problems),
        domains=domains,
        formats=formats,
    )
    empty = list(_empty_lists(folder, catalogue))
    if empty:  # whatever names an entry of an empty list would be wrong too
        refuse(empty)
    for movement, node in movements:
        problems += _movement_problems(movement, node, catalogue)
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
