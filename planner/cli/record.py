"""Commands about the stored weeks of a gym: weeks, choose, undo, redo, history, log, export, import."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from planner.cli.base import (
    DayName,
    ForceOption,
    GymName,
    OutOption,
    OwnGym,
    WeekName,
    check_known,
    check_targets,
    folder_of,
    iso_week,
    progress,
    store_of,
    week_named,
    write,
    write_json,
    write_sheet,
)
from planner.errors import DataError, Place

MAX_EXPORT_BYTES = 500_000_000
STATUSES = ("done", "skipped", "changed")
SeenOption = Annotated[
    int | None,
    typer.Option(
        "--seen", min=1, metavar="N", help="Only if the week still stands at change N of its history."
    ),
]


def weeks(
    gym: OwnGym,
    week: Annotated[
        str | None, typer.Argument(metavar="[WEEK]", help="One week, with what was asked for.")
    ] = None,
) -> None:
    """List the weeks that are kept, with their candidates and the chosen one."""
    from planner.cli.tables import life as life_tables
    from planner.weeks import keeping

    if week:
        week_named(week)
    with store_of(gym) as (_, store):
        states = keeping.states(store)
    found = [s for s in states if week in {None, s.week}]
    if not found:
        others = f" Weeks that are kept: {', '.join(s.week for s in states)}." if states else ""
        typer.echo(f"Nothing is kept of {week}.{others}" if week else "Nothing is kept yet.")
        return
    Console().print(life_tables.candidates_table(found))
    for state in found:
        for line in life_tables.request_lines(state.requests):
            typer.echo(f"{state.week}: {line}")
    if week and found[0].log:
        _print_log(gym, week)


def choose(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    name: Annotated[str, typer.Argument(metavar="NAME", help="A candidate: A, B, ...")],
    out: OutOption = None,
    json_file: Annotated[Path | None, typer.Option("--json", help="Write the week as JSON.")] = None,
    force: ForceOption = False,
) -> None:
    """Make a candidate the one that is trained; later weeks look back to it."""
    from planner.weeks import keeping
    from planner.weeks.choose import choose_candidate

    check_targets(out, json_file, force=force)
    with store_of(gym) as (_, store):
        state = choose_candidate(store, week_named(week), name)
    typer.echo(f"{state.chosen} is chosen for {week}.")
    made = keeping.meant(state).week
    if out:
        write_sheet(out, made, force=force)
    if json_file:
        write_json(json_file, made, force=force)


def undo(gym: OwnGym, week: WeekName, seen: SeenOption = None) -> None:
    """Step back to before the last change of a week."""
    _step(gym, week, "undo", seen)


def redo(gym: OwnGym, week: WeekName, seen: SeenOption = None) -> None:
    """Step forward again to what was undone."""
    _step(gym, week, "redo", seen)


def history(gym: OwnGym, week: WeekName) -> None:
    """List every change of a week; nothing is ever lost."""
    from planner.cli.tables import life as life_tables

    with store_of(gym) as (_, store):
        found, head = store.history(week_named(week)), store.head(week)
    if not found:
        typer.echo(f"Nothing is kept of {week}.")
        return
    Console().print(life_tables.history_table(found, head))


def log(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    day: DayName,
    status: Annotated[str, typer.Argument(metavar="done|skipped|changed", help="How it went.")],
    rating: Annotated[
        float | None, typer.Option("--rating", min=0, max=10, help="That the class gave it, 0 to 10.")
    ] = None,
    result: Annotated[str, typer.Option("--result", help="The median result, as written down.")] = "",
    note: Annotated[str, typer.Option("--note", help="What was changed, or anything else.")] = "",
) -> None:
    """Write down how a session of the chosen week went, and see the planned load beside the rated one."""
    from planner.cli.tables import life as life_tables
    from planner.domain.record import LogEntry
    from planner.weeks import names
    from planner.weeks.log import log_session

    check_known(status, STATUSES, "status")
    entry = LogEntry.model_validate({"status": status, "rating": rating, "result": result, "note": note})
    with store_of(gym) as (_, store):
        loads = log_session(store, week_named(week), names.day_named(day), entry)
    Console().print(life_tables.log_table(loads))
    typer.echo(life_tables.log_line(loads))


def export_(
    gym: GymName,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Such as my-gym.json.")],
    force: ForceOption = False,
) -> None:
    """Write a whole gym, its files and all its weeks, as one JSON file."""
    from planner.store.transfer import export_gym

    folder = folder_of(gym)
    check_targets(file, force=force)
    with progress("Writing"):
        text = export_gym(folder)
    write(file, text, force=force)


def import_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="That planner export has written.")],
    gym: Annotated[Path, typer.Argument(metavar="GYM", help="The folder of the gym to be.")],
) -> None:
    """Make a gym from an exported file; nothing that is there already is replaced."""
    from planner.load.yaml_file import read_text
    from planner.store.transfer import import_gym
    from planner.weeks.setting import load_setting

    text = read_text(file, MAX_EXPORT_BYTES)
    with progress() as tell:
        tell("Checking", 0.3)
        try:
            import_gym(text, gym, lambda folder: load_setting(folder, iso_week(None)))
        except DataError as error:
            if error.place is not None:
                raise
            advice = error.advice or "Name a file that planner export has written."
            raise DataError(error.what, Place(file), advice) from None
    typer.echo(f"Made {gym}; see its weeks with: planner weeks {gym}")


def _step(gym: str, week: str, way: str, seen: int | None) -> None:
    from planner.store.store import LAST_LOOK

    with store_of(gym) as (_, store):
        step = store.undo if way == "undo" else store.redo
        state = step(week_named(week), seen=LAST_LOOK if seen is None else seen)
        head = store.head(week)
        verbs = {r.id: r.verb for r in store.history(week)}
    names = ", ".join(c.name for c in state.candidates) or "none"
    stands = f'stands at "{verbs[head]}"' if head else "is empty again"
    typer.echo(f"{week} {stands}. Candidates: {names}; chosen: {state.chosen or 'none'}.")


def _print_log(gym: str, week: str) -> None:
    from planner.cli.tables import life as life_tables
    from planner.store.log import planned_against_rated

    with store_of(gym) as (_, store):
        loads = planned_against_rated(store.state(week))
    Console().print(life_tables.log_table(loads))
    typer.echo(life_tables.log_line(loads))
