"""Commands about a drafted week: redraft, merge, compare, why, why-not, price, resilience."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from planner.cli.base import (
    CandidateOption,
    DayName,
    ForceOption,
    OutOption,
    OwnGym,
    WeekName,
    check_known,
    check_targets,
    progress,
    store_of,
    tell_unmet,
    week_named,
    weeks_setting,
    write,
    write_sheet,
)
from planner.errors import DataError

if TYPE_CHECKING:
    from planner.domain.changes import GymChanges
    from planner.domain.gym import Kit
    from planner.domain.requests import PieceName
    from planner.weeks.setting import Setting


WeekOption = Annotated[
    str | None, typer.Option("--week", help="ISO week; the last one that has candidates unless given.")
]
SecondsOption = Annotated[
    float, typer.Option("--seconds", min=1, max=600, help="How long each search may take.")
]


def redraft(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    without: Annotated[
        list[str] | None, typer.Option("--without", help="Equipment that is gone; may be given again.")
    ] = None,
    sets: Annotated[
        list[str] | None, typer.Option("--set", help="A new count: rower=2, or bar20=6 for one mass.")
    ] = None,
    days: Annotated[str | None, typer.Option("--days", help="Open days: mon,tue,thu.")] = None,
    class_size: Annotated[
        int | None, typer.Option("--class-size", min=1, max=60, help="Athletes in the class.")
    ] = None,
    drop_kit: Annotated[
        list[str] | None, typer.Option("--drop-kit", help="A kit version to leave out, by its id.")
    ] = None,
    add_kit: Annotated[
        list[str] | None, typer.Option("--add-kit", help="A kit version to add: one_dumbbell=dumbbell.")
    ] = None,
    candidate: CandidateOption = None,
    out: OutOption = None,
    force: ForceOption = False,
    seconds: SecondsOption = 8.0,
) -> None:
    """Solve a week again after a change; as little else changes as can be, and it is proved."""
    from planner.cli.tables import life as life_tables
    from planner.weeks.redraft import redraft_kept

    check_targets(out, force=force)
    with weeks_setting(gym, week) as (store, setting):
        changes = _changes(setting, without or [], sets or [], days, class_size, drop_kit or [])
        changes = changes.model_copy(update={"add_kits": _new_kits(setting, add_kit or [])})
        with progress() as tell:
            old, new, made = redraft_kept(
                store, setting, changes=changes, candidate=candidate, seconds=seconds, progress=tell
            )
    console = Console()
    if made.changes:
        console.print(life_tables.changes_table(old, new, made.changes))
    for line in life_tables.redraft_lines(old, new, made):
        typer.echo(line)
    tell_unmet("", new.week, ())
    typer.echo(f"Kept as candidate {new.name} of {week}: {new.label}.")
    if out:
        write_sheet(out, new.week, force=force)


def merge(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    a: Annotated[str, typer.Argument(metavar="A", help="A candidate.")],
    b: Annotated[str, typer.Argument(metavar="B", help="Another.")],
    take: Annotated[
        list[str], typer.Option("--take", help="Days and where they come from: mon,thu=A; give it again.")
    ],
    week: WeekOption = None,
    out: OutOption = None,
    force: ForceOption = False,
    seconds: SecondsOption = 10.0,
) -> None:
    """Make one week from two candidates: days taken from each stay to the letter, the rest is solved."""
    from planner.cli.tables import week as tables
    from planner.weeks import names
    from planner.weeks.merge import merge_kept, take_from

    check_targets(out, force=force)
    taken = {names.day_named(day): name for day, name in take_from(tuple(take)).items()}
    with weeks_setting(gym, _week(gym, week)) as (store, setting), progress() as tell:
        kept = merge_kept(store, setting, (a, b), taken, seconds=seconds, progress=tell)
        wishes = store.state(setting.week).requests.wishes
    console = Console()
    console.print(tables.week_table(kept.week))
    console.print(tables.proof_line(kept.week), highlight=False, markup=False)
    tell_unmet("", kept.week, wishes)
    typer.echo(f"Kept as candidate {kept.name} of {kept.week.week}: {kept.label}.")
    if out:
        write_sheet(out, kept.week, force=force)


def compare(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    a: Annotated[str, typer.Argument(metavar="A", help="A candidate.")],
    b: Annotated[str, typer.Argument(metavar="B", help="Another.")],
    week: WeekOption = None,
    out: Annotated[Path | None, typer.Option("--out", help="Write it as HTML too.")] = None,
    force: ForceOption = False,
) -> None:
    """Lay two candidates side by side: days, figures, rules, and a summary."""
    from planner.cli.tables.compare import compare_text
    from planner.render.compare_page import compare_html
    from planner.weeks.compare import compare_kept

    check_targets(out, force=force)
    with weeks_setting(gym, _week(gym, week)) as (store, setting), progress("Comparing"):
        made = compare_kept(store, setting, a, b)
    Console().print(compare_text(made))
    if out:
        write(out, compare_html(made), force=force)


def why(
    gym: OwnGym,
    week: WeekName,
    day: DayName,
    piece: Annotated[str, typer.Argument(metavar="strength|conditioning", help="Which piece.")],
    candidate: CandidateOption = None,
) -> None:
    """Say what speaks for each line of a piece: the rules that would be worse without it."""
    from planner.cli.tables import life as life_tables
    from planner.weeks import names
    from planner.weeks.why import why_kept

    with weeks_setting(gym, week) as (store, setting), progress("Measuring"):
        found = why_kept(store, setting, names.day_named(day), _piece(piece), candidate=candidate)
    for line in life_tables.reason_lines(found):
        typer.echo(line)


def why_not(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    day: DayName,
    movement: Annotated[str, typer.Argument(metavar="MOVEMENT", help="Id or name.")],
    piece: Annotated[str | None, typer.Option("--piece", help="strength or conditioning.")] = None,
    candidate: CandidateOption = None,
    seconds: SecondsOption = 3.0,
) -> None:
    """Say what having a movement on a day would break or cost, and what else would move."""
    from planner.cli.tables import life as life_tables
    from planner.weeks import names
    from planner.weeks.why_not import why_not_kept

    with weeks_setting(gym, week) as (store, setting), progress() as tell:
        wanted = names.movement_named(setting.catalogue, movement)
        of, answer = why_not_kept(
            store,
            setting,
            names.day_named(day),
            wanted,
            piece=_piece(piece) if piece else None,
            candidate=candidate,
            seconds=seconds,
            progress=tell,
        )
    if answer.week is not None and answer.changes:
        Console().print(life_tables.changes_table(of, (f"{of.name} with it", answer.week), answer.changes))
    for line in life_tables.why_not_lines(answer):
        typer.echo(line)


def price(
    gym: OwnGym, week: WeekName, candidate: CandidateOption = None, seconds: SecondsOption = 4.0
) -> None:
    """List the rules that bind, and the points that relaxing each by one unit saves."""
    from planner.cli.tables import life as life_tables
    from planner.weeks.price import price_kept

    with weeks_setting(gym, week) as (store, setting), progress() as tell:
        found = price_kept(store, setting, candidate=candidate, seconds=seconds, progress=tell)
    if not found:
        typer.echo("No rule costs anything: every weighted rule holds.")
        return
    Console().print(life_tables.price_table(found))


def resilience(
    gym: OwnGym, week: WeekName, candidate: CandidateOption = None, seconds: SecondsOption = 3.0
) -> None:
    """Say for every item what losing one, or all, of it would do to the week; the worst first."""
    from planner.cli.tables import life as life_tables
    from planner.weeks.resilience import resilience_kept

    with weeks_setting(gym, week) as (store, setting), progress() as tell:
        found = resilience_kept(store, setting, candidate=candidate, seconds=seconds, progress=tell)
    Console().print(life_tables.loss_table(found))
    for line in life_tables.loss_lines(found):
        typer.echo(line)


def _week(gym: str, week: str | None) -> str:
    from planner.weeks import keeping

    if week is not None:
        return week_named(week)
    with store_of(gym) as (_, store):
        return keeping.latest_week(store)


def _piece(word: str) -> PieceName:
    from planner.domain.requests import PIECES

    check_known(word, PIECES, "piece")
    return "strength" if word == "strength" else "conditioning"


def _new_kits(setting: Setting, words: list[str]) -> tuple[Kit, ...]:
    """The kit versions to add.

    Raises:
        DataError: a kit version makes no sense, or names unknown equipment.
    """
    from planner.domain.changes import kit_from_words

    kits = []
    for word in words:
        try:
            kit = kit_from_words(word)
        except ValueError as error:
            raise DataError(str(error)) from None
        for item in kit.contains:
            check_known(item, tuple(setting.catalogue.items), "equipment")
        kits.append(kit)
    return tuple(kits)


def _changes(  # noqa: PLR0917  (as they stand on the command line)
    setting: Setting,
    without: list[str],
    sets: list[str],
    days: str | None,
    class_size: int | None,
    kits: list[str],
) -> GymChanges:
    """The changes, with equipment by id or by name.

    Raises:
        DataError: says what is wrong and what would be right.
    """
    from planner.domain.changes import changes_from_words
    from planner.weeks import names

    for kit in kits:
        check_known(kit, tuple(k.id for k in setting.gym.kits), "kit version")
        if kit == setting.gym.kits[0].id:
            raise DataError("the gym floor is no version to leave out")
    lost = tuple(names.item_named(setting, word) for word in without)
    try:
        changes = changes_from_words(lost, tuple(sets), days, class_size)
    except ValueError as error:
        raise DataError(str(error)) from None
    held = {word: names.item_named(setting, word) for word in (*changes.counts, *changes.mass_counts)}
    return changes.model_copy(
        update={
            "drop_kits": tuple(kits),
            "counts": {held[word]: count for word, count in changes.counts.items()},
            "mass_counts": {held[word]: by_mass for word, by_mass in changes.mass_counts.items()},
        }
    )
