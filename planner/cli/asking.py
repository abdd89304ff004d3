"""Commands for what a coach fixes, rules out, asks for, overrules or writes by hand."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from pydantic import ValidationError

from planner.cli.base import (
    DayName,
    DayOption,
    OwnGym,
    SpokenCommand,
    WeekName,
    app,
    check_known,
    weeks_setting,
)
from planner.domain.catalogue import PATTERNS
from planner.domain.gym import DAY_NAMES
from planner.domain.requests import Ban, Lock, Wish
from planner.errors import DataError

if TYPE_CHECKING:
    from planner.domain.record import WeekState
    from planner.setting import Setting

PIECES = ("strength", "conditioning")
DOMAINS = ("short", "medium", "long")
HARDNESSES = ("hard", "easy")

PieceName = Annotated[
    str | None, typer.Argument(metavar="[strength|conditioning]", help="One piece; the whole day without.")
]
MovementOption = Annotated[str | None, typer.Option("--movement", help="Id or name of a movement.")]
PatternOption = Annotated[str | None, typer.Option("--pattern", help="squat, hinge, vertical_pull, ...")]
DomainOption = Annotated[
    str | None, typer.Option("--domain", help="How long the conditioning stays: short, medium, long.")
]
HardnessOption = Annotated[str | None, typer.Option("--hardness", help="hard or easy.")]
MovementName = Annotated[str, typer.Argument(metavar="MOVEMENT", help="Id or name.")]


@app.command(cls=SpokenCommand)
def lock(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    day: DayName,
    piece: PieceName = None,
    movement: MovementOption = None,
    pattern: PatternOption = None,
    domain: DomainOption = None,
    hardness: HardnessOption = None,
) -> None:
    """Lock a day, a piece, one movement, or a property: what is locked stays as it is."""
    from planner import desk

    with weeks_setting(gym, week) as (store, setting):
        wanted = _lock(setting, day, piece, movement, pattern, domain, hardness)
        state = desk.lock(store, setting, wanted)
    _say(gym, state, f"{wanted.words()}.")


@app.command(cls=SpokenCommand)
def unlock(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    day: DayName,
    piece: PieceName = None,
    movement: MovementOption = None,
    pattern: PatternOption = None,
    domain: DomainOption = None,
    hardness: HardnessOption = None,
) -> None:
    """Take a lock away; of a day alone, all its locks and a session written by hand."""
    from planner import desk

    with weeks_setting(gym, week) as (store, setting):
        wanted = _lock(setting, day, piece, movement, pattern, domain, hardness)
        state = desk.unlock(store, setting, wanted)
    _say(gym, state, f"No longer so: {wanted.words()}.")


@app.command(cls=SpokenCommand)
def ban(gym: OwnGym, week: WeekName, movement: MovementName, day: DayOption = None) -> None:
    """Rule a movement out, for the week or for a day."""
    from planner import desk

    with weeks_setting(gym, week) as (store, setting):
        wanted = _ban(setting, movement, day)
        state = desk.ban(store, setting, wanted)
    _say(gym, state, f"{wanted.words().capitalize()}.")


@app.command(cls=SpokenCommand)
def allow(gym: OwnGym, week: WeekName, movement: MovementName, day: DayOption = None) -> None:
    """Allow a movement again that was ruled out."""
    from planner import desk

    with weeks_setting(gym, week) as (store, setting):
        wanted = _ban(setting, movement, day)
        state = desk.allow(store, setting, wanted)
    _say(gym, state, f"Allowed again: {wanted.movement.replace('_', ' ')}.")


@app.command(cls=SpokenCommand)
def ask(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    movement: MovementOption = None,
    pattern: PatternOption = None,
    hard: Annotated[str | None, typer.Option("--hard", metavar="DAY", help="A day to be hard.")] = None,
    easy: Annotated[str | None, typer.Option("--easy", metavar="DAY", help="A day to be easy.")] = None,
    day: DayOption = None,
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Take that wish back.")] = False,
) -> None:
    """Ask for a movement or a pattern, on a day or some time, or for a hard or easy day."""
    from planner import desk

    with weeks_setting(gym, week) as (store, setting):
        wanted = _wish(setting, movement, pattern, hard, easy, day)
        state = (desk.withdraw if withdraw else desk.ask)(store, setting, wanted)
    said = desk.wish_words(wanted)
    _say(gym, state, f"No longer asked for: {said}." if withdraw else f"Asked for: {said}.")


@app.command(cls=SpokenCommand)
def overrule(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    rule: Annotated[str, typer.Argument(metavar="RULE", help="Its id; planner rules lists them.")],
    place: Annotated[str, typer.Argument(metavar="PLACE", help="As reported: thu, mon-tue, week, ...")],
    because: Annotated[str, typer.Option("--because", help="The reason; it is shown on the week.")] = "",
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Let the rule count there again.")] = False,
) -> None:
    """Let one rule not count in one place, this week only, with a reason."""
    from planner import desk

    with weeks_setting(gym, week) as (store, setting):
        if withdraw:
            state = desk.withdraw(store, setting, (rule, place))
        else:
            state = desk.overrule(store, setting, rule, place, because)
    _say(gym, state, f"{rule} {'counts again' if withdraw else 'does not count'} at {place}.")


@app.command(cls=SpokenCommand)
def write(
    gym: OwnGym,
    week: WeekName,
    session: Annotated[Path, typer.Argument(metavar="SESSION.yaml", help="A session for the gym floor.")],
) -> None:
    """Put a session of your own on its day, locked; a redraft solves its other kit versions."""
    from planner import desk

    with weeks_setting(gym, week) as (store, setting):
        written = desk.session_from_file(session, setting)
        state = desk.write(store, setting, written)
    _say(gym, state, f"{DAY_NAMES[written.day]} is as you wrote it, and locked.")


def _say(gym: str, state: WeekState, what: str) -> None:
    typer.echo(what)
    verb = f"planner redraft {gym} {state.week}" if state.candidates else f"planner draft {gym}"
    typer.echo(f"Drafts and redrafts of the week keep to it: {verb}")


def _lock(  # noqa: PLR0917  (as they stand on the command line)
    setting: Setting,
    day: str,
    piece: str | None,
    movement: str | None,
    pattern: str | None,
    domain: str | None,
    hardness: str | None,
) -> Lock:
    """What is locked.

    Raises:
        DataError: words that mean nothing, or two things at once.
    """
    from planner import desk

    if piece is not None:
        check_known(piece, PIECES, "piece")
    if len([x for x in (movement, pattern, domain, hardness) if x]) > 1:
        raise DataError("one thing at a time: --movement, --pattern, --domain or --hardness")
    if piece and (pattern or domain or hardness):
        raise DataError("a property is one of the day, not of a piece", advice="Leave the piece out.")
    for word, right, what in ((domain, DOMAINS, "time domain"), (hardness, HARDNESSES, "hardness")):
        if word:
            check_known(word, right, what)
    words = {
        "day": desk.day_named(day),
        "part": piece or "day",
        "pattern": _pattern(pattern),
        "domain": domain,
        "hardness": hardness,
    }
    if movement:
        words |= {
            "part": "movement",
            "movement": desk.movement_named(setting.catalogue, movement),
            "piece": piece,
        }
    elif pattern or domain or hardness:
        words["part"] = "property"
    return Lock.model_validate(words)


def _ban(setting: Setting, movement: str, day: str | None) -> Ban:
    from planner import desk

    return Ban(
        movement=desk.movement_named(setting.catalogue, movement),
        day=desk.day_named(day) if day else None,
    )


def _wish(  # noqa: PLR0917  (as they stand on the command line)
    setting: Setting,
    movement: str | None,
    pattern: str | None,
    hard: str | None,
    easy: str | None,
    day: str | None,
) -> Wish:
    from planner import desk

    if (hard or easy) and day:
        raise DataError("--hard and --easy name the day themselves", advice="Leave --day out.")
    if hard and easy:
        raise DataError("one thing at a time: --hard or --easy")
    when = hard or easy or day
    try:
        return Wish.model_validate(
            {
                "movement": desk.movement_named(setting.catalogue, movement) if movement else None,
                "pattern": _pattern(pattern),
                "hardness": "hard" if hard else "easy" if easy else None,
                "day": desk.day_named(when) if when else None,
            }
        )
    except ValidationError as error:
        said = error.errors()[0]["msg"].removeprefix("Value error, ")
        raise DataError(said, advice="Give one of --movement, --pattern, --hard, --easy.") from None


def _pattern(word: str | None) -> str | None:
    if word is None:
        return None
    wanted = word.strip().lower().replace(" ", "_")
    check_known(wanted, PATTERNS, "pattern")
    return wanted
