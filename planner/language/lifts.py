"""A lift, from the tree of its line."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from lark import Token, Tree

from planner.domain.catalogue import Movement
from planner.domain.sets import ComplexPart
from planner.domain.written import WrittenLift
from planner.language.faults import Amiss, made, whole
from planner.language.parts import below, kinds, movement_of, sided, token_of, tokens_in
from planner.language.schemes import bare, scheme_said
from planner.language.sets import SetsSaid
from planner.language.vocabulary import Vocabulary

NO_SKILL = 'a time by itself is practice, and that is a piece of skill; else say what it is for: "rest 2:00"'
NO_SETS = "the sets are missing: write, for instance, 4x6"


class Unfinished(Amiss):
    """A lift without its sets, or sets without their lift: the next line may say the other."""


@dataclass(frozen=True)
class LiftLine:
    """What a line of a strength piece says.

    Attributes:
        lift: the lift, where there is one.
        paired: whether it says that lifts are done in turn.
    """

    lift: WrittenLift | None
    paired: bool


@dataclass
class _Said:
    """What a line has said so far.

    Attributes:
        parts: of a complex; one for a lift alone.
        sets: as far as they are known.
        how: tier and start.
        scheme: id, where one is named.
        words: superset, each_side, as_written: what has been said of these.
    """

    parts: list[Tree[Token]] = field(default_factory=list)
    sets: SetsSaid = field(default_factory=SetsSaid)
    how: dict[str, Any] = field(default_factory=dict)
    scheme: str | None = None
    words: set[str] = field(default_factory=set)


def lift_line(tree: Tree[Token], kind: str, note: str, vocabulary: Vocabulary) -> LiftLine:
    """What a line of a strength or skill piece says.

    Args:
        tree: of ``lift_line``.
        kind: strength or skill.
        note: for the lift.
        vocabulary: names.

    Raises:
        Amiss: it cannot be meant; ``Unfinished`` where another line may say the rest.
    """
    said = _Said()
    for rule, node in kinds(tree):
        if rule == "SEP":
            said.sets.open = False
        elif isinstance(node, Tree) and not said.sets.take(rule, node):
            _take(said, rule, node)
    paired = "superset" in said.words
    if said.parts:
        return LiftLine(_lift(said, tree, kind, note, vocabulary), paired)
    if {rule for rule, _ in kinds(tree)} - {"SEP", "superset"}:
        raise Unfinished(tree, "the lift is missing: name a movement")
    return LiftLine(None, paired)


def _take(said: _Said, rule: str, node: Tree[Token]) -> None:
    if rule in {"complex", "in_brackets", "turns_of"}:
        _complex(said, node)
    elif rule in {"tier", "start"}:
        said.how[rule] = str(tokens_in(node, rule.upper())[0])
    elif named := tokens_in(node, "SCHEME"):
        said.scheme = str(named[0])
    else:
        said.words.add(rule)


def _complex(said: _Said, node: Tree[Token]) -> None:
    if said.parts:
        raise Amiss(node, "a second lift stands here; give it a line of its own")
    if node.data == "turns_of":
        said.sets.take("count", node)
    while node.data != "complex":
        node = next(part for part in node.children if isinstance(part, Tree))
    said.parts = [part for part in node.children if isinstance(part, Tree)]


def _lift(said: _Said, tree: Tree[Token], kind: str, note: str, vocabulary: Vocabulary) -> WrittenLift:
    movements = [_movement(part, vocabulary) for part in said.parts]
    first, alone = movements[0], len(movements) == 1
    taken = _fill(said, tree, vocabulary)
    parts = [
        made(ComplexPart, part, movement=movement.id, reps=1 if taken else _reps(part) or 1)
        for part, movement in zip(said.parts, movements, strict=True)
    ]
    if "each_side" in said.words:
        factor, left = sided(first, 1)
        note = ", ".join(filter(None, (left, note)))
        for group in said.sets.groups:
            group.reps = tuple(reps * factor for reps in group.reps)
            group.said |= {"least": group.said["least"] * factor} if "least" in group.said else {}
    if said.sets.practice is not None and kind != "skill":
        raise Amiss(said.sets.practice, NO_SKILL)
    sets = said.sets.done(first.unit if alone else "reps", tree)
    how = said.how | ({"kg": said.sets.kg} if said.sets.kg else {})
    scheme = said.scheme
    if scheme is None and "as_scheme" not in said.words:
        scheme = scheme_said(sets, first, kind, vocabulary, loaded=bool(how))
    return made(WrittenLift, tree, parts=tuple(parts), sets=sets, scheme=scheme, note=note, **how)


def _fill(said: _Said, tree: Tree[Token], vocabulary: Vocabulary) -> bool:
    """Make sets whose number and reps are said apart; whether the number before the name is the reps."""
    sets, scheme = said.sets, vocabulary.schemes.get(said.scheme or "")
    number = _reps(said.parts[0])
    if sets.groups or sets.practice is not None:
        return False
    if sets.reps is not None:
        sets.fill(*sets.reps)
    elif scheme is not None and sets.count is None:
        sets.follow(bare(scheme))
    elif len(said.parts) > 1:
        sets.fill(1)
    elif number is not None:
        sets.fill(number)
        return True
    else:
        raise Unfinished(tree, "the reps are missing: write, for instance, 4x6" if sets.count else NO_SETS)
    return False


def _movement(part: Tree[Token], vocabulary: Vocabulary) -> Movement:
    named = below(part, "movement")
    assert named is not None
    return movement_of(named, None, vocabulary)


def _reps(part: Tree[Token]) -> int | None:
    number = tokens_in(part, "NUMBER")
    return whole(token_of(part), "the reps") if number else None
