"""How a conditioning piece runs, from all that its lines say of it, in whichever order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

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
MOST_TURNS = 1000
Said = Mapping[str, Tree[Token]]
"""What is said of how a piece runs, by the grammar's rule."""


def composition_of(said: Said, lines: Sequence[WrittenLine]) -> Composition:
    """How a piece runs.

    Args:
        said: all that its lines say of it.
        lines: its lines: where each movement has a time of its own, their number decides the rounds.

    Raises:
        Amiss: what is said does not go together.
    """
    clock = _clock(said)
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
        node = said["every_turn"]
        fields["every_s"] = MINUTE_S if _is_minute(said) else _durations(node)[0]
    fields |= _rounds(said, lines, fields.get("every_s"))
    if ladder := said.get("ladder"):
        numbers = below(ladder, "numbers")
        assert numbers is not None
        fields["ladder"], fields["grows"] = numbers_of(numbers)
    if "cap" in said:
        fields["cap_s"] = _seconds(said, "cap")
    if "result" in said:
        fields["result"] = _result(said["result"])
    if flow := said.get("flow"):
        manner = tokens_in(flow, "MANNER")
        fields["flow"] = str(manner[0]) if manner else "together"
    return made(Composition, None, **fields, **_people(said))


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


def _rounds(said: Said, lines: Sequence[WrittenLine], every_s: int | None) -> dict[str, Any]:
    """How many rounds, and whether each movement has a time of its own."""
    turns = _count(said, "turns")
    if turns is not None and "rounds" in said:
        raise Amiss(said["turns"], "the rounds are said already")
    if every_s is not None and "length" in said:
        whole_s = _seconds(said, "length")
        if not every_s or whole_s % every_s:
            raise Amiss(said["length"], f"the whole time must be a multiple of {every_s} seconds")
        turns = whole_s // every_s
    on_clock = every_s is not None or "work_rest" in said
    each = "work_rest" in said or _is_minute(said)
    if slots := said.get("slots"):
        if not on_clock:
            raise Amiss(slots, "only a clock that starts each movement or each round can say this")
        each = bool(tokens_in(slots, "ONE_EACH"))
    if not each or turns is None:
        return {"by_movement": each, "rounds": turns or _count(said, "rounds")}
    movements = sum(line.spot == "turn" for line in lines) or 1
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
