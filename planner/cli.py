"""The command line: each command reads, calls one verb of the pipeline, writes, and says what it did."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Sized
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from rich.console import Console
from typer.core import TyperCommand

from planner import paths
from planner.domain.iso_week import monday_of, next_week
from planner.errors import DataError, Place, PlannerError

if TYPE_CHECKING:
    from planner.domain.catalogue import Catalogue
    from planner.domain.gym import Gym

BROKEN, FAULT = 1, 70
"""Exit codes beside those of the errors: a must is broken; the program itself is at fault."""


class SpokenCommand(TyperCommand):
    """A command whose errors are said in words; a traceback appears with ``--debug`` only."""

    def invoke(self, ctx: Any) -> Any:
        """Run the command; an error becomes its message and its exit code."""
        try:
            return super().invoke(ctx)
        except (typer.Exit, typer.Abort, BrokenPipeError):
            raise
        except Exception as error:
            if ctx.find_root().params.get("debug"):
                raise
            if isinstance(error, PlannerError):
                typer.echo(str(error), err=True)
                raise typer.Exit(error.exit_code) from None
            typer.echo(
                f"The program is at fault here, not your files: {type(error).__name__}: {error}\n"
                "Run it again as `planner --debug ...` and report what it prints.",
                err=True,
            )
            raise typer.Exit(FAULT) from None


app = typer.Typer(
    name="planner",
    help="Drafts a balanced training week for a functional-fitness gym, in every kit version.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    add_completion=False,
)
catalogue_app = typer.Typer(no_args_is_help=True, help="Looks at the catalogue of movements.")
app.add_typer(catalogue_app, name="catalogue")

GymOption = Annotated[
    str | None, typer.Option("--gym", metavar="GYM", help="Folder of a gym, or a shipped gym such as demo.")
]
WeekFile = Annotated[Path, typer.Argument(metavar="WEEK.json", help="A week that draft has written.")]


def _version(wanted: bool) -> None:
    if wanted:
        import planner

        typer.echo(f"planner {planner.__version__}")
        raise typer.Exit


@app.callback()
def _top(
    debug: Annotated[bool, typer.Option("--debug", help="Show the traceback of an error.")] = False,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    del debug, version  # each is read elsewhere


@app.command(cls=SpokenCommand)
def draft(  # noqa: PLR0917  (each is named on the command line)
    gym: Annotated[
        str, typer.Argument(metavar="GYM", help="Folder with gym.yaml, or a shipped gym such as demo.")
    ],
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
        Path | None, typer.Option("--out", help="The sheet; week-<WEEK>.html in this folder unless given.")
    ] = None,
    json_file: Annotated[
        Path | None, typer.Option("--json", help="The week as JSON too, for audit, sheet and history.")
    ] = None,
) -> None:
    """Draft a week and write its sheet as HTML."""
    from planner import tables
    from planner.load.places import check_writable

    folder = _folder(gym)
    week = _iso_week(week)
    sheet_file = out or Path(f"week-{week}.html")
    if json_file is not None and json_file.absolute() == sheet_file.absolute():
        raise DataError("--out and --json name the same file", Place(json_file), "Give each its own.")
    for path in filter(None, (sheet_file, json_file)):
        check_writable(path)
    from planner import pipeline  # late: it brings the solver, and mistakes up to here should be said at once

    with _progress() as tell:
        made = pipeline.draft(folder, week=week, seed=seed, seconds=seconds, progress=tell)
    _write(sheet_file, pipeline.sheet(made))
    if json_file is not None:
        _write(json_file, made.model_dump_json(indent=1) + "\n")
    console = Console()
    console.print(tables.week_table(made))
    console.print(tables.proof_line(made), highlight=False, markup=False)
    for path in filter(None, (sheet_file, json_file)):
        typer.echo(f"Wrote {path}")


@app.command(cls=SpokenCommand)
def audit(
    week: WeekFile,
    gym: Annotated[str, typer.Option("--gym", metavar="GYM", help="Folder of the gym, or a shipped gym.")],
) -> None:
    """Measure every rule of a week again, without the solver; exit 1 on a broken must."""
    from planner import pipeline, tables

    read = pipeline.read_week(week)
    results = pipeline.audit(read, _folder(gym))
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


@app.command(cls=SpokenCommand)
def sheet(
    week: WeekFile,
    out: Annotated[
        Path | None, typer.Option("--out", help="The sheet; the week's name with .html unless given.")
    ] = None,
) -> None:
    """Write the sheet of a week that was drafted before."""
    from planner import pipeline
    from planner.load.places import check_writable

    target = out or week.with_suffix(".html")
    if target.absolute() == week.absolute():
        raise DataError("the sheet would replace the week", Place(target), "Name another file with --out.")
    check_writable(target)
    _write(target, pipeline.sheet(pipeline.read_week(week)))
    typer.echo(f"Wrote {target}")


@app.command(cls=SpokenCommand)
def sheets(
    source: Annotated[
        str,
        typer.Argument(metavar="GYM_OR_WEEK.json", help="The gym, for the loads card; or the week alone."),
    ],
    week: Annotated[
        Path | None, typer.Argument(metavar="[WEEK.json]", help="A week that draft has written.")
    ] = None,
    to: Annotated[Path, typer.Option("--to", metavar="DIR", help="The folder for the sheets.")] = Path(
        "sheets"
    ),
    only: Annotated[
        str | None, typer.Option("--only", help="Some: week,wall,member,brief,loads,calendar.")
    ] = None,
    formats: Annotated[str, typer.Option("--format", help="html, pdf, or html,pdf.")] = "html",
) -> None:
    """Write the sheets for wall, members and coach, the loads card and the calendar, with an index."""
    from planner import going_out

    if week is None and not source.endswith(going_out.WEEK_SUFFIX):
        raise DataError("no week is named", advice=f"planner sheets {source} WEEK.json --to DIR")
    written = going_out.write_sheets(
        week or Path(source),
        to,
        gym_folder=_folder(source) if week is not None else None,
        only=_listed(only),
        formats=_listed(formats),
    )
    typer.echo(f"Wrote {len(written)} files; open {written[0]}")
    if week is None and not only:
        typer.echo(f"Without the gym's plates there is no loads card: planner sheets GYM {source}")


@app.command(cls=SpokenCommand)
def loads(  # noqa: PLR0917  (each is named on the command line)
    gym: Annotated[str, typer.Argument(metavar="GYM", help="Folder with gym.yaml, or a shipped gym.")],
    lift: Annotated[str, typer.Option("--lift", help='A lift on the bar, such as "overhead squat".')],
    scheme: Annotated[str, typer.Option("--scheme", help="Sets x reps, such as 3x8, or a scheme's id.")],
    one_rm: Annotated[float | None, typer.Option("--one-rm", help="Your 1RM of that lift in kg.")] = None,
    reps_max: Annotated[
        str | None, typer.Option("--reps-max", help="Or a set to failure: reps@kg, such as 5@80.")
    ] = None,
    bar: Annotated[float | None, typer.Option("--bar", min=1, max=50, help="Your bar in kg.")] = None,
) -> None:
    """Say what one member puts on the bar, by their 1RM or a set to failure."""
    from planner import going_out, tables

    answer = going_out.member_answer(_folder(gym), lift, scheme, one_rm=one_rm, reps_max=reps_max, bar=bar)
    for found in answer.schemes:
        made = tables.table(
            f"{answer.lift}: {found.name}, {found.percent:g} % of 1RM",
            "1RM", "bar", "load", "plates on each side", right=range(3),
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
    if answer.spread:
        typer.echo("Seven published formulas disagree by this much. If unsure, begin with the lowest.")


def _listed(words: str | None) -> tuple[str, ...]:
    """Words between commas."""
    return tuple(word.strip() for word in (words or "").split(",") if word.strip())


@app.command(cls=SpokenCommand)
def init(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="A new folder, or an empty one.")],
) -> None:
    """Write a new gym's folder: commented files that draft as they are."""
    from planner.load.starter import copy_starter

    for path in copy_starter(paths.home().shared / "starter", folder):
        typer.echo(f"Wrote {path}")
    typer.echo(f"Edit gym.yaml, then run: planner draft {folder}")


@app.command(cls=SpokenCommand)
def rules(gym: GymOption = None) -> None:
    """List the rules in force, each with its level, its sentence and its file."""
    from planner import tables
    from planner.load.rule_names import check_rule_names
    from planner.load.rule_origins import rule_origins
    from planner.load.rules import load_rules

    folder = _folder(gym) if gym else None
    constraints = paths.home().constraints
    found = load_rules(constraints, folder)
    check_rule_names(found, _catalogue(), constraints, folder)
    origins = rule_origins(constraints, folder)
    Console().print(tables.rule_list(found, origins))
    typer.echo(f"{len(found)} rules, {sum(rule.off for rule in found)} of them off.")


@app.command(cls=SpokenCommand)
def schema(
    name: Annotated[
        str | None, typer.Argument(metavar="[week|gym|rules|movements]", help="Which; all unless given.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="DIR", help="Write NAME.schema.json files to this folder.")
    ] = None,
) -> None:
    """Print or write the JSON Schemas of week, gym, rules and movements."""
    from planner import schemas

    known = schemas.SCHEMA_NAMES
    if name is not None:
        _known(name, known, "schema")
    chosen = tuple(n for n in known if name in {None, n})
    texts = {n: json.dumps(schemas.schema(n), indent=2) + "\n" for n in chosen}
    if out is None and len(chosen) > 1:
        raise DataError(
            "the four schemas do not go on one page",
            advice=f"Name one ({', '.join(known)}), or a folder with --out.",
        )
    for each, text in texts.items():
        if out is None:
            typer.echo(text, nl=False)
        else:
            _write(out / f"{each}.schema.json", text)
            typer.echo(f"Wrote {out / f'{each}.schema.json'}")


@catalogue_app.command("check", cls=SpokenCommand)
def catalogue_check(gym: GymOption = None) -> None:
    """Check the whole catalogue and show how many movements each pattern has in each kit version."""
    from planner import tables
    from planner.domain.graph import check_catalogue, coverage_rows

    catalogue, place = _catalogue(), _folder(gym) if gym else None
    known = _gym(place, catalogue) if place else None
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


@catalogue_app.command("list", cls=SpokenCommand)
def catalogue_list(
    pattern: Annotated[
        str | None,
        typer.Option("--pattern", help="Only movements with this pattern: squat, vertical_pull, ..."),
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
    from planner import tables
    from planner.domain.catalogue import PATTERNS
    from planner.domain.substitution import setup_for

    catalogue = _catalogue()
    chosen = list(catalogue.movements.values())
    if pattern is not None:
        wanted = pattern.strip().lower().replace(" ", "_")
        _known(wanted, PATTERNS, "pattern")
        chosen = [m for m in chosen if wanted in m.patterns]
    if kit is not None:
        held = _held(kit, catalogue, _gym(_folder(gym), catalogue) if gym else None)
        chosen = [m for m in chosen if setup_for(m, held) is not None]
    Console().print(tables.movements_table(chosen))
    typer.echo(f"{len(chosen)} of {len(catalogue.movements)} movements.")


def main() -> None:
    """The ``planner`` command."""
    app()


def _folder(word: str) -> Path:
    from planner.load.places import gym_folder

    return gym_folder(word, paths.home().shared / "gyms")


def _catalogue() -> Catalogue:
    from planner.load.catalogue import load_catalogue

    return load_catalogue(paths.home().shared / "catalogue")


def _gym(folder: Path, catalogue: Catalogue) -> Gym:
    from planner.load.gym import load_gym

    return load_gym(folder, catalogue)


def _held(kit: str, catalogue: Catalogue, gym: Gym | None) -> frozenset[str]:
    """Items of a kit version, or those that are listed with commas."""
    from planner.domain.at_hand import held_items

    own = next((k for k in gym.kits if k.id == kit), None) if gym else None
    if gym and own:
        return held_items(gym, own)
    if kit in {"everything", "no_kit"}:
        return frozenset(catalogue.items) if kit == "everything" else frozenset()
    kits = [k.id for k in gym.kits] if gym else ["everything", "no_kit"]
    items = [word.strip() for word in kit.split(",")]
    for item in items:
        _known(item, (*kits, *catalogue.items), "kit version or equipment")
    return frozenset(items)


def _known(word: str, words: tuple[str, ...], what: str) -> None:
    from planner.load.yaml_file import nearest

    if word not in words:
        hint = nearest(word, words) or f" Known: {', '.join(words)}."
        raise DataError(f'there is no {what} "{word}".{hint}')


def _iso_week(word: str | None) -> str:
    """The week meant; next week, by this computer's clock, where none is."""
    if word is None:
        return next_week(datetime.now().astimezone().date())
    try:
        monday_of(word)
    except ValueError as error:
        raise DataError(f"--week: {error}") from None
    return word


def _write(path: Path, text: str) -> None:
    from planner.load.writing import write_text_atomically

    write_text_atomically(path, text)


@contextmanager
def _progress() -> Iterator[Callable[[str, float], None]]:
    """A bar on the terminal while a week is drafted; nothing where the output goes to a file."""
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    console = Console(file=sys.stderr)
    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task("Reading", total=1.0)
        yield lambda label, fraction: bar.update(task, description=label, completed=fraction)
