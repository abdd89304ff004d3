"""Writes a session as text, in one fixed form that ``read_sessions`` reads back to the same value."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import groupby

from planner.domain.base import Unit
from planner.domain.catalogue import Sharing, Spot
from planner.domain.gym import DAY_NAMES
from planner.domain.sets import SetForm, Sets, WorkSet
from planner.domain.words import clock
from planner.domain.written import (
    Composition,
    Result,
    WrittenConditioning,
    WrittenLift,
    WrittenLine,
    WrittenPiece,
    WrittenSession,
    WrittenStrength,
)
from planner.language.parts import UNIT_WORDS
from planner.language.reader import DRILL, heading_of
from planner.language.schemes import scheme_said
from planner.language.text_line import line_of
from planner.language.vocabulary import Vocabulary

INDENT = "  "
MINUTE_S = 60
HEADINGS = {"warm_up": "warm-up", "cool_down": "cool-down"}
SPOT_WORDS: dict[Spot, str] = {
    "opening": "opening: ", "turn": "", "after_each": "after each: ", "closing": "closing: ",
}  # fmt: skip
FORM_WORDS: dict[SetForm, str] = {
    "across": " across", "ascending": " ascending", "waves": " waves", "back_off": " back-off", "cluster": "",
    "find": "",
}  # fmt: skip
PEOPLE_WORDS = {2: "in pairs", 3: "in threes"}
SHARING_WORDS: dict[Sharing, str] = {
    "alone": "", "shared": "shared", "in_turn": "one works at a time", "mirrored": "mirrored",
}  # fmt: skip
RESULT_WORDS: dict[Result, str] = {
    "time": "time", "rounds": "rounds", "load": "load", "metres": "metres", "calories": "calories",
    "slowest": "slowest round", "sum": "sum",
}  # fmt: skip


def write_session(session: WrittenSession, vocabulary: Vocabulary) -> str:
    """A session as text.

    Args:
        session: the value.
        vocabulary: names of its movements, schemes and kits; what it does not know is written by its id.

    Returns:
        Lines that end with a line's end each.
    """
    lines = [DAY_NAMES[session.day], *(f"note: {note}" for note in session.notes)]
    lines += _pieces(session.pieces, vocabulary)
    for kit, pieces in session.versions.items():
        lines += [f"{vocabulary.kit_name(kit)}:", *_pieces(pieces, vocabulary)]
    return "".join(f"{line}\n" for line in lines)


def write_sessions(sessions: Sequence[WrittenSession], vocabulary: Vocabulary) -> str:
    """A week as text: its days with an empty line between them."""
    return "\n".join(write_session(session, vocabulary) for session in sessions)


def _pieces(pieces: Sequence[WrittenPiece], vocabulary: Vocabulary) -> Iterator[str]:
    for piece in pieces:
        if isinstance(piece, WrittenStrength):
            yield from _strength(piece, vocabulary)
        elif isinstance(piece, WrittenConditioning):
            yield f"{piece.kind}: {_composition(piece.composition)}"
            yield from (INDENT + line for line in _lines(piece, vocabulary))
        else:
            yield HEADINGS[piece.kind] + (f": {piece.minutes} min" if piece.minutes else "")
            yield from (INDENT + _drill(drill, vocabulary) for drill in piece.drills)
        if piece.note:
            yield f"{INDENT}note: {piece.note}"


def _drill(drill: str, vocabulary: Vocabulary) -> str:
    """The drill as it stands, or with a word before it where it would be read as something else."""
    line = line_of(1, drill)
    bare = line.start == 0 and line.said and not heading_of(line, vocabulary) and not DRILL.match(line.plain)
    return drill if bare and any(c.isalnum() for c in drill) else f"drill: {drill}"


def _strength(piece: WrittenStrength, vocabulary: Vocabulary) -> Iterator[str]:
    lifts = [_lift(lift, piece.kind, vocabulary) for lift in piece.lifts]
    if len(lifts) == 1 and not piece.paired:
        yield f"{piece.kind}: {lifts[0]}"
        return
    yield f"{piece.kind}: superset" if piece.paired else f"{piece.kind}:"
    yield from (INDENT + lift for lift in lifts)


def _lift(lift: WrittenLift, kind: str, vocabulary: Vocabulary) -> str:
    parts = [(vocabulary.movement_name(part.movement), part.reps) for part in lift.parts]
    if len(parts) == 1 and parts[0][1] == 1:
        name = parts[0][0]
    else:
        name = " + ".join(f"{reps} {name}" for name, reps in parts) + ","
    first = vocabulary.movements.get(lift.parts[0].movement)
    usual: Unit = first.unit if first and len(parts) == 1 else "reps"
    sets = lift.sets
    reserves = {each.reserve for each in sets.sets}
    said = [f"{name} {_sets(sets, usual, each_reserve=len(reserves) > 1)}"]
    if len(reserves) == 1 and None not in reserves:
        said.append(f"{reserves.pop()} in reserve")
    said += _way(sets)
    said += _how(lift, comma="")
    if first:
        found = scheme_said(sets, first, kind, vocabulary, loaded=bool(lift.kg or lift.tier or lift.start))
        if lift.scheme != found:
            said.append(f"as {vocabulary.scheme_name(lift.scheme)}" if lift.scheme else "as written")
    return _noted(", ".join(said), lift.note)


def _sets(sets: Sets, usual: Unit, *, each_reserve: bool) -> str:
    if sets.practice_s:
        return f"{clock(sets.practice_s)} practice"
    unit = "" if sets.unit == usual == "reps" else f" {UNIT_WORDS[sets.unit]}"
    if sets.form == "find":
        return f"to a heavy {sets.sets[0].reps}{unit}{_load(sets.sets[0], each_reserve)}"
    said = []
    for _, same in groupby(sets.sets, _said_of_set):
        group = list(same)
        reps = [each.reps for each in group]
        if sets.cluster:
            numbers = f"{len(group)}x({'+'.join(map(str, sets.cluster))})"
        elif len(set(reps)) == 1:
            least = "" if group[0].least is None else f"{group[0].least}-"
            numbers = f"{len(group)}x{least}{reps[0]}"
        else:
            numbers = "-".join(map(str, reps))
        said.append(numbers + unit + _load(group[0], each_reserve))
    return " then ".join(said) + FORM_WORDS[sets.form]


def _said_of_set(each: WorkSet) -> tuple[object, ...]:
    """What is written once for sets that are the same in it; a range is written with one number of sets."""
    return each.percent, each.reserve, each.kg, each.least, each.least and each.reps


def _load(each: WorkSet, reserve_too: bool) -> str:
    said = f" @ {each.percent} %" if each.percent is not None else ""
    said += f" @ {_kg(each.kg)}" if each.kg else ""
    return said + (f" {each.reserve} in reserve" if reserve_too and each.reserve is not None else "")


def _way(sets: Sets) -> Iterator[str]:
    """How the sets are done, each thing by itself."""
    if sets.rest_s is not None:
        yield f"rest {clock(sets.rest_s)}" if sets.rest_s else "no rest"
    if sets.every_s is not None:
        yield f"every {clock(sets.every_s)}"
    if sets.tempo:
        yield f"tempo {sets.tempo}"
    if sets.pause_s:
        yield f"pause {sets.pause_s} s"
    if sets.within_s:
        yield f"{sets.within_s} s between"
    if sets.people > 1:
        yield PEOPLE_WORDS[sets.people]


def _how(line: WrittenLine | WrittenLift, comma: str) -> Iterator[str]:
    """How heavy, and from where, each thing by itself."""
    if line.kg:
        yield f"{comma}@ {_kg(line.kg)}"
    if line.tier:
        yield f"{comma}@ {line.tier}"
    if line.start:
        yield f"from the {line.start}"


def _kg(kg: tuple[float, float]) -> str:
    man, woman = (format(Decimal(repr(each)), "f").removesuffix(".0") for each in kg)
    return f"{man} kg" if man == woman else f"{man}/{woman} kg"


def _composition(how: Composition) -> str:
    rounds = f"{how.rounds} round{'s' * (how.rounds > 1)}" if how.rounds else ""
    numbers = _numbers(how.ladder, how.grows)
    work = " of ".join(filter(None, [rounds, numbers]))
    if how.clock == "every":
        head = _joined(f"every {clock(how.every_s or 0)}", "for" if work else "", work)
    elif how.clock == "work_rest":
        head = _joined(f"{_span(how.seconds or 0)} on, {_span(how.rest_s)} off", "for" if work else "", work)
    elif how.clock == "fixed":
        head = f"{work}, " * bool(work) + f"as many rounds as possible in {clock(how.seconds or 0)}"
    else:
        head = _joined(work, "for time" if how.clock == "for_time" else "for as long as you can")
    said = [head]
    if how.by_movement != (how.clock == "work_rest"):
        said.append("one movement each" if how.by_movement else "whole round each")
    if how.rest_s and how.clock != "work_rest":
        said.append(f"rest {clock(how.rest_s)} between rounds")
    if how.people > 1:
        said += [PEOPLE_WORDS[how.people], SHARING_WORDS[how.sharing]]
    if how.cap_s:
        said.append(f"cap {clock(how.cap_s)}")
    if how.result:
        said.append(f"result: {RESULT_WORDS[how.result]}")
    if how.flow:
        said.append(f"flow: {how.flow}")
    return ", ".join(said)


def _numbers(numbers: tuple[int, ...], grows: int | None = None) -> str:
    if grows is not None:
        return "-".join(str(numbers[0] + grows * turn) for turn in range(3)) + "..."
    return f"numbers {numbers[0]}" if len(numbers) == 1 else "-".join(map(str, numbers))


def _lines(piece: WrittenConditioning, vocabulary: Vocabulary) -> Iterator[str]:
    """The lines of a piece, with those of rest among them."""
    rests, slot = set(piece.composition.rest_slots), 1
    for line in piece.lines:
        while line.spot == "turn" and slot in rests:
            yield "rest"
            slot += 1
        yield _line(line, vocabulary)
        slot += line.spot == "turn"
    yield from ["rest"] * sum(place >= slot for place in rests)


def _line(line: WrittenLine, vocabulary: Vocabulary) -> str:
    name, known = vocabulary.movement_name(line.movement), vocabulary.movements.get(line.movement)
    word = UNIT_WORDS[known.unit] if known and known.unit != "reps" else ""
    unit = "" if word == "cal" and name.startswith("calorie") else word
    dose = str(line.dose) if line.dose is not None else _numbers(line.numbers) if line.numbers else ""
    dose = f"{clock(line.most_s)} max" if line.most_s else dose
    said = _joined(dose, unit if dose and len(line.numbers) != 1 and not line.most_s else "", name)
    how = list(_how(line, comma=""))
    loads, starts = [h for h in how if h.startswith("@")], [h for h in how if not h.startswith("@")]
    return _noted(SPOT_WORDS[line.spot] + ", ".join([_joined(said, *loads), *starts]), line.note)


def _noted(said: str, note: str) -> str:
    return f"{said}, note: {note}" if note else said


def _span(seconds: int) -> str:
    return clock(seconds) if seconds >= MINUTE_S else f"{seconds} s"


def _joined(*words: str) -> str:
    return " ".join(filter(None, words))
