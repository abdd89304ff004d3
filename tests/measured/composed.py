"""Days that a coach composed, measured from the data files and the written week alone.

Doses, times, minutes, equipment and loads of each piece in each kit version, and whether her numbers stayed
where they could. What rules think of such a day is not measured here.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil
from typing import Any, NamedTuple

from tests.measured.data import Data, Tree
from tests.measured.hold import BAR, composed, load_faults
from tests.measured.week import WALK, Shared, line_shared_by, tenths_of

LIFTING, RUNNING = ("skill", "strength"), ("conditioning", "finisher")
SLOW = Fraction(130, 100)
REST_S = {"heavy": 150, "moderate": 120, "light": 75, "open": 60}
LEAST, MOST = Fraction(67, 100), Fraction(150, 100)


class Spot(NamedTuple):
    """A piece in one kit version, with all its lines."""

    piece: Tree
    kit: Tree
    lines: list[Tree]
    floor: bool


def composed_faults(data: Data, week: Tree) -> Iterator[str]:
    """Everything about a week's composed days that is not as it says."""
    for session in week["sessions"]:
        if not composed(session):
            continue
        yield from (f"{session['day']}: {said}" for said in clock_faults(session, data))
        for piece in (p for p in session["pieces"] if p["versions"]):
            for i, kit in enumerate(data.gym["kits"]):
                lines = piece["versions"][kit["id"]]["lines"]
                where = f"{session['day']}, {piece['kind']}, {kit['id']}"
                spot = Spot(piece, kit, lines, floor=i == 0)
                yield from (f"{where}: {said}" for said in piece_faults(data, spot))


def piece_faults(data: Data, spot: Spot) -> Iterator[str]:
    """A piece in one kit version."""
    for line in spot.lines:
        yield from (f"{line['name']}: {said}" for said in equipment_faults(data, spot, line))
        if spot.piece["composition"]:
            yield from (f"{line['name']}: {said}" for said in dose_faults(spot, line))
    if spot.piece["composition"]:
        yield from time_faults(data, spot)


# Doses ----------------------------------------------------------------------------------------------------


def rungs_of(spot: Spot, line: Tree) -> list[int]:
    """The number in each round, where it is not one number for all."""
    return list(line["numbers"] or (spot.piece["ladder"] if line["spot"] == "turn" else []))


def times_of(spot: Spot, line: Tree) -> int:
    """How often the dose of a line comes in the piece."""
    if rungs_of(spot, line) or line["spot"] in {"opening", "closing"}:
        return 1
    turns = sum(x["spot"] == "turn" for x in spot.lines)
    return int(spot.piece["rounds"]) * (turns if line["spot"] == "after_each" else 1)


def dose_faults(spot: Spot, line: Tree) -> Iterator[str]:
    """The total of a line, and the sum of what it has in each round."""
    rungs, value = rungs_of(spot, line), line["dose"]["value"]
    if rungs and sum(rungs) != value:
        yield f"{rungs} are not {value}"
    if line["total"] != value * times_of(spot, line):
        yield f"{value} come {times_of(spot, line)} times, and {line['total']} are written"


# Times and minutes ----------------------------------------------------------------------------------------


def round_tenths(data: Data, spot: Spot, doses: list[int] | None = None) -> int:
    """The whole piece, fresh: every line as often as it comes, and the ways between; of a pair both."""
    how, turns = spot.piece["composition"], sum(x["spot"] == "turn" for x in spot.lines)
    together = how["people"] if spot.floor else 1
    shared = together if how["sharing"] == "shared" else 1
    waiting = together if how["sharing"] in {"shared", "in_turn"} else 1
    work = 0
    for i, line in enumerate(spot.lines):
        movement, rungs = data.movements[line["movement"]], rungs_of(spot, line)
        each = rungs if rungs and doses is None else [line["dose"]["value"] if doses is None else doses[i]]
        one = sum(tenths_of(movement, ceil(Fraction(n, shared)), line["tier"]) for n in each)
        work += one * waiting * times_of(spot, line)
    after, laps = sum(x["spot"] == "after_each" for x in spot.lines), int(spot.piece["rounds"])
    once = sum(x["spot"] in {"opening", "closing"} for x in spot.lines)
    return work + WALK * (once + laps * turns * (1 + after))


def slot_s(how: Tree) -> int:
    """Seconds from one start to the next, where the clock says when."""
    return int(how["every_s"] or (how["seconds"] + how["rest_s"] if how["clock"] == "work_rest" else 0))


def time_faults(data: Data, spot: Spot) -> Iterator[str]:
    """The typical finish; the minutes of the piece; that a version takes about as long as the gym floor."""
    piece, how = spot.piece, spot.piece["composition"]
    laps, fatigue = int(piece["rounds"]), 100 + data.domains[piece["domain"]]["fatigue_percent"]
    between = how["rest_s"] * (laps - 1) if how["clock"] != "work_rest" else 0
    taken = round_tenths(data, spot)
    seconds = ceil(Fraction(taken * fatigue, 1000)) + between
    said = piece["versions"][spot.kit["id"]]["prediction"]
    waits = spot.floor and (piece.get("on_floor") or {}).get("longest_wait_s")
    right = said["typical"] >= seconds if waits else said["typical"] == seconds
    if said["unit"] == "seconds" and not right:
        yield f"typical is {said['typical']} s, {seconds} is right"
    if spot.floor:
        minutes = piece_minutes(how, seconds, laps, between, len(spot.lines))
        if piece["minutes"] != minutes:
            yield f"{piece['minutes']} minutes are on the clock, {minutes} are right"
        return
    yield from own_number_faults(data, spot, taken)


def piece_minutes(how: Tree, seconds: int, laps: int, between: int, lines: int) -> int:
    """Minutes on the class clock: until the clock ends it, its cap, or a slow finish; an hour at most."""
    slot = slot_s(how)
    if how["clock"] == "fixed":
        length = Fraction(how["seconds"])
    elif slot:
        places = lines + len(how["rest_slots"]) if how["by_movement"] else 1
        length = Fraction(slot * laps * places + between)
    else:
        length = Fraction(how["cap_s"] or seconds * SLOW)
    return max(1, min(60, ceil(length / 60)))


def own_number_faults(data: Data, spot: Spot, taken: int) -> Iterator[str]:
    """Her numbers are kept unless with them the version took under 0.67 or over 1.5 of the floor's time."""
    floor = next(iter(spot.piece["versions"].values()))["lines"]
    how = spot.piece["composition"]
    if how["clock"] not in {"for_time", "as_long"} or any(x["open"] or rungs_of(spot, x) for x in spot.lines):
        return
    share = how["people"] if how["sharing"] == "shared" else 1
    hers = [
        ceil(Fraction(was["dose"]["value"], share)) if was["dose"]["unit"] == x["dose"]["unit"] else None
        for was, x in zip(floor, spot.lines, strict=True)
    ]
    if all(n is None or n == x["dose"]["value"] for n, x in zip(hers, spot.lines, strict=True)):
        return
    alone = Spot(spot.piece, spot.kit, floor, floor=False)
    on_floor = round_tenths(data, alone, [ceil(Fraction(x["dose"]["value"], share)) for x in floor])
    kept = [x["dose"]["value"] if n is None else n for n, x in zip(hers, spot.lines, strict=True)]
    would = round_tenths(data, spot, kept)
    if LEAST * on_floor <= would <= MOST * on_floor:
        yield f"her numbers {hers} would take {would / on_floor:.2f} of the floor's time, and are not kept"


# Equipment and loads --------------------------------------------------------------------------------------


def equipment_faults(data: Data, spot: Spot, line: Tree) -> Iterator[str]:
    """What a line takes is at hand, or marked as lacking; its bars and bells can be loaded so."""
    ids = {item["name"]: i for i, item in data.items.items()}
    needs = [ids[name] for name in line["equipment"]]
    everything = spot.kit.get("contains") == ["everything"]
    held = {i for i in data.items if data.count(i)} if everything else set(spot.kit.get("contains", []))
    if not line["lacks"] and not set(needs) <= held:
        yield f"takes {sorted(set(needs) - held)}, which are not at hand"
    if line["lacks"] and not spot.floor:
        yield "lacks something, though it is no line of hers"
    movement: Tree = data.movements[line["movement"]]
    loaded = BAR if BAR in needs else next((i for i in needs if data.items[i].get("loaded")), "")
    if movement["modality"] == "loaded" and loaded and not line["lacks"]:
        sets = [load for alike in line["work_sets"] for load in alike["loads"]]
        athletes: dict[str, Any] = {a["id"]: a for a in data.gym["athletes"]}
        for load in (*line["loads"], *sets):
            yield from load_faults(data, spot.kit, loaded, load, athletes[load["athlete"]])


# The class clock ------------------------------------------------------------------------------------------


def clock_faults(session: Tree, data: Data) -> Iterator[str]:
    """Each block begins where the one before ends; those of the pieces have the pieces' minutes."""
    at, done = 0, False
    blocks: list[tuple[str, int]] = []
    for piece in session["pieces"]:
        if piece["kind"] in RUNNING and done:
            blocks.append(("Change over", -1))
        blocks.append((piece["kind"].replace("_", "-").capitalize(), piece["minutes"]))
        done = done or piece["kind"] in (*LIFTING, *RUNNING)
    written = [e for e in session["clock"] if e["label"] != "Brief"]
    if [e["label"] for e in written] != [label for label, _ in blocks]:
        found = [e["label"] for e in written]
        yield f"the clock has {found}, the pieces are {[label for label, _ in blocks]}"
    for entry, (label, minutes) in zip(written, blocks, strict=False):
        if minutes not in {-1, entry["minutes"]}:
            yield f"{label} has {minutes} minutes, and {entry['minutes']} on the clock"
    for entry in session["clock"]:
        if entry["start_minute"] != at:
            yield f"{entry['label']} begins at {entry['start_minute']}, {at} is right"
        at += entry["minutes"]
    for piece in (p for p in session["pieces"] if p["kind"] in LIFTING):
        minutes = lifts_minutes(data, next(iter(piece["versions"].values()))["lines"], paired=piece["paired"])
        if piece["minutes"] != minutes:
            yield f"{piece['kind']} has {piece['minutes']} minutes, {minutes} are right"


def lifts_minutes(data: Data, lines: list[Tree], *, paired: bool) -> int:
    """Build-up and work sets with their rests; two minutes for what is done in the rests of a lift."""
    lifts = [
        (
            (x["planned"] or {}).get("own") or data.all_schemes[x["scheme"]],
            line_shared_by(data, x),
            x["assistance"],
        )
        for x in lines
    ]
    mains = [(s, shared) for s, shared, beside in lifts if not beside] or [lifts[0][:2]]
    if paired:
        others = sum(len(work_of(s)["sets"]) * set_s(s, most(s)) * shared[2] for s, shared, _ in lifts[1:])
        return ceil(Fraction(scheme_s(*mains[0]), 60)) + ceil(others / 60)
    first = 2 if len(lifts) > len(mains) else 0
    return sum(ceil(Fraction(scheme_s(*one), 60)) for one in mains) + first


def work_of(scheme: Tree) -> Tree:
    """The work sets, also of an entry that says them in short."""
    if "work" in scheme:
        return dict(scheme["work"])
    return {**scheme, "sets": [{"reps": scheme["reps"]}] * int(scheme["sets"])}


def most(scheme: Tree) -> int:
    """Units of the longest work set."""
    return max(int(one["reps"]) for one in work_of(scheme)["sets"])


def moves(scheme: Tree) -> int:
    """Reps of single movements in one of a set: of a complex all its parts."""
    return sum(part.get("reps", 1) for part in scheme.get("parts") or []) or 1


def set_s(scheme: Tree, reps: int) -> Fraction:
    """Seconds of a work set: tempo, pauses, rests inside a cluster; of practice its whole time."""
    work = work_of(scheme)
    if work.get("practice_s"):
        return Fraction(work["practice_s"])
    tempo = [int(digit) for digit in work.get("tempo") or ""]
    a_rep = Fraction(str(scheme["seconds_per_rep"]))
    if tempo:
        a_rep = Fraction(tempo[0] + tempo[1] + (tempo[2] or 1) + tempo[3])
    inside = max(0, len(work.get("cluster") or []) - 1) * (work.get("within_s") or 0)
    return reps * (moves(scheme) * a_rep + (work.get("pause_s") or 0)) + inside


def scheme_s(scheme: Tree, shared: Shared) -> int:
    """Seconds of a scheme, build-up sets and work sets, for all who share what it takes."""
    work = work_of(scheme)
    people, change, twice = (1, 0, 1) if work.get("practice_s") else shared
    a_rep = moves(scheme) * Fraction(str(scheme["seconds_per_rep"])) * twice
    reps = [int(one["reps"]) for one in work["sets"]] * (3 if work.get("form") == "find" else 1)
    sets = [set_s(scheme, n) * twice for n in reps]

    def again(one: Fraction, rest: int) -> Fraction:
        return max(one + rest, people * (one + change))

    build = sum(again(n * a_rep, 0 if people > 1 else 60) for _, n in scheme.get("build_up") or [])
    if work.get("every_s"):
        return round(build + sum(max(Fraction(work["every_s"]), people * (one + change)) for one in sets))
    rest = REST_S[scheme["tier"]] if work.get("rest_s") is None else work["rest_s"]
    last = people * (sets[-1] + change) - change
    return round(build + sum(again(one, rest) for one in sets[:-1]) + last)
