"""A conditioning piece: its lines, and how it runs, from the trees of its lines."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, cast

from lark import Token, Tree

from planner.domain.catalogue import Clock, Sharing, Spot, Unit
from planner.domain.written import Composition, Result, WrittenLine
from planner.language.faults import Amiss, Node, made, whole
from planner.language.parts import (
    amount_of,
    below,
    kinds,
    load_of,
    movement_of,
    numbers_of,
    sided,
    tokens_in,
    unit_of,
)
from planner.language.vocabulary import Vocabulary

SPOT_OF: dict[str, Spot] = {
    "OPENING": "opening", "THEN": "turn", "AFTER_EACH": "after_each", "CLOSING": "closing",
}  # fmt: skip
SHARING_OF: dict[str, Sharing] = {"SHARED": "shared", "IN_TURN": "in_turn", "MIRRORED": "mirrored"}
_RESULT_OF: dict[str, Result] = {
    "ROUNDS": "rounds", "METRE": "metres", "CAL": "calories", "SLOWEST": "slowest",
}  # fmt: skip
_CLOCK_OF: dict[str, Clock] = {
    "for_time": "for_time", "as_many": "fixed", "every_turn": "every", "work_rest": "work_rest", "as_long": "as_long",
}  # fmt: skip
_STARTS_TURNS = {"rounds", "ladder", "for_time", "as_many", "every_turn", "work_rest"}
MINUTE_S = 60
LONGEST_S = 7200


@dataclass
class Work:
    """A conditioning piece as far as it has been read.

    Attributes:
        lines: so far.
        said: how it runs: each thing said, by its rule, and where.
        spot: where lines come that say nothing of it.
    """

    lines: list[WrittenLine] = field(default_factory=list)
    said: dict[str, Node] = field(default_factory=dict)
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
        spot, items, more = self.spot, 0, None
        for rule, node in kinds(tree):
            if isinstance(node, Token):
                continue
            if rule == "spot":
                token = cast("Token", node.children[0])
                spot = SPOT_OF[token.type]
            elif rule == "item":
                items += 1
                self.lines.append(_line(node, spot, "", vocabulary))
            elif rule == "more":
                if not items:
                    raise Amiss(node, "this says how a movement is done; the movement is missing before it")
                self.lines[-1] = _with_more(self.lines[-1], node, vocabulary)
            else:
                more = more or rule
                if rule in self.said and self.said[rule] != node:
                    raise Amiss(
                        node, f"this is said a second time, and differs from line {_line_no(self.said[rule])}"
                    )
                self.said[rule] = node
                if rule in _STARTS_TURNS and not items:
                    spot = "turn"
        if not items:
            self.spot = spot
        elif note:
            self.lines[-1] = made(
                WrittenLine, tree, **(dict(self.lines[-1]) | {"note": _both(self.lines[-1].note, note)})
            )
        return bool(items)

    def composition(self, where: Node | None) -> Composition:
        """How the piece runs, once all its lines have been read.

        Raises:
            Amiss: what is said does not go together.
        """
        said, fields = self.said, dict[str, Any]()
        clock = self._clock()
        fields["clock"] = clock
        rest_s = self._seconds("rest", 0)
        if clock == "fixed":
            if "length" not in said:
                raise Amiss(said["as_many"], 'the length is missing: write, for instance, "in 12:00"')
            fields["seconds"] = self._seconds("length")
        if clock == "work_rest":
            work, pause = _durations(said["work_rest"])
            fields["seconds"] = work
            if "rest" in said:
                raise Amiss(said["rest"], "with work and rest in turn there is no other rest")
            rest_s = pause
        if "turns" in said and "rounds" in said:
            raise Amiss(said["turns"], "rounds are said already")
        turns = next((_count(said[key]) for key in ("turns",) if key in said), None)
        if clock == "every":
            fields["every_s"], turns = self._every(turns)
        elif clock == "work_rest" and "length" in said:
            raise Amiss(said["length"], 'say how often instead: "for 6 rounds"')
        each = clock == "work_rest" or (clock == "every" and _is_minute(said["every_turn"]))
        if "slots" in said:
            if clock not in {"every", "work_rest"}:
                raise Amiss(said["slots"], "only a clock that starts each movement or round can say this")
            each = bool(tokens_in(cast("Tree[Token]", said["slots"]), "ONE_EACH"))
        rounds = _count(said["rounds"]) if "rounds" in said else turns
        if each and turns is not None:
            each, rounds = self._slots(turns)
        if "ladder" in said:
            fields["ladder"], fields["grows"] = self._ladder()
        fields |= self._people()
        if "cap" in said:
            fields["cap_s"] = self._seconds("cap")
        if "result" in said:
            fields["result"] = _result(cast("Tree[Token]", said["result"]))
        return made(Composition, where, **fields, rest_s=rest_s, by_movement=each, rounds=rounds)

    def _clock(self) -> Clock:
        found = [(rule, clock) for rule, clock in _CLOCK_OF.items() if rule in self.said]
        if len(found) > 1:
            second = max((self.said[rule] for rule, _ in found), key=_line_and_column)
            raise Amiss(second, "a piece has one clock, and another is said before")
        if found:
            clock = found[0][1]
        else:
            clock = "fixed" if "length" in self.said else "for_time"
        if clock in {"for_time", "as_long"} and "length" in self.said:
            raise Amiss(
                self.said["length"],
                'what the clock does not end has a cap, not a length: write "cap" before it',
            )
        return clock

    def _seconds(self, rule: str, default: int | None = None) -> int:
        if rule not in self.said and default is not None:
            return default
        return _durations(self.said[rule])[0]

    def _every(self, turns: int | None) -> tuple[int, int | None]:
        node = cast("Tree[Token]", self.said["every_turn"])
        every = MINUTE_S if _is_minute(node) else _durations(node)[0]
        if "length" not in self.said:
            return every, turns
        whole_s = self._seconds("length")
        if not every or whole_s % every:
            raise Amiss(self.said["length"], f"the whole time must be a multiple of {every} seconds")
        return every, whole_s // every

    def _slots(self, turns: int) -> tuple[bool, int]:
        """Whether a movement has a slot of its own, and the rounds that so many slots are."""
        movements = sum(line.spot == "turn" for line in self.lines) or 1
        if not turns % movements:
            return True, turns // movements
        if "slots" in self.said or "work_rest" in self.said:
            where = self.said.get("turns") or self.said["length"]
            raise Amiss(where, f"{turns} turns do not come out even with {movements} movements")
        return False, turns

    def _ladder(self) -> tuple[tuple[int, ...], int | None]:
        numbers = below(cast("Tree[Token]", self.said["ladder"]), "numbers")
        assert numbers is not None
        return numbers_of(numbers)

    def _people(self) -> dict[str, Any]:
        if "people" not in self.said:
            if "sharing" in self.said:
                raise Amiss(self.said["sharing"], 'say who shares: "in pairs" or "in threes"')
            return {}
        people = 2 if tokens_in(cast("Tree[Token]", self.said["people"]), "PAIRS") else 3
        sharing = self.said.get("sharing")
        how = (
            SHARING_OF[cast("Token", cast("Tree[Token]", sharing).children[0]).type] if sharing else "shared"
        )
        return {"people": people, "sharing": how}


def _line(item: Tree[Token], spot: Spot, note: str, vocabulary: Vocabulary) -> WrittenLine:
    named = below(item, "movement")
    assert named is not None
    doses = [c for c in item.children if isinstance(c, Tree) and c.data in {"dose", "dose_after"}]
    if tokens_in(item, "NUMBER"):  # before a load: "12 24/16 kg swing"
        doses.insert(0, Tree("dose", [c for c in item.children if c not in {named}]))
    if len(doses) > 1:
        raise Amiss(doses[1], "a number for this movement is said already")
    said: dict[str, Any] = {}
    unit: Unit | None = None
    if doses and tokens_in(doses[0], "MOST"):
        unit = unit_of(doses[0])
    elif doses and (row := below(doses[0], "numbers")) is not None:
        said["numbers"], grows = numbers_of(row)
        unit = unit_of(doses[0])
        if grows is not None:
            raise Amiss(row, "numbers without end hold for all lines: write them in the piece's first line")
    elif doses:
        said["dose"], unit = amount_of(doses[0])
    movement = movement_of(named, unit, vocabulary)
    line = made(WrittenLine, item, movement=movement.id, spot=spot, note=note, **said)
    return _with_more(line, item, vocabulary)


def _with_more(line: WrittenLine, tree: Tree[Token], vocabulary: Vocabulary) -> WrittenLine:
    said: dict[str, Any] = {}
    for rule, node in kinds(tree):
        if isinstance(node, Token):
            continue
        if rule == "load":
            said["kg"] = load_of(node)
        elif rule == "tier":
            said["tier"] = str(tokens_in(node, "TIER")[0])
        elif rule == "start":
            said["start"] = str(node.children[0])
        elif rule == "each_side":
            movement = vocabulary.movements[line.movement]
            factor, left = sided(movement, 1)
            said["dose"] = line.dose * factor if line.dose else None
            said["numbers"] = tuple(n * factor for n in line.numbers)
            said["note"] = _both(line.note, left)
    return made(WrittenLine, tree, **(dict(line) | said)) if said else line


def _both(*notes: str) -> str:
    return ", ".join(note for note in notes if note)


def _durations(node: Node) -> list[int]:
    return [whole(t, "the seconds", 0, LONGEST_S) for t in tokens_in(cast("Tree[Token]", node), "DURATION")]


def _count(node: Node) -> int:
    return whole(tokens_in(cast("Tree[Token]", node), "NUMBER")[0], "the number of rounds", 1, 1000)


def _is_minute(node: Node) -> bool:
    return bool(tokens_in(cast("Tree[Token]", node), "EMOM"))


def _result(tree: Tree[Token]) -> Result:
    score = tokens_in(tree, "SCORE")
    if score:
        return cast("Result", str(score[0]))
    return _RESULT_OF[tokens_in(tree, *_RESULT_OF)[0].type]


def _line_and_column(node: Node) -> tuple[int, int]:
    token = node if isinstance(node, Token) else next(node.scan_values(lambda _: True))
    return token.line or 0, token.column or 0


def _line_no(node: Node) -> int:
    return _line_and_column(node)[0]
