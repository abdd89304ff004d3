"""Holds a written week to the second measurement: what it finds, the week's own report has to say."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from fractions import Fraction
from math import ceil
from pathlib import Path

from tests.measured.data import DAYS, GROUPS, Data, Tree, from_files
from tests.measured.rules import KINDS, implement, measure
from tests.measured.selecting import SHARE, hardness, means
from tests.measured.week import (
    Day,
    Earlier,
    Line,
    blocks,
    comes,
    day_of,
    earlier,
    monday,
    piece_of,
    reps_of,
    round_tenths,
    shared_by,
    sides,
    strength_minutes,
)

ROOT = Path(__file__).resolve().parents[2]
BAR = "barbell"


def hold(week: Tree, gym_folder: Path, history: list[Tree] | None = None) -> None:
    """Asserts that nothing is the matter with a week that its own rule report does not say.

    Args:
        week: as its JSON file has it.
        gym_folder: with ``gym.yaml``, and ``rules.yaml`` if there is one.
        history: weeks before, as their JSON files have them.
    """
    hold_to(from_files(gym_folder, ROOT / "shared", ROOT / "constraints"), week, history or [])


def hold_to(data: Data, week: Tree, history: list[Tree], by_hand: frozenset[str] = frozenset()) -> None:
    """The same for data that are at hand; on days written by hand a coach's doses may be anything.

    Weeks with a day that no draft comes to are measured in ``tests/by_hand`` instead.
    """
    if any(composed(session) for session in week["sessions"]):
        return
    found = list(findings(data, week, history, by_hand))
    assert not found, f"{week['week']}, {len(found)} findings:\n" + "\n".join(found[:20])


def composed(session: Tree) -> bool:
    """Whether a coach made up the list of pieces, how one runs, or the sets of a lift."""
    pieces = [p for p in session["pieces"] if p["versions"]]
    lines = (x for p in pieces for v in p["versions"].values() for x in v["lines"])
    usual = [p["kind"] for p in pieces] == ["strength", "conditioning"]
    return not usual or any(p["composition"] for p in pieces) or any(x["planned"] for x in lines)


def findings(data: Data, week: Tree, history: list[Tree], by_hand: frozenset[str]) -> Iterator[str]:
    """Everything about a week that is not as it says."""
    yield from dates(data, week)
    kits = [kit["id"] for kit in week["kits"]]
    if kits != [kit["id"] for kit in data.gym["kits"]]:
        yield f"kit versions are {kits}"
        return
    by_kit = {kit: [day_of(data, s, kit) for s in week["sessions"]] for kit in kits}
    floor = by_kit[kits[0]]
    for kit, days in zip(data.gym["kits"], by_kit.values(), strict=True):
        for session, day, own in zip(week["sessions"], days, floor, strict=True):
            where = f"{day.name}, {kit['id']}"
            yield from (f"{where}: {said}" for said in session_faults(data, session, day, own, kit))
            if day.name not in by_hand:
                yield from (f"{where}: {said}" for said in dose_faults(day, own))
    for session, day in zip(week["sessions"], floor, strict=True):
        yield from (f"{day.name}: {said}" for said in totals(data, session, day))
    yield from balance(week, floor)
    yield from reported(data, week, by_kit, earlier(data, history, week["week"]))
    yield from unusual_doses(week, floor)


# The report ----------------------------------------------------------------------------------------------


def reported(data: Data, week: Tree, by_kit: dict[str, list[Day]], past: list[Earlier]) -> Iterator[str]:
    """Each rule's measure at each place, against the week's own report and its proof."""
    results = {r["id"]: r for r in week["rules"]}
    points = 0
    for rule in data.rules:
        result = results.get(rule["id"])
        if result is None:
            yield f"{rule['id']} is not reported"
            continue
        if rule["kind"] not in KINDS:  # from outside the program: its own report is believed
            points += result["cost"]
            continue
        mine = {}
        for kit in data.gym["kits"] if rule.get("versions") == "all" else data.gym["kits"][:1]:
            on_floor = kit is data.gym["kits"][0]
            prefix = "" if on_floor else f"{kit['name']}, "
            found = measure(rule, data, by_kit[kit["id"]], past, on_floor=on_floor)
            mine |= {prefix + place: n for place, n in found.items()}
        overruled = {p["place"] for p in result["places"] if p["overruled"]}
        said = {p["place"]: p["measure"] for p in result["places"] if not p["overruled"]}
        if not overruled <= mine.keys():
            yield f"{rule['id']} is overruled where nothing is the matter: {overruled - mine.keys()}"
        mine = {place: n for place, n in mine.items() if place not in overruled}
        if mine != said:
            yield f"{rule['id']}: {mine} is measured, and {said} reported"
        if result.get("sides"):
            counted = [
                sum(means(rule[k], x) for d in by_kit[week["kits"][0]["id"]] for x in d.lines)
                for k in ("of", "to")
            ]
            if [s["count"] for s in result["sides"]] != counted:
                yield f"{rule['id']}: {result['sides']} are shown, {counted} are right"
        cost = sum(mine.values()) * rule.get("weight", 0)
        if (result["measure"], result["cost"]) != (sum(mine.values()), cost):
            yield f"{rule['id']}: {result['measure']} for {result['cost']} points reported; {cost} is right"
        points += cost
    if week["proof"]["tiers"]:
        said = {t["name"]: t["objective"] for t in week["proof"]["tiers"]}
        if said["Rules that may give way"] != points:
            yield f"the proof says {said['Rules that may give way']} points; {points} are measured"
        lost = stand_in_points(week)
        if said.get("Stand-ins in the kit versions", lost) != lost:
            yield f"the proof says {said['Stand-ins in the kit versions']} for stand-ins; {lost} are right"
    for tier in week["proof"]["tiers"]:
        if (tier["status"] == "proved") != (tier["objective"] == tier["bound"]):
            yield f"{tier['name']}: {tier['status']} at {tier['objective']} with {tier['bound']} below"


def stand_in_points(week: Tree) -> int:
    """What stand-ins cost: nothing up to 24 of 100, then a point for each six that are begun."""
    others = [kit["id"] for kit in week["kits"][1:]]
    costs = [
        line["substitution_cost"]
        for s in week["sessions"]
        for piece in s["pieces"]
        for kit in others
        for line in piece["versions"].get(kit, {"lines": []})["lines"]
    ]
    return sum(max(0, ceil(Fraction(cost - 24, 6))) for cost in costs)


def unusual_doses(week: Tree, floor: list[Day]) -> Iterator[str]:
    """Doses on the gym floor that are not their movement's own are noted in the report; only those."""
    result = next(r for r in week["rules"] if r["id"] == "doses")
    said = sorted(p["place"] for p in result["places"])
    mine = sorted(d.name for d in floor for x in conditioning(d) if x.dose not in own_doses(x, d.shape))
    if mine != said:
        yield f"unusual doses on {mine}, reported on {said}"


# One session ---------------------------------------------------------------------------------------------


def conditioning(day: Day) -> list[Line]:
    """Lines of the conditioning."""
    return [x for x in day.lines if x.piece == "conditioning"]


def dates(data: Data, week: Tree) -> Iterator[str]:
    """The week's Monday, and each open day's date."""
    first = monday(week["week"])
    if week["monday"] != first.isoformat():
        yield f"Monday of {week['week']} is {first}"
    if [s["day"] for s in week["sessions"]] != data.gym["days"]:
        yield "other days than those on which the gym opens"
    for s in week["sessions"]:
        if s["date"] != (first + timedelta(days=DAYS.index(s["day"]))).isoformat():
            yield f"{s['day']} is dated {s['date']}"
    for key, name in (("class_size", "size"), ("class_minutes", "minutes")):
        if week[key] != data.class_[name]:
            yield f"{key} is {week[key]}"


def session_faults(data: Data, session: Tree, day: Day, own: Day, kit: Tree) -> Iterator[str]:
    """What hangs together by nature: numbers of lines, equipment at hand, loads, times."""
    lines = conditioning(day)
    names = [x.movement["id"] for x in lines]
    if len(names) != day.shape["movements"] or len(set(names)) < len(names):
        yield f"{names} in a piece of {day.shape['movements']}"
    if sum(x.piece == "main" for x in day.lines) != 1 or len(day.lines) != len(own.lines):
        yield "not one main lift, or other lines than on the floor"
    if day is own and len({x.tier for x in lines} - {"open"}) > 1:
        yield "two loads in the conditioning"
    for x in day.lines:
        setup = setup_at_hand(data, kit, x)
        if setup is None:
            yield f"{x.movement['id']} cannot be done with {kit['id']}"
        elif setup.get("needs", []) != without_discs(x.needs, setup):
            yield f"{x.movement['id']} is shown with {x.needs}, it is done with {setup.get('needs', [])}"
        yield from line_faults(data, x, day, kit)
    yield from prediction_faults(data, session, day, kit)


def without_discs(needs: list[str], setup: Tree) -> list[str]:
    """Items without the plates that only load a bar."""
    return [i for i in needs if i != "plate" or "plate" in setup.get("needs", [])]


def setup_at_hand(data: Data, kit: Tree, line: Line) -> Tree | None:
    """The first way to do a movement with what is at hand; on the floor, enough for the class in turns."""
    if kit.get("contains") == ["everything"]:
        held = {i for i in data.gym["inventory"] if data.count(i) > 0}
        if line.piece != "conditioning":
            turns, size = data.class_.get("turns", 3), data.class_["size"]
            held = {i for i in held if data.count(i) >= Fraction(size, turns)}
    else:
        held = set(kit.get("contains", []))
    for setup in line.movement["setups"]:
        from_rack = setup.get("start") == "rack" and line.piece == "conditioning"
        if set(setup.get("needs", [])) <= held and not from_rack:
            return dict(setup)
    return None


def line_faults(data: Data, x: Line, day: Day, kit: Tree) -> Iterator[str]:
    """Totals, seconds and loads of a line as printed."""
    printed, name = x.printed, x.movement["id"]
    value = printed["dose"]["value"]
    if x.piece == "conditioning":
        often = comes(day.shape, printed["spot"]) if not day.shape["ladder"] else 1
        times = day.shape["rounds"] * often
        people = day.shape["people"] if kit["contains"] == ["everything"] and day.shape["people"] > 1 else 1
        seconds = ceil(Fraction(x.tenths, 10 * often * people))
    else:
        assert x.scheme is not None
        times = printed["sets"] or x.scheme["sets"]
        whole = reps_of(x.scheme) if x.movement is not data.movements[name] else 1
        per_rep = Fraction(str(x.scheme["seconds_per_rep"])) * whole
        seconds = ceil(value * per_rep * sides(x.movement))
        if printed["own_sets"]:  # without the load: as long as its own tempo takes
            seconds = printed["seconds"]
            if times > max(3, x.scheme["sets"]) or not value <= seconds <= 110 * sides(x.movement):
                yield f"{name}: {times} sets of {value} in {seconds} s each"
    if printed["total"] != value * times:
        yield f"{name}: {printed['total']} in all, {value * times} are right"
    if printed["seconds"] != seconds:
        yield f"{name}: {printed['seconds']} s, {seconds} are right"
    if printed["patterns"] != x.movement["patterns"]:
        yield f"{name}: patterns {printed['patterns']}"
    item = BAR if BAR in x.needs and x.movement["modality"] == "loaded" else implement(data, x)
    for load, athlete in zip(printed["loads"], data.gym["athletes"], strict=bool(printed["loads"])):
        yield from (
            f"{name}, {athlete['id']}: {said}" for said in load_faults(data, kit, item, load, athlete)
        )
    if x.piece == "conditioning" and item == BAR:
        shared = [y.printed["loads"] for y in conditioning(day) if BAR in y.needs and y.printed["loads"]]
        if len({tuple(load["kg"] for load in loads) for loads in shared}) > 1:
            yield "two bars of different loads in one piece"


def load_faults(data: Data, kit: Tree, item: str, load: Tree, athlete: Tree) -> Iterator[str]:
    """A load that bars, plates and bells at hand do not make; the bar is the nearest to the athlete's own."""
    if item == BAR:
        discs = [Fraction(str(kg)) for kg in load["per_side_kg"]]
        own = athlete["bar_kg"]
        bars = [kg for kg, n in data.masses(BAR).items() if n] or [own]
        nearest = min(bars, key=lambda kg: (abs(kg - own), kg))
        bar = Fraction(str(nearest)) + Fraction(str(data.gym.get("collars_kg", 0)))
        if bar + 2 * sum(discs) != Fraction(str(load["kg"])):
            yield f"{load['kg']} kg are not {bar} and twice {discs}"
        plates = data.masses("plate")
        for kg in set(discs):
            if 2 * discs.count(kg) > plates.get(float(kg), 0):
                yield f"there are not {2 * discs.count(kg)} plates of {kg} kg"
        return
    own = (kit.get("kg") or {}).get(item)
    masses = [own[athlete["id"] == "woman"]] if own else [kg for kg, n in data.masses(item).items() if n]
    if masses and load["kg"] not in masses:
        yield f"there is no {item} of {load['kg']} kg"


def prediction_faults(data: Data, session: Tree, day: Day, kit: Tree) -> Iterator[str]:
    """The typical finish: all rounds, with fatigue; or the rounds that the clock leaves time for."""
    said = piece_of(session, "conditioning")["versions"][kit["id"]]["prediction"]
    shape, domain = day.shape, data.domains[day.shape["domain"]]
    seconds = ceil(Fraction(round_tenths(day) * shape["rounds"] * (100 + domain["fatigue_percent"]), 1000))
    if shape.get("station_s") or shape.get("every_s"):
        typical = 10 * shape["rounds"]
    elif shape.get("fixed_minutes"):
        typical = shape["fixed_minutes"] * 60 * shape["rounds"] * 10 // seconds
    else:
        typical = seconds
    piece = piece_of(session, "conditioning")
    on_floor = kit["id"] == next(iter(piece["versions"]))
    if on_floor and said["unit"] == "seconds" and piece["on_floor"]["longest_wait_s"]:
        # Who waits is later; by how much the simulation says, which has its own checks.
        if said["typical"] < typical * 0.97:
            yield f"typical is {said['typical']}, and {typical} without a wait"
        return
    if said["typical"] != typical:
        yield f"typical is {said['typical']}, {typical} is right"


def totals(data: Data, session: Tree, floor: Day) -> Iterator[str]:
    """Clock, rating, load, patterns and landings of a session."""
    main = next(x.scheme for x in floor.lines if x.piece == "main")
    assert main is not None
    beside = any(x.piece == "assistance" for x in floor.lines)
    wanted, at, shared = [], 0, shared_by(data, session)
    for label, minutes in blocks(main, beside, floor.shape, data.class_["minutes"], shared):
        wanted.append({"label": label, "start_minute": at, "minutes": minutes})
        at += minutes
    if session["clock"] != [b for b in wanted if b["minutes"]]:
        yield f"the clock is {session['clock']}"
    for kind, right in (
        ("strength", strength_minutes(main, beside, shared)),
        ("conditioning", floor.shape["cap_minutes"]),
    ):
        if piece_of(session, kind)["minutes"] != right:
            yield f"{kind} of {piece_of(session, kind)['minutes']} minutes, {right} are right"
    if session["rating"] != floor.rating or session["hardness"] != hardness(floor.rating):
        yield f"rated {session['rating']}, {session['hardness']}; {floor.rating} is right"
    if session["load_au"] != floor.rating * data.class_["minutes"]:
        yield f"load {session['load_au']}"
    landings = sum(
        x.printed["total"] * sides(x.movement) * (x.movement.get("takes") or {}).get("contacts", 0)
        for x in floor.lines
    )
    if session["contacts"] != landings:
        yield f"{session['contacts']} landings, {landings} are right"
    shares = [p for x in floor.lines for p, n in x.movement["patterns"].items() if n >= SHARE]
    if session["patterns"] != {p: shares.count(p) for p in shares}:
        yield f"patterns {session['patterns']}"


def balance(week: Tree, floor: list[Day]) -> Iterator[str]:
    """The week in numbers: work of each group of patterns, kinds of movement in the conditioning."""
    lines = [x for d in floor for x in d.lines]
    shares = [p for x in lines for p, n in x.movement["patterns"].items() if n >= SHARE]
    wanted = {name: sum(p in GROUPS[name] for p in shares) for name in ("push", "pull", "upper", "lower")}
    kinds = [x.movement["modality"] for d in floor for x in conditioning(d)]
    wanted["modality"] = {k: kinds.count(k) for k in ("loaded", "bodyweight", "cyclic")}
    wanted["domains"] = {d.name: d.shape["domain"] for d in floor}
    for name, right in wanted.items():
        if week["balance"].get(name, right) != right:
            yield f"balance of {name} is {week['balance'][name]}, {right} is right"


# Doses ---------------------------------------------------------------------------------------------------


def own_doses(x: Line, shape: Tree, *, everywhere: bool = False) -> set[int]:
    """The movement's own numbers for a round; in a ladder its sum, once through twice the largest too."""
    doses = x.movement.get("doses") or {}
    tier = x.printed["tier"]
    listed = [n for t, ns in doses.items() if everywhere or t == tier for n in ns]
    if not listed:
        return set()
    most = max(listed)
    if shape["ladder"] and x.printed["spot"] == "turn":
        fits = min(listed) == 1 < most and max(shape["ladder"]) <= most
        return {sum(shape["ladder"])} if fits or everywhere else set()
    spot = x.printed["spot"]
    once = shape["format"] == "chipper" or spot in {"opening", "closing"}
    if once and x.movement.get("unit", "reps") == "reps":
        listed.append(min(2 * most, x.movement["cap"]))
    return set(listed)


def dose_faults(day: Day, own: Day) -> Iterator[str]:
    """Doses over a cap, outside the slot of a station, or that a version has from nowhere."""
    slot = day.shape.get("station_s")
    for x, floor in zip(conditioning(day), conditioning(own), strict=False):
        times = 1 if day.shape["ladder"] else comes(day.shape, x.printed["spot"])
        if x.dose * times * day.shape["rounds"] > x.movement["cap"]:
            yield f"{x.dose} of {x.movement['id']}, {times * day.shape['rounds']} times, are over its cap"
        if slot and not 10 * slot[0] <= x.tenths <= 10 * slot[1]:
            yield f"{x.movement['id']} takes {x.tenths} tenths of a minute's slot"
        same_unit = x.movement.get("unit", "reps") == floor.movement.get("unit", "reps")
        numbers = own_doses(x, day.shape, everywhere=True) | ({floor.dose} if same_unit else set())
        if day is not own and x.dose not in numbers:
            yield f"{x.dose} of {x.movement['id']} is neither its own number nor the floor's"


__all__ = ["hold", "hold_to"]
