"""Commands about what weeks are made from: a new gym, the rules, the schemas, the catalogue."""

from __future__ import annotations

import json
from collections.abc import Sized
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from planner import paths
from planner.cli.base import (
    BROKEN,
    ForceOption,
    GymOption,
    check_known,
    check_targets,
    folder_of,
    gym_in,
    known_catalogue,
    write,
)
from planner.errors import DataError

if TYPE_CHECKING:
    from planner.domain.catalogue import Catalogue
    from planner.domain.gym import Gym


def init(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="A new folder, or an empty one.")],
) -> None:
    """Write a new gym's folder: commented files that draft as they are."""
    from planner.load.starter import copy_starter

    for path in copy_starter(paths.home().shared / "starter", folder):
        typer.echo(f"Wrote {path}")
    typer.echo(f"Edit gym.yaml, then run: planner draft {folder}")


def rules(gym: GymOption = None) -> None:
    """List the rules in force, each with its level, its sentence and its file."""
    from planner.cli.tables import week as tables
    from planner.load.rule_names import check_rule_names
    from planner.load.rule_origins import rule_origins
    from planner.load.rules import load_rules

    folder = folder_of(gym) if gym else None
    constraints = paths.home().constraints
    found = load_rules(constraints, folder)
    check_rule_names(found, known_catalogue(folder), constraints, folder)
    origins = rule_origins(constraints, folder)
    Console().print(tables.rule_list(found, origins))
    typer.echo(f"{len(found)} rules, {sum(rule.off for rule in found)} of them off.")


def schema(
    name: Annotated[
        str | None, typer.Argument(metavar="[week|gym|rules|movements]", help="Which; all unless given.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="DIR", help="Write NAME.schema.json files to this folder.")
    ] = None,
    force: ForceOption = False,
) -> None:
    """Print or write the JSON Schemas of week, gym, rules and movements."""
    from planner.reference import schemas

    known = schemas.SCHEMA_NAMES
    if name is not None:
        check_known(name, known, "schema")
    chosen = tuple(n for n in known if name in {None, n})
    texts = {n: json.dumps(schemas.schema(n), indent=2) + "\n" for n in chosen}
    if out is None and len(chosen) > 1:
        raise DataError(
            "the four schemas do not go on one page",
            advice=f"Name one ({', '.join(known)}), or a folder with --out.",
        )
    if out is not None:
        check_targets(*(out / f"{each}.schema.json" for each in texts), force=force)
    for each, text in texts.items():
        if out is None:
            typer.echo(text, nl=False)
        else:
            write(out / f"{each}.schema.json", text, force=force)


def catalogue_check(gym: GymOption = None) -> None:
    """Check the whole catalogue and show how many movements each pattern has in each kit version."""
    from planner.cli.tables import week as tables
    from planner.domain.graph import check_catalogue, coverage_rows

    place = folder_of(gym) if gym else None
    catalogue = known_catalogue(place)
    known = gym_in(place, catalogue) if place else None
    heading, *rows = coverage_rows(catalogue, known)
    made = tables.table("Movements by main pattern and kit version", *heading, right=range(1, len(heading)))
    for row in rows:
        made.add_row(*row)
    Console().print(made)
    findings = check_catalogue(catalogue, known)
    for finding in findings:
        typer.echo(f"{finding.level}: {finding.text}")
    counts = {level: sum(f.level == level for f in findings) for level in ("error", "warning")}
    sizes: dict[str, Sized] = {
        "movements": catalogue.movements,
        "drills": catalogue.drills,
        "schemes": catalogue.schemes,
        "formats": catalogue.formats,
        "shapes of them": catalogue.shapes,
    }
    said = ", ".join(f"{len(part)} {name}" for name, part in sizes.items())
    typer.echo(f"{said}: {counts['error']} errors, {counts['warning']} warnings.")
    if counts["error"]:
        raise typer.Exit(BROKEN)


def catalogue_list(
    pattern: Annotated[
        str | None,
        typer.Option(
            "--pattern",
            help="Only with it: squat, vertical_pull, ...; or push, pull, legs, upper, lower.",
        ),
    ] = None,
    kit: Annotated[
        str | None,
        typer.Option(
            "--kit",
            help="Only what can be done with it: a kit version of the gym, no_kit, or items: barbell,plate",
        ),
    ] = None,
    gym: GymOption = None,
) -> None:
    """List movements."""
    from planner.cli.tables import week as tables
    from planner.domain.at_hand import usable_setup
    from planner.domain.groups import patterns_of

    catalogue = known_catalogue(folder_of(gym) if gym else None)
    chosen = list(catalogue.movements.values())
    if pattern is not None:
        from planner.weeks.names import pattern_named

        wanted = patterns_of(pattern_named(pattern))
        chosen = [m for m in chosen if any(p in m.patterns for p in wanted)]
    if kit is not None:
        held = _held(kit, catalogue, gym_in(folder_of(gym), catalogue) if gym else None)
        chosen = [m for m in chosen if usable_setup(m, held) is not None]
    for line in tables.movement_lines(chosen):
        typer.echo(line)
    typer.echo(f"{len(chosen)} of {len(catalogue.movements)} movements.")


def catalogue_show(
    movement: Annotated[str, typer.Argument(metavar="MOVEMENT", help="By id or by name.")],
    gym: GymOption = None,
) -> None:
    """Show one movement: what it is, and its work and power at each load for the reference athletes."""
    from planner.cli.tables import week as tables
    from planner.load.gym import load_gym
    from planner.weeks.names import movement_named

    catalogue = known_catalogue(folder_of(gym) if gym else None)
    folder = folder_of(gym) if gym else paths.home().shared / "starter"
    found = catalogue.movements[movement_named(catalogue, movement)]
    typer.echo(f"{found.name}: {found.standard}")
    Console().print(tables.work_table(found, load_gym(folder, catalogue).athletes))
    typer.echo("Fresh, at the pace of the catalogue; what it leaves out: docs/stimulus.md.")


def catalogue_schemes() -> None:
    """List schemes by the names that a session by hand takes."""
    from planner.cli.tables import week as tables

    found = known_catalogue().schemes
    Console().print(tables.schemes_table(found.values()))
    typer.echo(f"{len(found)} schemes. In a file for planner write: scheme: {next(iter(found))}")


def catalogue_formats(
    movements: Annotated[
        int | None, typer.Option("--movements", min=1, max=20, help="Only for so many movements.")
    ] = None,
    domain: Annotated[str | None, typer.Option("--domain", help="Only short, medium or long.")] = None,
) -> None:
    """List formats, and their shapes by the names that a session by hand takes."""
    from planner.cli.tables import week as tables

    catalogue = known_catalogue()
    if domain is not None:
        check_known(domain, tuple(catalogue.domains), "time domain")
    found = [
        shape
        for shape in catalogue.shapes.values()
        if movements in {None, shape.movements} and domain in {None, shape.domain}
    ]
    for kind in catalogue.formats.values():
        typer.echo(f"{kind.name} ({kind.id}): {kind.how}")
    Console().print(tables.shapes_table(found))
    example = f" In a file for planner write: shape: {found[0].id}" if found else ""
    typer.echo(f"{len(found)} of {len(catalogue.shapes)} shapes.{example}")


def _held(kit: str, catalogue: Catalogue, gym: Gym | None) -> frozenset[str]:
    """The items of a kit version, or those listed with commas."""
    from planner.domain.at_hand import held_items

    own = next((k for k in gym.kits if k.id == kit), None) if gym else None
    if gym and own:
        return held_items(gym, own)
    if kit in {"everything", "no_kit"}:
        return frozenset(catalogue.items) if kit == "everything" else frozenset()
    kits = [k.id for k in gym.kits] if gym else ["everything", "no_kit"]
    items = [word.strip() for word in kit.split(",")]
    for item in items:
        check_known(item, (*kits, *catalogue.items), "kit version or equipment")
    return frozenset(items)
