"""Catalogue, rules and gym as plain dictionaries, from their files or from values that are dumped."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import product
from math import ceil, floor
from pathlib import Path
from typing import Any

import yaml

LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
Tree = dict[str, Any]
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
PATTERNS = (
    "squat", "hinge", "lunge", "horizontal_push", "vertical_push", "horizontal_pull", "vertical_pull",
    "carry", "trunk", "jump", "cyclic",
)  # fmt: skip
GROUPS = {
    "push": ("horizontal_push", "vertical_push"),
    "pull": ("horizontal_pull", "vertical_pull"),
    "upper": ("horizontal_push", "vertical_push", "horizontal_pull", "vertical_pull"),
    "legs": ("squat", "hinge", "lunge"),
    "lower": ("squat", "hinge", "lunge"),
}


@dataclass(frozen=True)
class Data:
    """What a week is measured against.

    Attributes:
        items, movements, schemes, shapes, domains: entries by id.
        gym: the gym's file.
        rules: those that are on, in file order, the gym's own changes made.
        all_schemes: with those that are for sessions by hand alone; as the file has them.
    """

    items: dict[str, Tree]
    movements: dict[str, Tree]
    schemes: dict[str, Tree]
    shapes: dict[str, Tree]
    domains: dict[str, Tree]
    gym: Tree
    rules: list[Tree]
    all_schemes: dict[str, Tree] = field(default_factory=dict)

    @property
    def class_(self) -> Tree:
        """Size, minutes, turns of the class."""
        return self.gym["class"]

    def with_gym(self, gym: Any, rules: Any) -> Data:
        """The same catalogue with another gym and other rules."""
        return replace(self, gym=dumped(gym), rules=[dumped(r) for r in rules])

    def count(self, item: str) -> int:
        """How many of an item the gym has, all masses together."""
        held = self.gym["inventory"].get(item, 0)
        return sum(held.values()) if isinstance(held, dict) else held

    def masses(self, item: str) -> dict[float, int]:
        """How many of each mass; nothing where the item is not counted so."""
        held = self.gym["inventory"].get(item, 0)
        return {float(kg): n for kg, n in held.items()} if isinstance(held, dict) else {}


def from_files(gym_folder: Path, shared: Path, constraints: Path) -> Data:
    """Everything, from the files that the program reads too."""
    catalogue = shared / "catalogue"
    files = sorted((catalogue / "movements").glob("*.y*ml"))
    formats = read(catalogue / "formats.yaml")
    domains = by_id(formats["domains"])
    return Data(
        items=by_id(read(catalogue / "equipment.yaml")["items"]),
        movements=by_id(m for f in files for m in read(f)["movements"]),
        schemes=drafted(read(catalogue / "schemes.yaml")["schemes"]),
        shapes=by_id(s for form in formats["formats"] for s in shapes_of(form, domains)),
        domains=domains,
        gym=read(gym_folder / "gym.yaml"),
        rules=rules_of(constraints, gym_folder / "rules.yaml"),
        all_schemes=by_id(read(catalogue / "schemes.yaml")["schemes"]),
    )


def from_values(catalogue: Any, gym: Any, rules: Any) -> Data:
    """The same from values that never were files; they are dumped, and never asked."""
    made = dumped(catalogue)
    return Data(
        items=made["items"],
        movements=made["movements"],
        schemes=drafted(made["schemes"].values()),
        shapes=by_id(s for form in made["formats"].values() for s in form.get("shapes", [])),
        domains=made["domains"],
        gym=dumped(gym),
        rules=[dumped(r) for r in rules],
    )


def drafted(schemes: Iterable[Tree]) -> dict[str, Tree]:
    """Schemes that drafts choose from, by id, whose sets are alike: with the keys of one of them."""
    made = {}
    for scheme in schemes:
        if scheme.get("drafted", True):
            work = scheme.get("work", {})
            sets = work.get("sets", [])
            made[scheme["id"]] = {**scheme, **work, **({**sets[0], "sets": len(sets)} if sets else {})}
    return made


def dumped(value: Any) -> Tree:
    """A value as the tree of its file, with lists in place of tuples."""
    return dict(value.model_dump(mode="json", by_alias=True))


def read(path: Path) -> Any:
    """A YAML file."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=LOADER)  # noqa: S506  (a safe one)


def by_id(entries: Any) -> dict[str, Tree]:
    """Entries by their ids."""
    return {e["id"]: e for e in entries}


def rules_of(constraints: Path, own: Path) -> list[Tree]:
    """The rules in force: all files, then what the gym says of its own."""
    rules = {r["id"]: r for f in sorted(constraints.glob("*.yaml")) for r in read(f)["rules"]}
    for change in read(own)["rules"] if own.exists() else ():
        if "kind" in change:
            rules[change["id"]] = change
            continue
        rule = dict(rules[change["id"]])
        if "weight" in change:
            rule |= {"weight": change["weight"], "must": False}
        if "must" in change:
            rule |= {"must": change["must"], "weight": 0 if change["must"] else rule.get("weight", 0)}
        rules[change["id"]] = rule | {k: change[k] for k in ("off", "because") if k in change}
    return [r for r in rules.values() if not r.get("off")]


# Shapes --------------------------------------------------------------------------------------------------


def shapes_of(form: Tree, domains: dict[str, Tree]) -> list[Tree]:
    """Every shape that the lines of a format stand for."""
    out = []
    for line in form.get("shapes", []):
        for rounds, movements, minutes, ladder in product(
            line.get("rounds", [1]), line["movements"], line.get("minutes", [None]), line.get("ladder", [[]])
        ):
            out.append(one_shape(form, line, domains[line["domain"]], (rounds, movements, minutes, ladder)))
    return out


def one_shape(form: Tree, line: Tree, domain: Tree, chosen: tuple[int, int, int | None, list[int]]) -> Tree:
    """One of them: how long a round may take in tenths of a second, and minutes on the class clock."""
    rounds, movements, minutes, ladder = chosen
    heats, slot = line.get("heats", 1), line.get("every_s")
    low, high = (Fraction(s) for s in domain["seconds"])
    if line.get("station_s"):
        minutes, low, high = rounds * movements, Fraction(0), Fraction(3600 * rounds)
    elif slot:
        minutes = ceil(Fraction(rounds * slot, 60))
        low, high = (Fraction(rounds * slot * percent, 100) for percent in line["work"])
    elif minutes:
        low, high = (Fraction(minutes * 60 * rounds) / (rounds + Fraction(k, 2)) for k in (1, -1))
    spots = {spot: line.get(spot, 0) for spot in ("opening", "after_each", "closing")}
    counted = 1 if any(spots.values()) else rounds
    each = Fraction(counted * (100 + domain["fatigue_percent"]), 1000)
    name = [form["id"], "_".join(map(str, ladder)) or str(rounds), f"of_{movements}"]
    name.append(f"in_{minutes}" if minutes else line["domain"])
    return {
        "id": "_".join([*name, *([f"heats_{heats}"] if heats > 1 else [])]),
        "format": form["id"],
        "domain": line["domain"],
        "rounds": counted,
        "laps": rounds if any(spots.values()) else None,
        **spots,
        "people": line.get("people", 1),
        "sharing": line.get("sharing", "alone"),
        "movements": movements,
        "effort": line["effort"],
        "stations": line.get("stations", False),
        "heats": heats,
        "ladder": ladder,
        "fixed_minutes": minutes,
        "station_s": line.get("station_s"),
        "every_s": slot,
        "window_tenths": [ceil(low / each), floor(high / each)],
        "cap_minutes": heats * (minutes or ceil(high * 130 / 100 / 60)),
    }
