"""Looks at the words of a command before anything else does: none is empty, endless or unprintable."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence

from planner.domain.characters import unprintable
from planner.errors import DataError

LONGEST = 4096
"""Characters of one word; no path of more is opened by any system that we know of."""
_OPTION = re.compile(r"(--[a-z][a-z-]*)(?:=(.*))?", re.DOTALL)


def check_words(words: Sequence[str]) -> None:
    """Refuse what nobody means.

    Raises:
        DataError: a word is empty, longer than any path can be, or has something in it that is no text.
    """
    before = ""
    for number, word in enumerate(words, 1):
        option = _OPTION.fullmatch(word)
        where = f"after {before}" if before else f"word {number} of the command"
        said = word
        if option and option[2] is not None:
            where, said = f"after {option[1]}", option[2]
        if not said.strip():
            raise DataError(f"{where}: this is empty", advice="Say what is meant, or leave it out.")
        if len(said) > LONGEST:
            what = f"{where}: this has {len(said):,} characters; at most {LONGEST:,} are read"
            raise DataError(what, advice="Give it a shorter name.")
        strange = unprintable(said)
        if strange:
            raise DataError(
                f"{where}: there is an unprintable character here ({strange})",
                advice="Delete it; it often comes along when text is pasted.",
            )
        before = option[1] if option and option[2] is None else ""


def check_numbers(values: Mapping[str, object]) -> None:
    """Refuse numbers that are none.

    Raises:
        DataError: one is not a number, or endless.
    """
    for name, value in values.items():
        if isinstance(value, float) and not math.isfinite(value):
            raise DataError(f"--{name.replace('_', '-')}: {value} is not a number to reckon with")
