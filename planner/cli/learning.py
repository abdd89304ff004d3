"""Asks on the terminal for what has to be known of a movement of the gym's own."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar, get_args

import typer

from planner.domain.words import listed
from planner.errors import DataError

if TYPE_CHECKING:
    from planner.domain.catalogue import Catalogue
    from planner.domain.learnt import Answers
    from planner.weeks.learning import UnknownName
    from planner.weeks.setting import Setting

Answer = TypeVar("Answer")
TRIES = 3
LEAST_S, MOST_S = 0.05, 120
LONGEST_NAME = 60


class _NotUnderstoodError(Exception):
    """An answer that cannot be meant; says what would be right."""


def learn_unknown(file: Path, folder: Path, setting: Setting) -> bool:
    """Asks about each name that is no movement, and writes those that are the gym's own; whether any is.

    Nothing is written before the last answer.

    Raises:
        DataError: an answer was not understood three times, or there was none.
    """
    from planner.weeks.learning import learn, singular, unknown_on

    answers: list[Answers] = []
    asked: set[str] = set()
    for unknown in unknown_on(file, setting):
        one = singular(unknown.said)
        if one not in asked:  # of one and of many of the same it is asked once
            about = _about(unknown, setting.catalogue)
            answers += [about] if about is not None else []
        asked.add(one)
    if not answers:
        return False
    path = learn(answers, folder, setting.catalogue)
    typer.echo(f"Wrote {listed(x.name for x in answers)} into {path}.")
    typer.echo(
        "What was not asked is a default, not checked: look at it, and add roles if drafts may use it."
    )
    return True


def _about(unknown: UnknownName, catalogue: Catalogue) -> Answers | None:
    """What the coach says of a name; None where it is no movement of her own."""
    from planner.domain.base import Unit
    from planner.domain.catalogue import PATTERNS
    from planner.domain.learnt import Answers
    from planner.weeks.learning import singular

    near = f" The nearest: {listed(unknown.nearest)}." if unknown.nearest else ""
    typer.echo(f'There is no movement "{unknown.said}".{near}')
    if not _ask("Is it one of your own, to be learnt? yes or no", _yes_or_no):
        return None
    likely = singular(unknown.said)
    name = _ask(f"Its name, in the singular; Enter for {likely}", lambda said: _name(said or likely))
    covered = unknown.said.casefold() in {name, f"{name}s", f"{name}es"}
    return Answers(
        name=name,
        said=name if covered else unknown.said.casefold(),
        pattern=_ask(f"Pattern: {listed(_spoken(p) for p in PATTERNS)}", _one_of(PATTERNS)),
        unit=_ask(f"Counted in {listed(get_args(Unit))}", _one_of(get_args(Unit))),
        items=_ask(
            "Equipment for one person, with commas; Enter for none", lambda said: _items(said, catalogue)
        ),
        seconds=_ask("Seconds for one of these units, such as 2.5", _seconds),
    )


def _ask(question: str, understand: Callable[[str], Answer]) -> Answer:
    for _ in range(TRIES):
        typer.echo(f"{question}: ", nl=False)
        sys.stdout.flush()
        line = sys.stdin.readline()
        if not line:
            raise DataError("the questions were not answered, and nothing was written")
        try:
            return understand(" ".join(line.split()))
        except _NotUnderstoodError as wrong:
            typer.echo(f"  {wrong}")
    raise DataError(f"{TRIES} answers in a row were not understood, and nothing was written")


def _yes_or_no(said: str) -> bool:
    words = {"y": True, "yes": True, "n": False, "no": False}
    if said.lower() not in words:
        raise _NotUnderstoodError("Write yes or no.")
    return words[said.lower()]


def _name(said: str) -> str:
    if (
        not any(c.isalpha() for c in said)
        or len(said) > LONGEST_NAME
        or any(c in ':;,"#@%/+()' for c in said)
    ):
        raise _NotUnderstoodError(f"A name has letters, no signs, and {LONGEST_NAME} characters at most.")
    return said.casefold()


def _one_of(words: tuple[Answer, ...]) -> Callable[[str], Answer]:
    from planner.load.yaml_file import nearest

    known = {str(word): word for word in words}

    def understand(said: str) -> Answer:
        key = said.lower().replace(" ", "_")
        if key not in known:
            raise _NotUnderstoodError(f'"{said}" is none of these.{nearest(key, tuple(known))}')
        return known[key]

    return understand


def _items(said: str, catalogue: Catalogue) -> tuple[str, ...]:
    from planner.load.yaml_file import nearest

    words = {
        name.casefold(): item.id
        for item in catalogue.items.values()
        for name in (item.id, item.name, item.plural)
    }
    found = []
    for part in filter(None, (part.strip().casefold() for part in said.split(","))):
        if part in {"none", "nothing", "no"}:
            continue
        if part not in words:
            raise _NotUnderstoodError(f'There is no equipment "{part}".{nearest(part, tuple(words))}')
        found.append(words[part])
    return tuple(dict.fromkeys(found))


def _seconds(said: str) -> float:
    try:
        seconds = float(said.replace(",", ".").removesuffix("s").strip())
    except ValueError:
        seconds = 0
    if not LEAST_S <= seconds <= MOST_S:
        raise _NotUnderstoodError(f"Write a number of seconds from {LEAST_S:g} to {MOST_S}.")
    return seconds


def _spoken(pattern: str) -> str:
    return pattern.replace("_", " ")
