"""A written week as it is measured: each day's lines in each kit version, and what earlier weeks did."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import ceil
from typing import Any

from tests.measured.data import DAYS, PATTERNS, Data, Tree

LOADED_TIME = {"open": 100, "light": 100, "moderate": 115, "heavy": 150}
"""Percent of the time of a fresh, light rep."""
WALK = 50
"""Tenths of a second from one movement to the next."""


@dataclass(frozen=True)
class Line:
    """A line as rules ask about it.

    Attributes:
        piece: main, assistance or conditioning.
        movement: the catalogue's entry.
        tier: how heavy; open without a load.
        scheme: the catalogue's entry, on strength lines.
        needs: items that it takes, by id.
        units: over the whole piece, both sides counted.
        tenths: of a second, in one round or in the whole ladder, or over the whole piece where it has an
            opening, an end or a line between; conditioning only.
        dose: as decided: each time it comes, or for the whole ladder.
        printed: the line in the week's JSON.
    """

    piece: str
    movement: Tree
    tier: str
    scheme: Tree | None
    needs: list[str]
    units: int
    tenths: int
    dose: int
    printed: Tree


@dataclass(frozen=True)
class Day:
    """A session in one kit version."""

    name: str
    lines: list[Line]
    shape: Tree
    rating: int
    minutes: int

    @property
    def index(self) -> int:
        """Days since Monday."""
        return DAYS.index(self.name)


@dataclass(frozen=True)
class Earlier:
    """A session of an earlier week, on the gym floor; lines that the catalogue still knows."""

    days_ago: int
    weeks_ago: int
    lines: list[Line]
    format: str
    domain: str
    scheme: str
    rating: int


def main_pattern(movement: Tree) -> str:
    """The pattern with the largest share; of two, the one that the catalogue has first."""
    shares = movement["patterns"]
    return min(shares, key=lambda p: (-shares[p], PATTERNS.index(p)))


def sides(movement: Tree) -> int:
    """How often a dose is done: twice where it is for each side."""
    return 2 if movement.get("sides") == "per_side" else 1


def tenths_of(movement: Tree, dose: int, tier: str) -> int:
    """Tenths of a second for one dose: slower beyond a steady set, under load, and on each side."""
    pace = movement["pace"]
    beyond = max(0, dose - pace.get("steady_to", 10))
    units = dose + Fraction(beyond * pace.get("slower_percent", 10), 100)
    return ceil(
        units * sides(movement) * Fraction(str(pace["seconds"])) * 10 * Fraction(LOADED_TIME[tier], 100)
    )


Shared = tuple[int, int, int]
"""People to one set, seconds from one to the next, sides of each set."""


def strength_minutes(scheme: Tree, beside: bool, shared: Shared = (1, 0, 1)) -> int:
    """Minutes of build-up sets, work sets and rests, and two for what is done beside.

    A heavy set is found in three tries; on the clock each set has its slot. Where people share, a set comes
    round once all have lifted and changed plates, if that takes longer than the rest.
    """
    people, change, twice = shared
    per_rep = Fraction(str(scheme["seconds_per_rep"])) * reps_of(scheme) * twice
    build = sum(
        people * (reps * per_rep + change) if people > 1 else reps * per_rep + 60
        for _, reps in scheme.get("build_up", [])
    )
    sets = 3 if scheme.get("form") == "find" else scheme["sets"]
    one = scheme["reps"] * per_rep
    everyone = people * (one + change)
    if scheme.get("every_s"):
        work = sets * max(Fraction(scheme["every_s"]), everyone)
    else:
        work = (sets - 1) * max(one + scheme["rest_s"], everyone) + everyone - change
    return ceil(Fraction(round(build + work), 60)) + (2 if beside else 0)


def shared_by(data: Data, session: Tree) -> Shared:
    """How the main lift of the gym floor is shared: by racks, benches and bars, and whose bar it is."""
    floor = piece_of(session, "strength")["versions"][data.gym["kits"][0]["id"]]["lines"]
    return line_shared_by(data, next(x for x in floor if not x["assistance"]))


def line_shared_by(data: Data, main: Tree) -> Shared:
    """The same of any lift of the gym floor."""
    named = {item["name"]: item["id"] for item in data.items.values()}
    return shared_at(data, [named[name] for name in main["equipment"]], data.movements[main["movement"]])


def shared_at(data: Data, needs: list[str], movement: Tree) -> Shared:
    """How a lift is shared that needs some items, by id."""
    items = [item for item in needs if item != "plate"]
    size = data.class_["size"]
    size = max(size.values()) if isinstance(size, dict) else size
    people = 1
    for item in items:
        bars, masses = [a["bar_kg"] for a in data.gym["athletes"]], data.masses(item)
        if item == "barbell" and bars[0] != bars[1] and all(masses.get(kg) for kg in bars):
            halves = size - size // 2, size // 2
            people = max(people, *(ceil(n / masses[kg]) for n, kg in zip(halves, bars, strict=True)))
        elif data.count(item):
            people = max(people, ceil(size / data.count(item)))
    change = (40 if "barbell" in items else 10) if people > 1 else 0
    return people, change, sides(movement)


def blocks(
    scheme: Tree, beside: bool, shape: Tree, whole: int = 60, shared: Shared = (1, 0, 1)
) -> list[tuple[str, int]]:
    """The class clock: brief, warm-up, strength, change over, conditioning, cool-down; ``whole`` minutes."""
    brief, warm, change, cool = (2, 9, 3, 4) if whole >= 30 else (1, 5, 1, 2) if whole >= 20 else (1, 3, 1, 1)
    return [
        ("Brief", brief),
        ("Warm-up", warm),
        ("Strength", strength_minutes(scheme, beside, shared)),
        ("Change over", change),
        ("Conditioning", shape["cap_minutes"]),
        ("Cool-down", cool),
    ]


def reps_of(scheme: Tree) -> int:
    """Reps of single movements in a rep of a set: one, of a complex all its parts."""
    return sum(part.get("reps", 1) for part in scheme.get("parts") or []) or 1


def complex_of(data: Data, first: Tree, scheme: Tree) -> Tree:
    """A complex as one movement: patterns by reps, the most of all it takes; stand-ins are themselves."""
    parts = [(data.movements[p["movement"]], p.get("reps", 1)) for p in scheme.get("parts") or []]
    if not parts or parts[0][0]["id"] != first["id"]:
        return first
    reps = sum(n for _, n in parts)
    shares = {p: sum(m["patterns"].get(p, 0) * n for m, n in parts) // reps for p in PATTERNS}
    shares = {p: share for p, share in shares.items() if share}
    most = max(shares, key=lambda p: shares[p])
    shares[most] += 100 - sum(shares.values())
    takes = [m.get("takes") or {} for m, _ in parts]
    return {
        **first,
        "patterns": shares,
        "takes": {k: max(t.get(k, 0) for t in takes) for k in ("grip", "overhead", "back")}
        | {"contacts": min(2, sum(t.get("contacts", 0) for t in takes))},
        "skill": max(m.get("skill", 1) for m, _ in parts),
        "eccentric": any(m.get("eccentric") for m, _ in parts),
    }


def piece_of(session: Tree, kind: str) -> Tree:
    """The strength or the conditioning of a session."""
    return next(p for p in session["pieces"] if p["kind"] == kind)


def day_of(data: Data, session: Tree, kit: str) -> Day:
    """A session in a kit version."""
    strength, conditioning = piece_of(session, "strength"), piece_of(session, "conditioning")
    shape = data.shapes[conditioning["shape"]]
    lines = [strength_line(data, x) for x in strength["versions"][kit]["lines"]]
    alone = kit != data.gym["kits"][0]["id"]
    lines += [conditioning_line(data, x, shape, alone) for x in conditioning["versions"][kit]["lines"]]
    main = next(x.scheme for x in lines if x.piece == "main")
    assert main is not None
    beside = any(x.piece == "assistance" for x in lines)
    rating = min(10, 1 + main["effort"] + shape["effort"])
    return Day(
        session["day"],
        lines,
        shape,
        rating,
        sum(n for _, n in blocks(main, beside, shape, data.class_["minutes"], shared_by(data, session))),
    )


def needs_of(data: Data, printed: Tree) -> list[str]:
    """Ids of the items whose names a line shows, and plates where its bar is loaded with some."""
    ids = {item["name"]: i for i, item in data.items.items()}
    shown = [ids[name] for name in printed["equipment"]]
    discs = any(load["per_side_kg"] for load in printed["loads"])
    return [*shown, "plate"] if discs and "plate" not in shown else shown


def strength_line(data: Data, printed: Tree) -> Line:
    """A main lift or assistance; rules count what its scheme says."""
    scheme = data.schemes[printed["scheme"]]
    movement = complex_of(data, data.movements[printed["movement"]], scheme)
    units = scheme["sets"] * scheme["reps"] * sides(movement)
    return Line(
        piece="assistance" if printed["assistance"] else "main",
        movement=movement,
        tier=scheme["tier"] if movement["modality"] == "loaded" else "open",
        scheme=scheme,
        needs=needs_of(data, printed),
        units=units,
        tenths=0,
        dose=scheme["reps"],
        printed=printed,
    )


def turn_lines(shape: Tree) -> int:
    """Movements of a round, without what comes before, between and after."""
    placed = sum(shape.get(spot) or 0 for spot in ("opening", "after_each", "closing"))
    return int(shape["movements"]) - placed


def comes(shape: Tree, spot: str) -> int:
    """How often a line comes in what one dose is counted over: once, or in the whole piece."""
    laps = shape.get("laps") or 1
    return {"opening": 1, "closing": 1, "after_each": laps * turn_lines(shape)}.get(spot, laps)


def conditioning_line(data: Data, printed: Tree, shape: Tree, alone: bool) -> Line:
    """A line of the conditioning; of a pair that takes turns, both work one after the other."""
    movement, tier, ladder = data.movements[printed["movement"]], printed["tier"], shape["ladder"]
    dose = sum(ladder) if ladder else printed["dose"]["value"]
    times = 1 if ladder else comes(shape, printed.get("spot", "turn"))
    people = 1 if alone or shape.get("sharing") != "in_turn" else shape["people"]
    return Line(
        piece="conditioning",
        movement=movement,
        tier=tier if movement["modality"] == "loaded" else "open",
        scheme=None,
        needs=needs_of(data, printed),
        units=dose * times * shape["rounds"] * sides(movement),
        tenths=sum(tenths_of(movement, n, tier) for n in ladder or [dose]) * times * people,
        dose=dose,
        printed=printed,
    )


def round_tenths(day: Day) -> int:
    """A round of the conditioning, or its whole ladder: every line, and the way on from each."""
    lines = [x for x in day.lines if x.piece == "conditioning"]
    shape, passes = day.shape, day.shape.get("laps") or len(day.shape["ladder"]) or 1
    if not shape.get("laps"):
        return sum(x.tenths for x in lines) + passes * len(lines) * WALK
    once = shape["opening"] + shape["closing"]
    return sum(x.tenths for x in lines) + WALK * (
        once + passes * turn_lines(shape) * (1 + shape["after_each"])
    )


def window(shape: Tree, *, floor: bool) -> tuple[int, int]:
    """Least and most tenths of a round; wider in other versions where the clock ends the piece."""
    low, high = shape["window_tenths"]
    if not floor and shape.get("sharing") == "in_turn":
        low, high = low // shape["people"], ceil(Fraction(high, shape["people"]))
    if floor or not shape.get("fixed_minutes"):
        return low, high
    most = 115 if shape.get("every_s") else 150
    return int(Fraction(low * 75, 100)), ceil(Fraction(high * most, 100))


def monday(week: str) -> date:
    """The first day of an ISO week."""
    year, number = week.split("-W")
    return date.fromisocalendar(int(year), int(number), 1)


def earlier(data: Data, history: list[Tree], week: str) -> list[Earlier]:
    """What the weeks before did on their gym floors."""
    out = []
    for before in history:
        weeks = (monday(week) - monday(before["week"])).days // 7
        floor = before["kits"][0]["id"]
        for session in before["sessions"]:
            strength, conditioning = piece_of(session, "strength"), piece_of(session, "conditioning")
            listed: list[Any] = [*strength["versions"][floor]["lines"]]
            lines = [strength_line(data, x) for x in listed if known(data, x)]
            # Doses do not matter for what rests or rotates; a shape may have gone.
            bare = {"ladder": [], "rounds": 1, "movements": 1}
            listed = conditioning["versions"][floor]["lines"]
            lines += [conditioning_line(data, x, bare, alone=False) for x in listed if known(data, x)]
            main = next(x for x in strength["versions"][floor]["lines"] if not x["assistance"])
            out.append(
                Earlier(
                    days_ago=(monday(week) - date.fromisoformat(session["date"])).days,
                    weeks_ago=weeks,
                    lines=lines,
                    format=conditioning["format"],
                    domain=conditioning["domain"],
                    scheme=main["scheme"],
                    rating=session["rating"],
                )
            )
    return out


def known(data: Data, printed: Tree) -> bool:
    """Whether the catalogue still has a line's movement and its scheme."""
    return printed["movement"] in data.movements and printed["scheme"] in {"", *data.schemes}
