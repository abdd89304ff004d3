"""The lines of a conditioning piece, from the trees of its lines."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from lark import Token, Tree

from planner.domain.base import Unit
from planner.domain.catalogue import Spot
from planner.domain.written import Composition, WrittenLine
from planner.language.faults import Amiss, made, whole
from planner.language.parts import (
    amount_of,
    below,
    kinds,
    load_of,
    movement_of,
    numbers_of,
    position,
    sided,
    token_of,
    tokens_in,
    unit_of,
)
from planner.language.running import LONGEST_S, RestLine, composition_of
from planner.language.vocabulary import Vocabulary

SPOT_OF: dict[str, Spot] = {
    "OPENING": "opening", "THEN": "turn", "AFTER_EACH": "after_each", "CLOSING": "closing",
}  # fmt: skip
_STARTS_TURNS = {"rounds", "ladder", "for_time", "as_many", "every_turn", "work_rest"}
_SAYS = {"intervals": ("rounds",), "rounds_for_time": ("rounds", "for_time")}
"""What is said of how a piece runs by parts of a line that say more than one thing."""
_SAYS_NOTHING = {"item"}
_LAST_LINES = "numbers without end hold for all lines: write them in the piece's first line"


@dataclass
class Work:
    """A conditioning piece as far as it has been read.

    Attributes:
        lines: so far.
        said: how it runs: each thing said, by its rule.
        rests: lines that say rest and nothing else.
        spot: where lines come that say nothing of it.
    """

    lines: list[WrittenLine] = field(default_factory=list)
    said: dict[str, Tree[Token]] = field(default_factory=dict)
    rests: list[RestLine] = field(default_factory=list)
    spot: Spot = "turn"

    def take(self, tree: Tree[Token], note: str, vocabulary: Vocabulary) -> bool:
        """Add what a line says; whether the note has found its place beside a movement.

        Args:
            tree: of ``work_line``.
            note: what the line says aside.
            vocabulary: names.

        Raises:
            Amiss: it cannot be meant.
        """
        spot, before = self.spot, len(self.lines)
        for rule, node in kinds(tree):
            if isinstance(node, Token):
                continue
            if rule == "rest_slot" or (rule == "rest" and before and not tokens_in(node, "BETWEEN")):
                self.rests.append(RestLine(sum(line.spot == "turn" for line in self.lines), node))
            elif rule == "spot":
                spot = SPOT_OF[token_of(node).type]
            elif rule == "more":
                if len(self.lines) == before:
                    raise Amiss(node, "this says how a movement is done; the movement is missing before it")
                self.lines[-1] = _with_more(self.lines[-1], node, vocabulary)
            else:
                spot = self._says_more(rule, node, spot)
            if rule in {"item", "intervals"}:
                self.lines.append(_line(node, spot, vocabulary))
        if len(self.lines) == before:
            self.spot = spot
            return False
        if note:
            self.lines[-1] = _changed(self.lines[-1], tree, note=_both(self.lines[-1].note, note))
        return True

    def _says_more(self, rule: str, node: Tree[Token], spot: Spot) -> Spot:
        """Add what a part says of how the piece runs; where lines come after it."""
        for how in _SAYS.get(rule, () if rule in _SAYS_NOTHING else (rule,)):
            self._says(how, node)
            spot = "turn" if how in _STARTS_TURNS and rule != "intervals" else spot
        return spot

    def done(self) -> tuple[Composition, tuple[WrittenLine, ...]]:
        """How the piece runs and what is done, once all its lines have been read.

        Raises:
            Amiss: what is said does not go together.
        """
        how = composition_of(self.said, self.lines, self.rests)
        slot = how.every_s if how.clock == "every" else how.seconds
        as_long = {"most_s": None} if how.by_movement else {}
        return how, tuple(
            line.model_copy(update=as_long) if line.most_s == slot else line for line in self.lines
        )

    def _says(self, rule: str, node: Tree[Token]) -> None:
        before = self.said.setdefault(rule, node)
        if before != node:
            raise Amiss(node, f"this is said a second time, and differs from line {position(before)[0]}")


def _line(item: Tree[Token], spot: Spot, vocabulary: Vocabulary) -> WrittenLine:
    named = below(item, "movement")
    assert named is not None
    doses = [c for c in item.children if isinstance(c, Tree) and c.data in {"dose", "dose_after"}]
    if item.data == "item" and tokens_in(item, "NUMBER"):  # "12 24/16 kg swing", "12 x burpee"
        doses.insert(0, item)
    if len(doses) == len({"max", "1:00"}) and any(tokens_in(x, "MOST") for x in doses):  # "max burpee 1:00"
        doses = [Tree("dose", [part for x in doses for part in x.children])]
    if len(doses) > 1:
        raise Amiss(doses[1], "a number for this movement is said already")
    said, unit = _dose(doses[0]) if doses else ({}, None)
    if doses and tokens_in(doses[0], "SLASH"):  # "15/12 cal": the value has one number
        man, woman = tokens_in(doses[0], "NUMBER")
        said["note"] = f"women {woman}" if man != woman else ""
    movement = movement_of(named, unit, vocabulary)
    return _with_more(made(WrittenLine, item, movement=movement.id, spot=spot, **said), item, vocabulary)


def _dose(tree: Tree[Token]) -> tuple[dict[str, Any], Unit | None]:
    """How many, and in which unit, where one is said."""
    row, most = below(tree, "numbers"), tokens_in(tree, "MOST")
    if most and (time := tokens_in(tree, "DURATION")):
        return {"most_s": whole(time[0], "the seconds", 1, LONGEST_S)}, unit_of(tree)
    if most and tokens_in(tree, "NUMBER"):
        raise Amiss(tree, "as many as one can has no number; a time may stand before it: 1:00 max burpee")
    if row is None and not tokens_in(tree, "NUMBER", "DURATION"):
        return {}, unit_of(tree)
    if row is None:
        number, unit = amount_of(tree)
        return {"dose": number}, unit
    numbers, grows = numbers_of(row)
    if grows is not None:
        raise Amiss(row, _LAST_LINES)
    return {"numbers": numbers}, unit_of(tree)


def _with_more(line: WrittenLine, tree: Tree[Token], vocabulary: Vocabulary) -> WrittenLine:
    said: dict[str, Any] = {}
    for rule, node in kinds(tree):
        if isinstance(node, Token):
            continue
        if rule == "load":
            said["kg"] = load_of(node)
        elif rule in {"tier", "start"}:
            said[rule] = str(tokens_in(node, rule.upper())[0])
        elif rule == "each_side":
            factor, left = sided(vocabulary.movements[line.movement], 1)
            said["dose"] = line.dose * factor if line.dose else None
            said["numbers"] = tuple(n * factor for n in line.numbers)
            said["note"] = _both(line.note, left)
    return _changed(line, tree, **said) if said else line


def _changed(line: WrittenLine, where: Tree[Token], **said: Any) -> WrittenLine:
    return made(WrittenLine, where, **(dict(line) | said))


def _both(*notes: str) -> str:
    return ", ".join(filter(None, notes))
