"""Commands that change what is asked of a week: lock, ban, ask, overrule, write and their opposites."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from planner.cli.base import (
    DayName,
    DayOption,
    OwnGym,
    WeekName,
    check_known,
    folder_of,
    weeks_setting,
)
from planner.domain.words import capital, spoken
from planner.errors import DataError

if TYPE_CHECKING:
    from planner.domain.record import WeekState
    from planner.domain.requests import Ban, Lock, Wish
    from planner.weeks.setting import Setting

DOMAINS = ("short", "medium", "long")
HARDNESSES = ("hard", "easy")

PieceName = Annotated[
    str | None, typer.Argument(metavar="[strength|conditioning]", help="One piece; the whole day without.")
]
MovementOption = Annotated[str | None, typer.Option("--movement", help="Id or name of a movement.")]
PatternOption = Annotated[
    str | None,
    typer.Option("--pattern", help="squat, vertical_pull, ...; or push, pull, legs, upper, lower."),
]
DomainOption = Annotated[
    str | None, typer.Option("--domain", help="How long the conditioning stays: short, medium, long.")
]
HardnessOption = Annotated[str | None, typer.Option("--hardness", help="hard or easy.")]
VariantsOption = Annotated[
    bool, typer.Option("--variants", help="Its variants too: with burpee, the burpee over the bar.")
]
MovementName = Annotated[str, typer.Argument(metavar="MOVEMENT", help="Id or name.")]

MOST_MINDED = 6
"""So much of what the rules mind about a session is said at once."""


def _locking(verb: Literal["lock", "unlock"], about: str) -> Callable[..., None]:
    """The command that locks, or the one that takes a lock away."""

    def command(  # noqa: PLR0917  (each is named on the command line)
        gym: OwnGym,
        week: WeekName,
        day: DayName,
        piece: PieceName = None,
        movement: MovementOption = None,
        pattern: PatternOption = None,
        domain: DomainOption = None,
        hardness: HardnessOption = None,
    ) -> None:
        from planner.weeks import requests

        words = _LockWords(day, piece, movement, pattern, domain, hardness)
        with weeks_setting(gym, week) as (store, setting):
            wanted = words.meant(setting)
            state = (requests.lock if verb == "lock" else requests.unlock)(store, setting, wanted)
        _say(gym, state, f"{wanted.words()}." if verb == "lock" else f"No longer so: {wanted.words()}.")

    command.__doc__ = about
    return command


lock = _locking(
    "lock",
    """Lock a day, a piece, one movement, or a property: what is locked stays as it is.

    With a pattern the day keeps some work of it; with a group the day's main lift stays one of the group.

    Groups: push and pull, horizontal or vertical; upper, both; legs or lower, squat, hinge and lunge.
    """,
)
unlock = _locking("unlock", "Take a lock away; of a day alone, all its locks and a session written by hand.")


def _ruling(verb: Literal["ban", "allow"], about: str, still: str) -> Callable[..., None]:
    """The command that rules a movement out, or the one that allows it again."""

    def command(
        gym: OwnGym,
        week: WeekName,
        movement: MovementName,
        day: DayOption = None,
        variants: VariantsOption = False,
    ) -> None:
        from planner.domain.gym import DAY_NAMES

        state, bans, left = _banned_or_allowed(verb, gym, week, movement, day, variants=variants)
        if verb == "ban":
            said = [f"{capital(banned.words())}." for banned in bans]
        else:
            on = f" on {DAY_NAMES[bans[0].day]}" if bans[0].day else ""
            said = [f"Allowed again: {', '.join(spoken(ban.movement) for ban in bans)}{on}."]
        if left:
            said.append(f"Its variants are still {still}, unless --variants is given: {', '.join(left)}.")
        _say(gym, state, "\n".join(said))

    command.__doc__ = about
    return command


ban = _ruling("ban", "Rule a movement out, for the week or for a day.", "allowed")
allow = _ruling("allow", "Allow a movement again that was ruled out.", "ruled out")


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
    """Ask for a movement, or work of a pattern or group, on a day or some time; or a hard or easy day."""
    from planner.weeks import requests

    with weeks_setting(gym, week) as (store, setting):
        wanted = _wish(setting, movement, pattern, hard, easy, day)
        state = (requests.withdraw if withdraw else requests.ask)(store, setting, wanted)
    said = wanted.words()
    _say(gym, state, f"No longer asked for: {said}." if withdraw else f"Asked for: {said}.")


def overrule(  # noqa: PLR0917  (each is named on the command line)
    gym: OwnGym,
    week: WeekName,
    rule: Annotated[str, typer.Argument(metavar="RULE", help="Its id; planner rules lists them.")],
    place: Annotated[str, typer.Argument(metavar="PLACE", help="As reported: thu, mon-tue, week, ...")],
    because: Annotated[str, typer.Option("--because", help="The reason; it is shown on the week.")] = "",
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Let the rule count there again.")] = False,
) -> None:
    """Let one rule not count in one place, this week only, with a reason."""
    from planner.weeks import requests

    with weeks_setting(gym, week) as (store, setting):
        if withdraw:
            state = requests.withdraw(store, setting, (rule, place))
        else:
            state = requests.overrule(store, setting, rule, place, because)
    _say(gym, state, f"{rule} {'counts again' if withdraw else 'does not count'} at {place}.")


def write(
    gym: OwnGym,
    week: WeekName,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A session or a week as text, YAML or JSON.")],
    learn: Annotated[
        bool,
        typer.Option("--learn", help="Ask about movements that nobody knows, and keep them as the gym's."),
    ] = False,
) -> None:
    """Put sessions of your own on their days, as they are; a redraft makes their other kit versions."""
    from planner.domain.gym import DAY_NAMES
    from planner.domain.words import listed
    from planner.weeks import requests
    from planner.weeks.board import from_board, said_of

    if learn:
        from planner.cli.learning import learn_unknown

        with weeks_setting(gym, week) as (_, setting):
            learn_unknown(file, folder_of(gym), setting)
    with weeks_setting(gym, week) as (store, setting):
        written = from_board(file, setting)
        for session in written:
            state = requests.write(store, setting, session)
        minded = said_of(setting.asking(state.requests), written)
    days = listed([DAY_NAMES[session.day] for session in written])
    _say(gym, state, f"Kept as you wrote: {days}.")
    if minded:
        typer.echo("The rules would mind, and do not count there:")
    for text in minded[:MOST_MINDED]:
        typer.echo(f"  - {text}")
    if len(minded) > MOST_MINDED:
        typer.echo(f"  - and {len(minded) - MOST_MINDED} more; planner rules lists them all.")


def _say(gym: str, state: WeekState, what: str) -> None:
    typer.echo(what)
    verb = f"planner redraft {gym} {state.week}" if state.candidates else f"planner draft {gym}"
    typer.echo(f"Drafts and redrafts of the week keep to it: {verb}")


@dataclass(frozen=True)
class _LockWords:
    """The words on the command line that say what to lock or unlock."""

    day: str
    piece: str | None
    movement: str | None
    pattern: str | None
    domain: str | None
    hardness: str | None

    def meant(self, setting: Setting) -> Lock:
        """The lock that the words mean.

        Raises:
            DataError: the words make no sense, or name two things at once.
        """
        from planner.domain.requests import PIECES, Lock
        from planner.weeks import names

        if self.piece is not None:
            check_known(self.piece, PIECES, "piece")
        properties = [x for x in (self.pattern, self.domain, self.hardness) if x is not None]
        if len(properties) + (self.movement is not None) > 1:
            raise DataError("one thing at a time: --movement, --pattern, --domain or --hardness")
        if self.piece and properties:
            raise DataError("a property is one of the day, not of a piece", advice="Leave the piece out.")
        if self.domain is not None:
            check_known(self.domain, DOMAINS, "time domain")
        if self.hardness is not None:
            check_known(self.hardness, HARDNESSES, "hardness")
        words: dict[str, str | None] = {"day": names.day_named(self.day), "part": self.piece or "day"}
        if self.movement is not None:
            named = names.movement_named(setting.catalogue, self.movement)
            words |= {"part": "movement", "movement": named, "piece": self.piece}
        elif properties:
            pattern = names.pattern_named(self.pattern) if self.pattern is not None else None
            words |= {"part": "property", "pattern": pattern}
            words |= {"domain": self.domain, "hardness": self.hardness}
        return Lock.model_validate(words)


def _banned_or_allowed(
    verb: Literal["ban", "allow"], gym: str, week: str, movement: str, day: str | None, *, variants: bool
) -> tuple[WeekState, list[Ban], list[str]]:
    """The week's state; bans made or taken away; names of the variants for which that was not done."""
    from planner.domain.requests import Ban
    from planner.weeks import names, requests

    with weeks_setting(gym, week) as (store, setting):
        meant = names.movement_named(setting.catalogue, movement)
        on = names.day_named(day) if day else None
        state = store.state(week)
        ruled_out = state.requests.bans
        kin = [
            m
            for m in names.variants(setting.catalogue, meant)
            if (Ban(movement=m.id, day=on) in ruled_out) == (verb == "allow")
        ]
        bans = [Ban(movement=meant, day=on), *(Ban(movement=m.id, day=on) for m in kin if variants)]
        if len(bans) > 1 and (bans[0] in ruled_out) == (verb == "ban"):
            del bans[0]  # it is so already, and only its variants are not
        for wanted in bans:
            state = {"ban": requests.ban, "allow": requests.allow}[verb](store, setting, wanted)
    return state, bans, [] if variants else [m.name for m in kin]


def _wish(  # noqa: PLR0917  (as they stand on the command line)
    setting: Setting,
    movement: str | None,
    pattern: str | None,
    hard: str | None,
    easy: str | None,
    day: str | None,
) -> Wish:
    from pydantic import ValidationError

    from planner.domain.requests import Wish
    from planner.load.validate import fault_in_words
    from planner.weeks import names

    if (hard or easy) and day:
        raise DataError("--hard and --easy name the day themselves", advice="Leave --day out.")
    if hard and easy:
        raise DataError("one thing at a time: --hard or --easy")
    when = hard or easy or day
    try:
        return Wish.model_validate(
            {
                "movement": names.movement_named(setting.catalogue, movement) if movement else None,
                "pattern": names.pattern_named(pattern) if pattern is not None else None,
                "hardness": "hard" if hard else "easy" if easy else None,
                "day": names.day_named(when) if when else None,
            }
        )
    except ValidationError as error:
        raise DataError(
            fault_in_words(Wish, error), advice="Give one of --movement, --pattern, --hard, --easy."
        ) from None
