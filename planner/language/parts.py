"""What lifts and conditioning lines have in common: numbers, units, loads, and the names of movements."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from lark import Token, Tree

from planner.domain.base import Unit
from planner.domain.catalogue import Movement
from planner.language.faults import Amiss, Node, whole
from planner.language.tokens import MOST_NUMBER
from planner.language.vocabulary import Vocabulary

UNITS: dict[str, Unit] = {
    "REPS": "reps",
    "METRE": "metres",
    "KM": "metres",
    "CAL": "calories",
    "SEC": "seconds",
}
UNIT_WORDS: dict[Unit, str] = {"reps": "reps", "metres": "m", "calories": "cal", "seconds": "s"}
METRES_IN_KM = 1000
MOST_NUMBERS = 100
Amount = tuple[int, Unit | None]


def kinds(tree: Tree[Token]) -> Iterator[tuple[str, Node]]:
    """The parts below, each with its rule's or terminal's name."""
    for child in tree.children:
        yield (child.type if isinstance(child, Token) else str(child.data)), child


def tokens_in(tree: Tree[Token], *types: str) -> list[Token]:
    """The tokens right below, of the given types."""
    return [c for c in tree.children if isinstance(c, Token) and c.type in types]


def token_of(tree: Tree[Token]) -> Token:
    """The first thing right below, where the grammar has a terminal there."""
    first = tree.children[0]
    assert isinstance(first, Token)
    return first


def position(node: Node) -> tuple[int, int]:
    """Line and column of the first word or number in a part; zeros where it has none."""
    token = node if isinstance(node, Token) else next(node.scan_values(_is_said), None)
    return (token.line or 0, token.column or 0) if isinstance(token, Token) else (0, 0)


def _is_said(token: object) -> bool:
    return isinstance(token, Token) and token.type != "SEP"


def below(tree: Tree[Token], rule: str) -> Tree[Token] | None:
    """The first part right below of a rule."""
    return next((c for c in tree.children if isinstance(c, Tree) and c.data == rule), None)


def amount_of(tree: Tree[Token]) -> Amount:
    """A number and its unit, where one is said, from any rule with ``NUMBER unit?`` or ``DURATION``."""
    if duration := tokens_in(tree, "DURATION"):
        return whole(duration[0], "the seconds"), "seconds"
    number, unit = tokens_in(tree, "NUMBER")[0], below(tree, "unit")
    said = unit.children[0] if unit else None
    if isinstance(said, Token) and said.type == "KM":
        metres = Token.new_borrow_pos("NUMBER", f"{float(number[:9]) * METRES_IN_KM:.0f}", number)
        return whole(metres, "the metres"), "metres"
    return whole(number, "the number"), unit_of(tree)


def unit_of(tree: Tree[Token]) -> Unit | None:
    """The unit below, where one is said."""
    unit = below(tree, "unit")
    return UNITS[unit.children[0].type] if unit and isinstance(unit.children[0], Token) else None


def numbers_of(tree: Tree[Token]) -> tuple[tuple[int, ...], int | None]:
    """Numbers in a row, and by how much they grow where they have no end."""
    first = tree.children[0]
    assert isinstance(first, Token)
    if first.type in {"LADDER", "GROWING"}:
        most = MOST_NUMBER if first.type == "GROWING" else 5000
        each = (Token.new_borrow_pos("NUMBER", n, first) for n in first.split())
        found = tuple(whole(token, "each number", most=most) for token in each)
        if len(found) > MOST_NUMBERS:
            raise Amiss(first, f"at most {MOST_NUMBERS} numbers can stand in a row")
        if first.type == "LADDER":
            return found, None
        steps = {b - a for a, b in pairwise(found)}
        if len(steps) != 1 or min(steps) < 1:
            raise Amiss(first, "numbers without end grow by the same each round, like 2-4-6...")
        return found[:1], steps.pop()
    ends = [whole(token, "each number") for token in tokens_in(tree, "NUMBER")]
    if first.type == "NUMBERS":
        return (ends[0],), None
    start, end, by = (*ends, 1)[:3]
    if (end - start) % by or abs(end - start) // by >= MOST_NUMBERS:
        raise Amiss(
            tree, f"from {start} no steps of {by} lead to {end}, or there are more than {MOST_NUMBERS}"
        )
    step = by if end >= start else -by
    return tuple(range(start, end + step, step)), None


def load_of(tree: Tree[Token]) -> tuple[float, float]:
    """What a man and a woman lift, in kg."""
    numbers = tokens_in(tree, "NUMBER")
    man, *woman = (float(token) for token in numbers)
    return man, woman[0] if woman else man


def movement_of(tree: Tree[Token], unit: Unit | None, vocabulary: Vocabulary) -> Movement:
    """The movement that is named, in the unit that is said.

    Raises:
        Amiss: none of that name is counted in that unit.
    """
    token = tree.children[0]
    ids = str(token).split()
    found = vocabulary.of_unit(ids, unit)
    if found is None:
        named = vocabulary.movements[ids[0]]
        counted = " or ".join(dict.fromkeys(vocabulary.movements[m].unit for m in ids))
        raise Amiss(tree, f"{named.name} is counted in {counted}, not in {unit}")
    return vocabulary.movements[found]


def sided(movement: Movement, number: int) -> tuple[int, str]:
    """A number of each side, as the movement is counted, and what is left to say in a note."""
    if movement.sides == "alternating":
        return number * 2, ""
    return number, "" if movement.sides == "per_side" else "each side"
