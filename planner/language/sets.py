"""The sets of a lift, from the parts of its line, in whichever order they are said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from lark import Token, Tree

from planner.domain.base import Unit
from planner.domain.sets import SetForm, Sets, WorkSet
from planner.language.faults import Amiss, made, whole
from planner.language.parts import Amount, amount_of, below, load_of, numbers_of, token_of, tokens_in, unit_of

MOST_SETS = 30
FORMS: dict[str, SetForm] = {
    "ACROSS": "across", "ASCENDING": "ascending", "WAVES": "waves", "BACK_OFF": "back_off",
}  # fmt: skip
HARDEST = 10
"""A set that is rated so leaves no rep in reserve."""
MINUTE_S = 60


@dataclass
class Group:
    """Sets that are written together.

    Attributes:
        reps: of each.
        unit: that is said with them.
        said: percent, reserve and load, where they are said of these sets.
    """

    reps: tuple[int, ...]
    unit: Unit | None = None
    said: dict[str, Any] = field(default_factory=dict)


@dataclass
class SetsSaid:
    """What a line has said of sets so far.

    Attributes:
        groups: in order.
        open: whether the last of them goes on: what follows it without a comma is said of it alone.
        each: percent and reserve, said of every set.
        kg: what a man and a woman lift on every set.
        way: rest, clock, tempo and form.
        count: number of sets, said apart from the reps.
        reps: of each set, said apart from the number of sets.
        least: the fewest of a range of reps, said apart from the number of sets.
        practice: how long is practised, in the place of sets.
        then: whether other sets follow the first ones.
    """

    groups: list[Group] = field(default_factory=list)
    open: bool = False
    each: dict[str, Any] = field(default_factory=dict)
    kg: tuple[float, float] | None = None
    way: dict[str, Any] = field(default_factory=dict)
    count: int | None = None
    reps: Amount | None = None
    least: int | None = None
    practice: Tree[Token] | None = None
    then: bool = False

    def take(self, rule: str, node: Tree[Token]) -> bool:
        """Add a part of the line; whether it says something of sets.

        Raises:
            Amiss: it cannot be meant.
        """
        does = getattr(self, f"_{rule}", None)
        if does is not None:
            does(node)
        return does is not None

    def fill(self, reps: int, unit: Unit | None = None) -> None:
        """Make the sets of their number, which may be unsaid, and of reps."""
        said = {"least": self.least} if self.least else {}
        self.groups = [Group((reps,) * (self.count or 1), unit, said)]

    def follow(self, sets: Sets) -> None:
        """Take the sets of a scheme, where nothing is said of their number and reps."""
        self.groups = [
            Group((one.reps,), sets.unit, {"least": one.least} if one.least else {}) for one in sets.sets
        ]
        self.way = sets.model_dump(exclude={"sets", "unit"}, exclude_none=True) | self.way

    def done(self, unit: Unit, where: Tree[Token]) -> Sets:
        """The sets as a value.

        Args:
            unit: of sets with which none is said.
            where: for messages.

        Raises:
            Amiss: what is said does not go together.
        """
        self._range_if_sets_are_counted()
        if self.practice is not None:
            return self._practised(where)
        count = sum(len(group.reps) for group in self.groups)
        units = {group.unit or unit for group in self.groups}
        if len(units) > 1:
            raise Amiss(where, "all sets of a lift are counted in one unit")
        if self.count not in {None, count}:
            raise Amiss(where, "the number of sets is said twice, and differs")
        if count > MOST_SETS:
            raise Amiss(where, f"at most {MOST_SETS} sets can be written")
        said = [(self.each | group.said, reps) for group in self.groups for reps in group.reps]
        sets = tuple(made(WorkSet, where, **of, reps=reps) for of, reps in said)
        counted = units.pop()
        falls = usual_form([reps for _, reps in said]) if counted == "reps" else "across"
        usual = {"form": "back_off" if self.then else falls}
        return made(Sets, where, **(usual | self.way), sets=sets, unit=counted)

    def _range_if_sets_are_counted(self) -> None:
        """Of "8-12 reps, 3 sets" the two numbers are a range."""
        match [group.reps for group in self.groups]:
            case [(least, most)] if least < most and self.count not in {None, 2}:
                self.groups[0].reps = (most,) * (self.count or 1)
                self.groups[0].said["least"] = least

    def _practised(self, where: Tree[Token]) -> Sets:
        """Minutes of practice, beside which nothing is said of sets."""
        if self.groups or self.count or self.reps or self.each or self.way:
            raise Amiss(self.practice, "practice has minutes and no sets; give the sets a line of their own")
        seconds = whole(tokens_in(self.practice or where, "DURATION")[0], "the seconds of practice", 30, 3600)
        return made(Sets, where, sets=(WorkSet(reps=1),), practice_s=seconds)

    def _add(self, reps: tuple[int, ...], unit: Unit | None) -> None:
        self.groups.append(Group(reps, unit))
        self.open = True

    def _reps(self, node: Tree[Token]) -> None:
        row, amount, range_ = below(node, "numbers"), below(node, "amount"), below(node, "range")
        if range_ is not None:
            least, most, unit = _range(range_)
            self._add((most,) * _sets_in(node), unit)
            self._of_set("least", least)
        elif row is not None:
            reps, grows = numbers_of(row)
            if grows is not None:
                raise Amiss(row, "sets have an end: write each number, like 2-4-6")
            self._add(reps, unit_of(node))
        elif amount is not None:
            number, unit = amount_of(amount)
            self._add((number,) * _sets_in(node), unit)
        else:
            self.reps = whole(tokens_in(node, "NUMBER")[0], "the reps"), "reps"

    def _set_at(self, node: Tree[Token]) -> None:
        reps, percent = tokens_in(node, "NUMBER")
        self._add((whole(reps, "the reps"),), None)
        self._of_set("percent", whole(percent, "the percent", 20, 110))

    def _sets(self, node: Tree[Token]) -> None:
        amount, range_ = below(node, "amount"), below(node, "range")
        self.count = _sets_in(node)
        self.reps = amount_of(amount) if amount else self.reps
        if range_ is not None:
            self.least, most, unit = _range(range_)
            self.reps = most, unit

    def _count(self, node: Tree[Token]) -> None:
        self.count = _sets_in(node)

    def _cluster(self, node: Tree[Token]) -> None:
        parts = tuple(whole(token, "the reps") for token in tokens_in(node, "NUMBER")[1:])
        self.way |= {"form": "cluster", "cluster": parts}
        self._add((sum(parts),) * _sets_in(node), unit_of(node))

    def _find(self, node: Tree[Token]) -> None:
        if self.groups:  # "5x3, to a heavy 3": the last of them
            self.way["form"] = "ascending"
            return
        amount = below(node, "amount")
        reps, unit = amount_of(amount) if amount else (whole(tokens_in(node, "NUMBER")[0], "the reps"), None)
        self.way["form"] = "find"
        self._add((reps,), unit)

    def _practice(self, node: Tree[Token]) -> None:
        if self.practice is not None:
            raise Amiss(node, "how long is practised is said already")
        self.practice = node

    def _then(self, _: Tree[Token]) -> None:
        self.then = True

    def _percent(self, node: Tree[Token]) -> None:
        self._of_set("percent", whole(tokens_in(node, "NUMBER")[0], "the percent", 20, 110))

    def _reserve(self, node: Tree[Token]) -> None:
        self._of_set("reserve", whole(tokens_in(node, "NUMBER")[0], "the reps in reserve", 0, 8))

    def _rpe(self, node: Tree[Token]) -> None:
        self._of_set("reserve", HARDEST - whole(tokens_in(node, "NUMBER")[0], "the rating", 2, HARDEST))

    def _load(self, node: Tree[Token]) -> None:
        if self.open:
            self._of_set("kg", load_of(node))
        else:
            self.kg = load_of(node)

    def _of_set(self, key: str, value: object) -> None:
        (self.groups[-1].said if self.open else self.each)[key] = value

    def _form(self, node: Tree[Token]) -> None:
        self.way["form"] = FORMS[token_of(node).type]

    def _people(self, node: Tree[Token]) -> None:
        self.way["people"] = 2 if token_of(node).type == "PAIRS" else 3

    def _every(self, node: Tree[Token]) -> None:
        times = _seconds(node)
        every = times.pop(0) if tokens_in(node, "EVERY") else MINUTE_S
        self.way["every_s"] = every
        if times and (not every or times[0] % every):
            raise Amiss(node, "the whole time must be a multiple of the time from one set to the next")
        if times:
            self.count = min(times[0] // every, MOST_SETS + 1)

    def _tempo(self, node: Tree[Token]) -> None:
        if not token_of(node):
            raise Amiss(node, "a tempo has four digits: down, at the bottom, up, at the top, like 3110")
        self.way["tempo"] = str(token_of(node))

    def _rest(self, node: Tree[Token]) -> None:
        self.way["rest_s"] = _seconds(node)[0]

    def _no_rest(self, _: Tree[Token]) -> None:
        self.way["rest_s"] = 0

    def _pause(self, node: Tree[Token]) -> None:
        self.way["pause_s"] = _seconds(node)[0]

    def _within(self, node: Tree[Token]) -> None:
        self.way["within_s"] = _seconds(node)[0]


def usual_form(reps: Sequence[int]) -> SetForm:
    """What numbers say by themselves: ever fewer reps get heavier, the same row again is waves."""
    row = list(reps)
    if len(set(row)) == 1:
        return "across"
    length = next((at for at, (a, b) in enumerate(pairwise(row), 1) if b >= a), len(row))
    if length > 1 and len(row) > length and row == row[:length] * (len(row) // length):
        return "waves"
    return "ascending" if all(a >= b for a, b in pairwise(row)) else "across"


def _range(node: Tree[Token]) -> tuple[int, int, Unit | None]:
    """From how many to how many."""
    ladder = tokens_in(node, "LADDER")
    ends = [Token.new_borrow_pos("NUMBER", n, ladder[0]) for n in ladder[0].split()] if ladder else []
    least, most, *more = [whole(token, "the reps") for token in ends or tokens_in(node, "NUMBER", "DURATION")]
    if more or least >= most:
        raise Amiss(
            node, "a range of reps has two numbers, like 8-12; for sets that differ write 12-10-8 alone"
        )
    return least, most, "seconds" if tokens_in(node, "DURATION") else unit_of(node)


def _sets_in(node: Tree[Token]) -> int:
    return whole(tokens_in(node, "NUMBER")[0], "the number of sets", 1, MOST_SETS)


def _seconds(node: Tree[Token]) -> list[int]:
    return [whole(token, "the seconds", 0, 7200) for token in tokens_in(node, "DURATION")]
