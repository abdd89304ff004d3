"""Commands that make a week, measure it and write it out."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from planner.cli.base import (
    BROKEN,
    CandidateOption,
    DayOption,
    ForceOption,
    GymName,
    WeekFile,
    check_targets,
    folder_of,
    iso_week,
    progress,
    reason_not_kept,
    store_of,
    tell_unmet,
    week_named,
    write,
    write_json,
    write_sheet,
)
from planner.domain.words import capital
from planner.errors import DataError, Place

if TYPE_CHECKING:
    from planner.domain.requests import Wish
    from planner.domain.week import Week

WEEK_SUFFIX = ".json"


def draft(  # noqa: PLR0917  (each is named on the command line)
    gym: GymName,
    week: Annotated[
        str | None, typer.Option("--week", help="ISO week, like 2026-W49; next week unless given.")
    ] = None,
    seed: Annotated[
        int, typer.Option("--seed", min=0, max=2**31 - 1, help="Another seed gives another week.")
    ] = 1,
    seconds: Annotated[
        float, typer.Option("--seconds", min=1, max=600, help="How long to look for the best week.")
    ] = 10.0,
    out: Annotated[
        Path | None, typer.Option("--out", help="The sheet; week-<WEEK>-<NAME>.html unless given.")
    ] = None,
    json_file: Annotated[
        Path | None, typer.Option("--json", help="The week as JSON too, for audit, sheet and history.")
    ] = None,
    alternatives: Annotated[
        int, typer.Option("--alternatives", min=1, max=7, help="So many weeks, each best at something else.")
    ] = 1,
    force: ForceOption = False,
) -> None:
    """Draft a week, write its sheet as HTML, and keep it as the gym's next candidate for that week."""
    from planner.cli.tables import week as tables

    folder = folder_of(gym)
    week = iso_week(week)
    reason = reason_not_kept(folder)
    if out is not None and json_file is not None and json_file.absolute() == out.absolute():
        raise DataError("--out and --json name the same file", Place(json_file), "Give each its own.")
    # Which candidate it becomes is only known once it is drafted; the folder is the same.
    check_targets(out or sheet_of(week, "" if reason else "A"), json_file, force=force)
    with progress() as tell:
        found = _drafted(folder, week, seed, seconds, tell, keep=not reason, count=alternatives)
    console = Console()
    for label, name, made in found:
        if label:
            console.print(f"{name}: {label}", markup=False, highlight=False)
        console.print(tables.week_table(made))
        console.print(tables.proof_line(made), highlight=False, markup=False)
    wishes: tuple[Wish, ...] = ()
    if not reason:
        with store_of(gym) as (_, store):
            wishes = store.state(week).requests.wishes
    for _, name, made in found:
        tell_unmet(f"{name}: " if alternatives > 1 else "", made, wishes)
    kept = [name for _, name, _ in found]
    said = f"candidate {kept[0]}" if len(kept) == 1 else f"candidates {', '.join(kept)}"
    typer.echo(f"Not kept: {reason}." if reason else f"Kept as {said} of {week} in {folder}.")
    for number, (_, name, made) in enumerate(found):
        ending = f"-{name}" if number else ""
        own = sheet_of(week, "" if reason and alternatives == 1 else name)
        write_sheet(out.with_stem(out.stem + ending) if out else own, made, force=force)
        if json_file is not None:
            write_json(json_file.with_stem(json_file.stem + ending), made, force=force)


def sheet_of(week: str, name: str) -> Path:
    """The file of a candidate's sheet, where none is named: no candidate's replaces another's."""
    return Path(f"week-{week}-{name}.html" if name else f"week-{week}.html")


def _drafted(
    folder: Path,
    week: str,
    seed: int,
    seconds: float,
    tell: Callable[[str, float], None],
    *,
    keep: bool,
    count: int,
) -> list[tuple[str, str, Week]]:
    """Label, name and week of each draft; the label is empty if there is only one."""
    # Imported late, since they bring the solver: mistakes up to here are told at once.
    from planner.weeks.alternatives import alternatives_kept
    from planner.weeks.draft import draft as draft_week
    from planner.weeks.draft import draft_kept
    from planner.weeks.setting import setting_of

    if not keep and count == 1:
        return [("", "A", draft_week(folder, week=week, seed=seed, seconds=seconds, progress=tell))]
    from planner.store.store import open_store

    with open_store(folder) if keep else nullcontext() as store:
        setting = setting_of(folder, week, store)
        if count > 1:
            many = alternatives_kept(store, setting, count, seed=seed, seconds=seconds, progress=tell)
            return [(a.label, c.name, c.week) for c, a in many]
        assert store is not None
        one = draft_kept(store, setting, seed=seed, seconds=seconds, progress=tell)
        return [("", one.name, one.week)]


def audit(
    week: WeekFile,
    gym: Annotated[str, typer.Option("--gym", metavar="GYM", help="Folder of the gym, or a shipped gym.")],
    mark: Annotated[
        bool, typer.Option("--mark", help="Mark the lines that you changed as yours, in the file.")
    ] = False,
) -> None:
    """Measure every rule of a week again, and hold its file to its plan; exit 1 on a broken must."""
    from planner.cli.tables import week as tables
    from planner.load.gym import read_week
    from planner.weeks.audit import audit as audit_week
    from planner.weeks.audit import with_marks

    read = read_week(week)
    if mark:
        read = with_marks(read, folder_of(gym), week)
        write(week, read.model_dump_json(indent=1) + "\n")
    with progress("Measuring"):
        results = audit_week(read, folder_of(gym), week)
    console = Console()
    console.print(tables.rules_table(results))
    for line in tables.breach_lines(results):
        typer.echo(line)
    broken = [rule for rule in results if rule.level == "must" and rule.measure]
    soft = [rule for rule in results if rule.level == "weight" and rule.measure]
    typer.echo(
        f"{len(results)} rules: {len(broken)} musts broken; {len(soft)} weighted rules gave way, "
        f"{sum(rule.cost for rule in soft)} points."
    )
    if broken:
        raise typer.Exit(BROKEN)


def sheet(
    week: WeekFile,
    out: Annotated[
        Path | None, typer.Option("--out", help="The sheet; the week's name with .html unless given.")
    ] = None,
    force: ForceOption = False,
) -> None:
    """Write the sheet of a week that was drafted before."""
    from planner.load.gym import read_week
    from planner.weeks.sheets import sheet as week_sheet

    target = out or week.with_suffix(".html")
    check_targets(target, force=force, inputs=(week,))
    with progress("Writing"):
        text = week_sheet(read_week(week))
    write(target, text, force=force, inputs=(week,))


def sheets(  # noqa: PLR0917  (each is named on the command line)
    source: Annotated[
        str,
        typer.Argument(metavar="GYM_OR_WEEK.json", help="The gym, for the loads card; or the week alone."),
    ],
    week: Annotated[
        str | None,
        typer.Argument(
            metavar="[WEEK]", help="A week that is kept, like 2026-W49, or WEEK.json that draft has written."
        ),
    ] = None,
    to: Annotated[Path, typer.Option("--to", metavar="DIR", help="The folder for the sheets.")] = Path(
        "sheets"
    ),
    only: Annotated[
        str | None, typer.Option("--only", help="Some: week,wall,member,brief,loads,calendar.")
    ] = None,
    day: DayOption = None,
    formats: Annotated[
        str, typer.Option("--format", help="html, pdf, or html,pdf; or text, to print.")
    ] = "html",
    candidate: CandidateOption = None,
    force: ForceOption = False,
) -> None:
    """Write the sheets for wall, members and coach, the loads card and the calendar, with an index."""
    from planner.weeks import names
    from planner.weeks.sheets import write_sheets

    if week is None and not source.endswith(WEEK_SUFFIX):
        raise DataError("no week is named", advice=f"planner sheets {source} WEEK --to DIR")
    meant, file = week_meant(source, week or source, candidate)
    if formats.strip() == "text":
        from planner.weeks.board import board

        if week is None:
            raise DataError("the text needs the gym too", advice=f"planner sheets GYM {source} --format text")
        typer.echo(board(meant, folder_of(source), names.day_named(day) if day else None), nl=False)
        return
    with progress("Writing") as tell:
        written = write_sheets(
            meant,
            to,
            source=file,
            gym_folder=folder_of(source) if week is not None else None,
            only=_listed(only),
            day=names.day_named(day) if day else None,
            formats=_listed(formats),
            force=force,
            progress=tell,
        )
    typer.echo(f"Wrote {len(written)} files; open {written[0]}")
    if week is None and not only and not day:
        typer.echo(f"Without the gym's plates there is no loads card: planner sheets GYM {source}")


def week_meant(gym: str, word: str, candidate: str | None) -> tuple[Week, Path | None]:
    """The week in a file, with the file; or a stored week by its name, with None."""
    from planner.load.gym import read_week
    from planner.weeks import keeping

    if word.endswith(WEEK_SUFFIX) or Path(word).is_file():
        if candidate:
            raise DataError(
                f"{word} is one week, not a choice of candidates", advice="Leave --candidate out."
            )
        return read_week(Path(word)), Path(word)
    with store_of(gym) as (_, store):
        return keeping.meant(store.state(week_named(word)), candidate).week, None


def loads(  # noqa: PLR0917  (each is named on the command line)
    gym: Annotated[str, typer.Argument(metavar="GYM", help="Folder with gym.yaml, or a shipped gym.")],
    lift: Annotated[str, typer.Option("--lift", help='A lift on the bar, such as "bench press".')],
    scheme: Annotated[str, typer.Option("--scheme", help="Sets x reps, such as 4x6, or a scheme's id.")],
    one_rm: Annotated[float | None, typer.Option("--one-rm", help="Your 1RM in kg.")] = None,
    reps_max: Annotated[
        str | None, typer.Option("--reps-max", help="Or a set to failure: reps@kg, such as 4@75.")
    ] = None,
    of: Annotated[
        str,
        typer.Option("--of", help="The lift that your number is of, where the lift is a share of another."),
    ] = "",
    bar: Annotated[float | None, typer.Option("--bar", min=1, max=50, help="Your bar in kg.")] = None,
    yes: Annotated[bool, typer.Option("--yes", help="An unusual 1RM is meant.")] = False,
) -> None:
    """Say what one member puts on the bar, by their 1RM or a set to failure."""
    from planner.cli.tables import week as tables
    from planner.weeks.loads import member_answer

    answer = member_answer(
        folder_of(gym), lift, scheme, one_rm=one_rm, reps_max=reps_max, bar=bar, of=of, meant=yes
    )
    tested = answer.tested
    for found in answer.schemes:
        made = tables.table(
            f"{answer.lift}: {found.name}, {found.percent:g} % of its 1RM",
            f"1RM of {tested.of}", "bar", "load", "plates on each side", right=range(3),
        )  # fmt: skip
        names = ("lowest", "mean", "highest") if answer.spread else ("",)
        for name, load in zip(names, found.loads, strict=True):
            for on in load.bars:
                plates = " + ".join(f"{kg:g}" for kg in on.per_side_kg) or "none: the empty bar"
                too_heavy = f"; {load.target_kg:.1f} kg would be right" if on.too_heavy else ""
                made.add_row(
                    f"{name} {load.one_rm_kg:g} kg".strip(), f"{on.bar_kg:g} kg", f"{on.kg:g} kg",
                    plates + too_heavy,
                )  # fmt: skip
        Console().print(made)
    if tested.percent != 100:  # noqa: PLR2004
        typer.echo(f"{capital(answer.lift)} is trained as {tested.percent} % of {tested.of}.")
    if tested.other:
        typer.echo(
            f"The number is taken to be your {tested.of}. If it is your {tested.other}: "
            f'--of "{tested.other}".'
        )
    if answer.bars:
        held = ", ".join(f"{kg:g}" for kg in answer.bars)
        typer.echo(f"The gym lists no bar of {bar:g} kg; it has {held} kg. Weigh yours before you load it.")
    if answer.spread:
        typer.echo("Seven published formulas disagree by this much. If unsure, begin with the lowest.")


def _listed(words: str | None) -> tuple[str, ...]:
    """Splits words at commas."""
    return tuple(word.strip() for word in (words or "").split(",") if word.strip())
