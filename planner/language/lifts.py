"""A lift and its sets, from the tree of a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, cast

from lark import Token, Tree

from planner.domain.catalogue import Unit
from planner.domain.written import ComplexPart, SetForm, Sets, WorkSet, WrittenLift
from planner.language.faults import Amiss, Node, made, whole
from planner.language.parts import (
    Amount,
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
from planner.language.schemes import scheme_said
from planner.language.vocabulary import Vocabulary

MOST_SETS = 30
FORMS: dict[str, SetForm] = {
    "ACROSS": "across", "ASCENDING": "ascending", "WAVES": "waves", "BACK_OFF": "back_off",
}  # fmt: skip
TEN = 10
"""A set that is rated 10 leaves no rep in reserve."""


@dataclass
class _Group:
    """Sets that are written together."""

    reps: tuple[int, ...]
    said: dict[str, Any] = field(default_factory=dict)


@dataclass
class _Lift:
    """What a line has said so far."""

    vocabulary: Vocabulary
    parts: list[Tree[Token]] = field(default_factory=list)
    groups: list[_Group] = field(default_factory=list)
    open_group: bool = False
    every_set: dict[str, Any] = field(default_factory=dict)
    of_lift: dict[str, Any] = field(default_factory=dict)
    of_sets: dict[str, Any] = field(default_factory=dict)
    count: int | None = None
    reps: Amount | None = None
    unit: Unit | None = None
    scheme: str | None = None
    as_written: bool = False
    each_side: bool = False
    paired: bool = False
    then: bool = False


@dataclass(frozen=True)
class LiftLine:
    """What a line of a strength piece says.

    Attributes:
        lift: the lift, where there is one.
        paired: whether it says that lifts are done in turn.
    """

    lift: WrittenLift | None
    paired: bool


def lift_line(tree: Tree[Token], kind: str, note: str, vocabulary: Vocabulary) -> LiftLine:
    """What a line of a strength or skill piece says.

    Args:
        tree: of ``lift_line``.
        kind: strength or skill.
        note: for the lift.
        vocabulary: names.

    Raises:
        Amiss: it cannot be meant.
    """
    said = _Lift(vocabulary)
    for rule, node in kinds(tree):
        _take(said, rule, node)
    if not said.parts:
        only = said.paired and not (said.groups or said.of_sets or said.of_lift)
        if only or not tree.children or all(rule == "NOTE" or rule == "SEP" for rule, _ in kinds(tree)):
            return LiftLine(None, said.paired)
        raise Amiss(tree, "the lift is missing: name a movement")
    return LiftLine(_lift(said, tree, kind, note), said.paired)


def _take(said: _Lift, rule: str, node: Node) -> None:
    if rule == "SEP":
        said.open_group = False
        return
    if isinstance(node, Token):
        return
    if rule in {"percent", "reserve", "rpe", "load"}:
        _of_set(said, rule, node)
    elif rule in {"complex", "in_brackets", "turns_of"}:
        _complex(said, node)
    elif rule in {"reps", "sets", "cluster", "find", "count", "then"}:
        _numbers(said, rule, node)
    else:
        _way(said, rule, node)


def _complex(said: _Lift, node: Tree[Token]) -> None:
    if said.parts:
        raise Amiss(node, "a second lift stands here; give it a line of its own")
    if node.data == "turns_of":
        said.count = whole(tokens_in(node, "NUMBER")[0], "the number of sets", 1, MOST_SETS)
    while node.data != "complex":
        node = cast("Tree[Token]", next(c for c in node.children if isinstance(c, Tree)))
    said.parts = [c for c in node.children if isinstance(c, Tree)]


def _numbers(said: _Lift, rule: str, node: Tree[Token]) -> None:
    many = tokens_in(node, "NUMBER")
    if rule == "then":
        said.then = True
        return
    if rule == "count":
        said.count = whole(many[0], "the number of sets", 1, MOST_SETS)
        return
    amount = below(node, "amount")
    if rule == "reps" and tokens_in(node, "REPS"):
        said.reps = whole(many[0], "the reps"), "reps"
        return
    if rule == "sets":
        said.count = whole(many[0], "the number of sets", 1, MOST_SETS)
        said.reps = amount_of(amount) if amount else said.reps
        return
    unit: Unit | None
    if rule == "find":
        said.of_sets["form"] = "find"
        number, unit = amount_of(amount) if amount else (whole(many[0], "the reps"), None)
        reps: tuple[int, ...] = (number,)
    elif rule == "cluster":
        of_parts = tuple(whole(token, "the reps") for token in many[1:])
        said.of_sets |= {"form": "cluster", "cluster": of_parts}
        reps = (sum(of_parts),) * whole(many[0], "the number of sets", 1, MOST_SETS)
        unit = unit_of(node)
    elif (row := below(node, "numbers")) is not None:
        (reps, grows), unit = numbers_of(row), unit_of(node)
        if grows is not None:
            raise Amiss(row, "sets have an end: write each number, like 2-4-6")
    else:
        assert amount is not None
        number, unit = amount_of(amount)
        reps = (number,) * whole(many[0], "the number of sets", 1, MOST_SETS)
    if rule == "find" and said.groups:  # "5x3, to a heavy 3" names the last of them
        said.of_sets["form"] = "ascending"
        return
    if said.unit not in {None, unit} and unit is not None:
        raise Amiss(node, "all sets of a lift are counted in one unit")
    said.unit = unit or said.unit
    said.groups.append(_Group(reps))
    said.open_group = True


def _of_set(said: _Lift, rule: str, node: Tree[Token]) -> None:
    number = tokens_in(node, "NUMBER")[0]
    key, value = {
        "percent": lambda: ("percent", whole(number, "the percent", 20, 110)),
        "reserve": lambda: ("reserve", whole(number, "the reps in reserve", 0, 8)),
        "rpe": lambda: ("reserve", TEN - whole(number, "the rating", 2, TEN)),
        "load": lambda: ("kg", load_of(node)),
    }[rule]()
    if said.open_group:
        said.groups[-1].said[key] = value
    elif key == "kg":
        said.of_lift[key] = value
    else:
        said.every_set[key] = value


def _way(said: _Lift, rule: str, node: Tree[Token]) -> None:
    token = next((c for c in node.children if isinstance(c, Token)), None)
    durations = [whole(t, "the seconds", 0, 7200) for t in tokens_in(node, "DURATION")]
    if rule == "form":
        assert token is not None
        said.of_sets["form"] = FORMS[token.type]
    elif rule == "tier":
        said.of_lift["tier"] = str(tokens_in(node, "TIER")[0])
    elif rule == "start":
        said.of_lift["start"] = str(token)
    elif rule == "people":
        said.of_sets["people"] = 2 if tokens_in(node, "PAIRS") else 3
    elif rule == "every":
        every = durations[0] if tokens_in(node, "EVERY") else 60
        total = durations[1:] if tokens_in(node, "EVERY") else durations
        said.of_sets["every_s"] = every
        if total and every and not total[0] % every:
            said.count = min(total[0] // every, MOST_SETS + 1)
        elif total:
            raise Amiss(node, "the whole time must be a multiple of the time from one set to the next")
    elif rule == "tempo":
        if not token:
            raise Amiss(node, "a tempo has four digits: down, at the bottom, up, at the top, like 3110")
        said.of_sets["tempo"] = str(token)
    elif rule in {"rest", "no_rest", "pause", "within"}:
        key = {"pause": "pause_s", "within": "within_s"}.get(rule, "rest_s")
        said.of_sets[key] = durations[0] if durations else 0
    elif rule in {"scheme", "as_scheme"}:
        named = tokens_in(node, "SCHEME")
        said.scheme, said.as_written = (str(named[0]), False) if named else (None, True)
    elif rule == "superset":
        said.paired = True
    elif rule == "each_side":
        said.each_side = True


def _lift(said: _Lift, tree: Tree[Token], kind: str, note: str) -> WrittenLift:
    first = movement_of(_name(said.parts[0]), None, said.vocabulary)
    scheme = said.vocabulary.schemes.get(said.scheme or "")
    alone = len(said.parts) == 1
    number = tokens_in(said.parts[0], "NUMBER")
    taken = False  # whether the number before the movement is the reps of the sets
    if not said.groups and scheme and said.count is None and said.reps is None:
        said.groups, said.unit = [_Group((scheme.reps,) * scheme.sets)], scheme.unit
    if not said.groups:
        if said.count is not None and said.count > MOST_SETS:
            raise Amiss(tree, f"at most {MOST_SETS} sets can be written")
        if said.reps is not None:
            reps, said.unit = said.reps
        elif alone and number:
            reps, taken = whole(number[0], "the reps"), True
        elif alone and said.count is None:
            raise Amiss(tree, "the sets are missing: write, for instance, 4x6")
        else:
            reps = 1
        said.groups = [_Group((reps,) * (said.count or 1))]
    elif said.count not in {None, sum(len(g.reps) for g in said.groups)}:
        raise Amiss(tree, "the number of sets is said twice, and differs")
    parts = []
    for part in said.parts:
        movement = movement_of(_name(part), None, said.vocabulary)
        many = tokens_in(part, "NUMBER")
        reps = whole(many[0], "the reps") if many and not taken else 1
        parts.append(made(ComplexPart, part, movement=movement.id, reps=reps))
    if said.each_side:
        _, left = sided(first, 1)
        note = ", ".join(filter(None, (left, note)))
        factor = sided(first, 1)[0]
        for group in said.groups:
            group.reps = tuple(n * factor for n in group.reps)
    unit = said.unit or (first.unit if alone else "reps")
    sets = _sets(said, unit, tree)
    if not said.as_written and said.scheme is None:
        said.scheme = scheme_said(sets, bool(said.of_lift), first, kind, said.vocabulary)
    return made(
        WrittenLift, tree, parts=tuple(parts), sets=sets, scheme=said.scheme, note=note, **said.of_lift
    )


def _name(part: Tree[Token]) -> Tree[Token]:
    named = below(part, "movement")
    assert named is not None
    return named


def _sets(said: _Lift, unit: Unit, tree: Tree[Token]) -> Sets:
    sets = [
        made(WorkSet, tree, **(said.every_set | group.said), reps=reps)
        for group in said.groups
        for reps in group.reps
    ]
    if len(sets) > MOST_SETS:
        raise Amiss(tree, f"at most {MOST_SETS} sets can be written")
    form = said.of_sets.pop("form", None) or ("back_off" if said.then else usual_form([s.reps for s in sets]))
    return made(Sets, tree, sets=tuple(sets), unit=unit, form=form, **said.of_sets)


def usual_form(reps: Sequence[int]) -> SetForm:
    """What numbers of reps say by themselves: fewer and fewer is heavier and heavier, again and again is waves."""
    falls = [a > b for a, b in zip(reps, reps[1:], strict=False)]
    if len(set(reps)) == 1:
        return "across"
    length = next((at + 1 for at, fall in enumerate(falls) if not fall), len(reps))
    if (
        1 < length < len(reps)
        and not len(reps) % length
        and list(reps) == list(reps[:length]) * (len(reps) // length)
    ):
        return "waves"
    return "ascending" if all(a >= b for a, b in zip(reps, reps[1:], strict=False)) else "across"
