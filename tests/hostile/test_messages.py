"""How the program speaks when something is wrong: the same tone everywhere, and no word of its workshop."""

from __future__ import annotations

import re
from collections.abc import Iterator

from planner.errors import LONGEST_LINE, DataError, NoPlanError, Place, clash_lines
from tests.hostile.messages import Message, messages

MESSAGES = tuple(messages())
WORKSHOP = re.compile(
    r"\b(invalid|illegal|fail(ed|ure)|exception|unexpected|null|argument|parameter|pars(e|er|ing)|regex|"
    r"validat\w+|boolean|integer|string|dict|tuple|object|please|sorry|oops)\b|!|\\",
    re.IGNORECASE,
)


def test_there_are_messages_to_look_at() -> None:
    assert len(MESSAGES) > 150
    assert any(message.advice for message in MESSAGES)


def test_tone() -> None:
    assert [wrong for message in MESSAGES for wrong in out_of_tone(message)] == []


def out_of_tone(message: Message) -> Iterator[str]:
    """What is wrong goes on in the sentence after its place; what would be right is a sentence of its own."""
    where, what, advice = message
    found = WORKSHOP.search(f"{what} {advice}")
    if found:
        yield f"{where}: {found[0]!r} is a word of the workshop"
    first = what.split("\n")[0]
    if first.endswith(".") and not first.endswith("...") and first[0].islower():
        yield f"{where}: a full stop after {first!r}"
    if advice and not advice.startswith(("planner ", "--", "...")):
        if not (advice[0].isupper() or advice[0] == '"'):
            yield f"{where}: {advice!r} begins small"
        if not advice.rstrip().endswith((".", "DIR")):
            yield f"{where}: {advice!r} has no end"


def test_a_clash_of_several_things_has_one_number() -> None:
    assert clash_lines((("a", "b"),)) == ["  - a", "  - b"]
    assert clash_lines((("a",), ("b",))) == ["  - a", "  - b"]
    several = clash_lines(tuple((f"rule {n}", f"lock {n}") for n in range(1, 11)))
    assert several[:2] == ["   1. rule 1", "      together with: lock 1"]
    assert several[-2:] == ["  10. rule 10", "      together with: lock 10"]
    numbers = re.findall(r"(?m)^ *(\d+)\.", "\n".join(several))
    assert numbers == [str(n) for n in range(1, 11)]
    assert str(NoPlanError("No week.", (("a", "b"), ("c",)))).count("1.") == 1


def test_a_message_fits_the_screen_and_moves_no_cursor(tmp_path) -> None:
    error = DataError(f"there is no \x1b[2J{'x' * 100_000}", Place(tmp_path / ("y" * 1000)), "Say less.")
    lines = str(error).split("\n")
    assert all(len(line) <= LONGEST_LINE + 10 for line in lines)
    assert "\x1b" not in str(error)
    assert lines[-1] == "Say less."
