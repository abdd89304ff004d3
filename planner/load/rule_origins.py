"""Says where each rule in force is written."""

from __future__ import annotations

from pathlib import Path

from planner.errors import Place
from planner.load.rules import OVERLAY
from planner.load.yaml_file import read_yaml


def rule_places(folder: Path, gym_folder: Path | None = None) -> dict[str, tuple[Place, ...]]:
    """The places of each rule by the rule's id: that in the gym's own file, where there is one, comes last.

    Args:
        folder: of rule files; they have been loaded before, so they are known to be sound.
        gym_folder: may have a ``rules.yaml`` of its own.
    """
    own = gym_folder / OVERLAY if gym_folder else None
    files = sorted(folder.glob("*.yaml")) + ([own] if own is not None and own.exists() else [])
    places: dict[str, tuple[Place, ...]] = {}
    for path in files:
        for node in read_yaml(path).child("rules").children():
            rule = str(node.data["id"])
            places[rule] = (*places.get(rule, ()), node.place())
    return places


def rule_origins(folder: Path, gym_folder: Path | None = None) -> dict[str, str]:
    """The file of each rule in a few words, by the rule's id."""
    places = rule_places(folder, gym_folder)
    return {rule: ", changed in ".join(place.file.name for place in found) for rule, found in places.items()}
