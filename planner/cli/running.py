"""The command that runs a week's class on the floor."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from planner.cli.base import CandidateOption, ForceOption, GymName, check_targets, folder_of, write
from planner.cli.week import week_meant


def run(  # noqa: PLR0917  (each is named on the command line)
    gym: GymName,
    week: Annotated[
        str, typer.Argument(metavar="WEEK", help="A week that is kept, like 2026-W49, or WEEK.json.")
    ],
    day: Annotated[str | None, typer.Argument(metavar="[DAY]", help="Only that day.")] = None,
    class_size: Annotated[
        int | None, typer.Option("--class-size", min=1, max=60, help="What if so many come?")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON in place of a table.")] = False,
    out: Annotated[Path | None, typer.Option("--out", help="A picture of each class, as HTML.")] = None,
    candidate: CandidateOption = None,
    force: ForceOption = False,
) -> None:
    """Run the class on the floor: when people are done, who waits for what, and how long."""
    from planner.cli.tables.run import floor_lines, floor_table, run_as_data
    from planner.weeks import names
    from planner.weeks.known import catalogue_and_gym
    from planner.weeks.run import run_week

    meant, file = week_meant(gym, week, candidate)
    inputs = () if file is None else (file,)
    check_targets(out, force=force, inputs=inputs)
    catalogue, own = catalogue_and_gym(folder_of(gym))
    found = run_week(meant, catalogue, own, day=names.day_named(day) if day else None, size=class_size)
    if as_json:
        typer.echo(json.dumps(run_as_data(found), indent=1, ensure_ascii=False))
    else:
        Console().print(floor_table(meant, found))
        for line in floor_lines(found):
            typer.echo(line)
    if out is not None:
        from planner.render.run_page import run_html

        days = [(d.day, d.pieces) for d in found]
        write(out, run_html(meant, found[0].size, days), force=force, inputs=inputs)
