"""How a conditioning piece runs, from all that its lines say of it, in whichever order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from lark import Token, Tree

from planner.domain.catalogue import Clock, Sharing
from planner.domain.written import Composition, Result, WrittenLine
from planner.language.faults import Amiss, made, whole
from planner.language.parts import below, numbers_of, position, token_of, tokens_in

CLOCK_OF: dict[str, Clock] = {
    "for_time": "for_time", "as_many": "fixed", "every_turn": "every", "work_rest": "work_rest",
    "as_long": "as_long",
}  # fmt: skip
SHARING_OF: dict[str, Sharing] = {"SHARED": "shared", "IN_TURN": "in_turn", "MIRRORED": "mirrored"}
RESULT_OF: dict[str, Result] = {
    "ROUNDS": "rounds", "METRE": "metres", "CAL": "calories", "SLOWEST": "slowest",
}  # fmt: skip
MINUTE_S = 60
LONGEST_S = 7200
NO_SLOT = (
    "where each movement has a minute of its own, and they come out even, one can be for rest; else write "
    'how long: "rest 1:00 between rounds"'
)
MOST_TURNS = 1000
Said = Mapping[str, Tree[Token]]
"""What is said of how a piece runs, by the grammar's rule."""


class RestLine(NamedTuple):
    """A line that says rest and nothing else.

    Attributes:
        after: how many lines of a turn come before it.
        node: what it says; how long, or not.
    """

    after: int
    node: Tree[Token]


def composition_of(said: Said, lines: Sequence[WrittenLine], rests: Sequence[RestLine] = ()) -> Composition:
    """How a piece runs.

    Args:
        said: all that its lines say of it.
        lines: its lines: where each movement has a time of its own, their number decides the rounds.
        rests: lines of rest: a time of its own too where each movement has one, else the rest between rounds.

    Raises:
        Amiss: what is said does not go together.
    """
    of_each = _time_of_each(said, lines)
    clock: Clock = "every" if of_each else _clock(said)
    said, slots = _rest_slots(said, rests, _slot_s(said, of_each))
    fields: dict[str, Any] = {"clock": clock, "rest_s": _seconds(said, "rest")}
    if clock == "fixed":
        if "length" not in said:
            raise Amiss(said["as_many"], 'the length is missing: write, for instance, "in 12:00"')
        fields["seconds"] = _seconds(said, "length")
    elif clock == "work_rest":
        if wrong := said.get("rest"):
            raise Amiss(wrong, "with work and rest in turn there is no other rest")
        fields["seconds"], fields["rest_s"] = _durations(said["work_rest"])
    elif clock == "every":
        fields["every_s"] = _every_s(said, of_each)
    turns = len(slots) + sum(line.spot == "turn" for line in lines)
    fields |= _rounds(said, turns, fields.get("every_s"), each=_is_each(said, of_each))
    if slots and not fields["by_movement"]:
        raise Amiss(rests[0].node, NO_SLOT)
    fields["rest_slots"] = slots
    if ladder := said.get("ladder"):
        numbers = below(ladder, "numbers")
        assert numbers is not None
        fields["ladder"], fields["grows"] = numbers_of(numbers)
    if "cap" in said:
        fields["cap_s"] = _seconds(said, "cap")
    if "result" in said:
        fields["result"] = _result(said["result"])
    return made(Composition, None, **fields, **_people(said), **_flow(said))


def _clock(said: Said) -> Clock:
    found = {rule: clock for rule, clock in CLOCK_OF.items() if rule in said}
    if len(found) > 1:
        raise Amiss(
            max((said[rule] for rule in found), key=position), "a piece has one clock; another is said before"
        )
    usual: Clock = "fixed" if "length" in said else "for_time"
    clock = next(iter(found.values()), usual)
    wrong = {
        "for_time": 'for time there is a cap, not a length: write "cap" before it',
        "as_long": 'as long as you can has a cap, not a length: write "cap" before it',
        "work_rest": 'say how often instead: "for 6 rounds"',
    }
    if "length" in said and clock in wrong:
        raise Amiss(said["length"], wrong[clock])
    return clock


def _time_of_each(said: Said, lines: Sequence[WrittenLine]) -> int | None:
    """What every movement of a turn has of its own, where no other clock is said: "1:00 max burpee"."""
    times = {line.most_s for line in lines if line.spot == "turn"}
    return times.pop() if len(times) == 1 and not any(x in said for x in (*CLOCK_OF, "length")) else None


def _is_each(said: Said, of_each: int | None) -> bool:
    """Whether each movement has a time of its own, as far as no more is said of it."""
    return bool(of_each) or "work_rest" in said or _is_minute(said)


def _slot_s(said: Said, of_each: int | None) -> int:
    """Seconds from one movement to the next, where each has a time of its own; else 0."""
    slots = said.get("slots")
    if not (tokens_in(slots, "ONE_EACH") if slots else _is_each(said, of_each)):
        return 0
    if "work_rest" in said:
        return sum(_durations(said["work_rest"]))
    return _every_s(said, of_each) if of_each or "every_turn" in said else 0


def _every_s(said: Said, of_each: int | None) -> int:
    """Seconds from one start to the next."""
    return of_each or (MINUTE_S if _is_minute(said) else _durations(said["every_turn"])[0])


def _rest_slots(said: Said, rests: Sequence[RestLine], slot_s: int) -> tuple[Said, tuple[int, ...]]:
    """What is said with the rest between rounds added, and which times of a round are for rest.

    Raises:
        Amiss: a line says rest and not how long, where nothing else says it.
    """
    left, places = dict(said), list[int]()
    for rest in rests:
        times = _durations(rest.node) or [slot_s]
        first = rest.after + len(places) + 1
        if slot_s and not times[0] % slot_s:
            places += range(first, first + times[0] // slot_s)
        elif not tokens_in(rest.node, "DURATION"):
            raise Amiss(rest.node, NO_SLOT)
        elif (before := left.setdefault("rest", rest.node)) != rest.node:
            raise Amiss(rest.node, f"this is said a second time, and differs from line {position(before)[0]}")
    return left, tuple(places)


def _rounds(said: Said, movements: int, every_s: int | None, *, each: bool) -> dict[str, Any]:
    """How many rounds, and whether each movement has a time of its own.

    Args:
        said: all that is said.
        movements: of a turn, with what is for rest.
        every_s: from one start to the next.
        each: whether each movement has a time of its own, as far as no more is said of it.
    """
    turns = _count(said, "turns")
    if turns is not None and "rounds" in said:
        raise Amiss(said["turns"], "the rounds are said already")
    if every_s is not None and "length" in said:
        whole_s = _seconds(said, "length")
        if not every_s or whole_s % every_s:
            raise Amiss(said["length"], f"the whole time must be a multiple of {every_s} seconds")
        turns = whole_s // every_s
    on_clock = every_s is not None or "work_rest" in said
    if slots := said.get("slots"):
        if not on_clock:
            raise Amiss(slots, "only a clock that starts each movement or each round can say this")
        each = bool(tokens_in(slots, "ONE_EACH"))
    if not each or turns is None:
        return {"by_movement": each, "rounds": turns or _count(said, "rounds")}
    movements = movements or 1
    if not turns % movements:
        return {"by_movement": True, "rounds": turns // movements}
    if slots or "work_rest" in said:
        where = said.get("turns") or said["length"]
        raise Amiss(where, f"{turns} turns do not come out even with {movements} movements")
    return {"by_movement": False, "rounds": turns}


def _people(said: Said) -> dict[str, Any]:
    people, sharing = said.get("people"), said.get("sharing")
    if people is None:
        if sharing is not None:
            raise Amiss(sharing, 'say who shares: "in pairs" or "in threes"')
        return {}
    how = SHARING_OF[token_of(sharing).type] if sharing else "shared"
    return {"people": 2 if tokens_in(people, "PAIRS") else 3, "sharing": how}


def _flow(said: Said) -> dict[str, Any]:
    if "flow" not in said:
        return {}
    manner = tokens_in(said["flow"], "MANNER")
    return {"flow": str(manner[0]) if manner else "together"}


def _is_minute(said: Said) -> bool:
    return "every_turn" in said and bool(tokens_in(said["every_turn"], "EMOM"))


def _seconds(said: Said, rule: str) -> int:
    return _durations(said[rule])[0] if rule in said else 0


def _durations(node: Tree[Token]) -> list[int]:
    return [whole(token, "the seconds", 0, LONGEST_S) for token in tokens_in(node, "DURATION")]


def _count(said: Said, rule: str) -> int | None:
    if rule not in said:
        return None
    return whole(tokens_in(said[rule], "NUMBER")[0], "the number of rounds", 1, MOST_TURNS)


def _result(node: Tree[Token]) -> Any:
    score = tokens_in(node, "SCORE")
    return str(score[0]) if score else RESULT_OF[tokens_in(node, *RESULT_OF)[0].type]
