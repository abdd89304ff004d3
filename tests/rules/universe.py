"""Tiny gyms and catalogues, small enough to write down every week that they allow.

There are four movements: a loaded squat, a press that is also assistance, a row, and a hop without kit. One
shape is short and has one movement; another is middle, has two, and runs over four or five rounds. Tests
vary this by ``replace`` and by the arguments of ``universe``. On request there are a leap that is done on
each side, a swing with bells of two loads, a piece in heats that has no stations, one of three movements,
and a long one.

A day is written as ``squat/heavy + press | pair: squat.light 5, hop 10``: main lift and scheme, assistance,
then the conditioning's shape and its movements with load and dose. The dose may be left out where it does not
matter.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from planner.domain.catalogue import (
    Catalogue,
    Format,
    Item,
    Pace,
    Scheme,
    Setup,
    Shape,
    Takes,
    Tier,
    TimeDomain,
)
from planner.domain.gym import Day, Gym
from planner.domain.line import LineFacts, LinePiece, PlannedLine
from planner.problem.problem import Problem, assemble_problem
from planner.rules import RULE_ADAPTER, Rule
from planner.rules.base import AuditDay, PastLine, PastSession
from tests.measured import week as measured
from tests.measured.data import Data, Tree, from_values
from tests.measured.hold import setup_at_hand
from tests.measured.rules import implement, load_of, near_at_hand, takes
from tests.measured.week import Line
from tests.prescribe import builders

WEEK = "2026-W49"
FLOOR = {"id": "floor", "name": "Gym floor", "contains": ("everything",)}
BARE = {"id": "bare", "name": "No kit"}
BAR = {"id": "bar", "name": "Barbell at home", "contains": ("barbell", "plate")}
PLATES = {20: 16, 10: 16, 5: 16, 2.5: 16}
RACK_SETUP = Setup(needs=("barbell", "rack"), start="rack")
BAR_SETUP = Setup(needs=("barbell",), start="floor")


def items() -> dict[str, Item]:
    entries = (
        Item(id="barbell", name="barbell", plural="barbells", loaded=True, by_mass=True),
        Item(id="rack", name="rack", plural="racks"),
        Item(id="plate", name="plate", plural="plates", loaded=True, by_mass=True),
        Item(id="rower", name="rower", plural="rowers", large=True),
        Item(id="kettlebell", name="kettlebell", plural="kettlebells", loaded=True, by_mass=True),
    )
    return {x.id: x for x in entries}


def movements() -> dict:
    entries = (
        builders.lift(
            "squat",
            "back_squat",
            100,
            (RACK_SETUP, BAR_SETUP),
            roles=("main", "conditioning"),
            goals=("strength", "power"),
            doses={"light": (5, 10), "heavy": (3,)},
            takes=Takes(back=2),
            eccentric=True,
        ),
        builders.lift(
            "press",
            "strict_press",
            100,
            (BAR_SETUP,),
            roles=("main", "assistance"),
            goals=("strength",),
            doses={"light": (5,)},
            patterns={"vertical_push": 70, "trunk": 30},
            takes=Takes(overhead=2),
        ),
        builders.movement(
            "row",
            modality="cyclic",
            unit="metres",
            setups=(Setup(needs=("rower",)),),
            roles=("conditioning",),
            doses={"open": (125, 250)},
            cap=5000,
            pace=Pace(seconds=0.25, source="test", steady_to=1000),
            patterns={"cyclic": 100},
            takes=Takes(grip=1),
        ),
        builders.movement(
            "hop",
            roles=("conditioning",),
            stands_in=("main", "assistance"),
            doses={"open": (5, 10)},
            patterns={"jump": 60, "squat": 40},
            takes=Takes(contacts=1),
            skill=2,
            sides="alternating",
        ),
    )
    return {m.id: m for m in entries}


def more_movements() -> dict:
    """One done on each side, which lands twice; a second loaded one of two loads; a second row."""
    entries = (
        builders.movement(
            "sprint",
            modality="cyclic",
            unit="calories",
            setups=(Setup(needs=("rower",)),),
            roles=("conditioning",),
            doses={"open": (10,)},
            patterns={"cyclic": 100},
        ),
        builders.movement(
            "leap",
            roles=("conditioning",),
            doses={"open": (4, 8)},
            patterns={"jump": 60, "lunge": 40},
            takes=Takes(contacts=2),
            sides="per_side",
            pace=Pace(seconds=1.5, source="test", steady_to=6, slower_percent=20),
        ),
        builders.movement(
            "swing",
            modality="loaded",
            setups=(Setup(needs=("kettlebell",)),),
            roles=("conditioning",),
            doses={"light": (10,), "heavy": (5, 8)},
            kg={"light": (16, 12), "heavy": (25, 24)},
            patterns={"hinge": 100},
            takes=Takes(grip=2, back=1),
        ),
    )
    return {m.id: m for m in entries}


def schemes() -> dict[str, Scheme]:
    entries = (
        builders.scheme("heavy", sets=5, reps=3, rest_s=150, build_up=(), effort=3),
        builders.scheme(
            "quick", sets=3, reps=2, tier="moderate", goal="power", rest_s=60, build_up=(), effort=1
        ),
        builders.scheme("beside", sets=3, reps=8, tier="light", goal="assistance", build_up=(), effort=0),
    )
    return {s.id: s for s in entries}


def shapes() -> dict[str, Shape]:
    pair = {"format": "as_many_rounds", "movements": 2, "effort": 3, "cap_minutes": 12, "fixed_minutes": 12}
    entries = (
        builders.shape(
            "dash", rounds=3, movements=1, domain="short", effort=5, cap_minutes=9, heats=2, stations=False
        ),
        builders.shape("pair", rounds=4, **pair),
        builders.shape("pair5", rounds=5, **pair),
        builders.shape("trio", **{**pair, "movements": 3}),
        builders.shape("mile", rounds=2, movements=1, domain="long", effort=4, cap_minutes=20),
        builders.shape("waves", **{**pair, "rounds": 3, "heats": 2, "cap_minutes": 24, "stations": False}),
    )
    return {s.id: s for s in entries}


@cache
def catalogue(
    only_movements: tuple[str, ...] = ("squat", "press", "row", "hop"),
    only_schemes: tuple[str, ...] = ("heavy", "quick"),
    only_shapes: tuple[str, ...] = ("dash", "pair", "pair5"),
    mains_alone: tuple[str, ...] = (),
) -> Catalogue:
    """The tiny catalogue, thinned to what a test needs; some main lifts not in the conditioning as well."""
    kept = {i: m for i, m in (movements() | more_movements()).items() if i in only_movements}
    kept |= {i: kept[i].model_copy(update={"roles": ("main",)}) for i in mains_alone}
    chosen = [s for s in shapes().values() if s.id in only_shapes]
    formats = [
        Format(
            id=i,
            name=i.replace("_", " "),
            how="Go.",
            score="Time.",
            timed=timed,
            shapes=tuple(s for s in chosen if s.format == i),
        )
        for i, timed in (("rounds_for_time", "for_time"), ("as_many_rounds", "fixed"))
        if any(s.format == i for s in chosen)
    ]
    domains = [
        TimeDomain(id=i, name=i, stimulus="work", seconds=(60, 900), fatigue_percent=5)
        for i in ("short", "medium", "long")
    ]
    return Catalogue(
        items=items(),
        movements=kept,
        drills={},
        schemes={i: s for i, s in schemes().items() if i in only_schemes},
        domains={d.id: d for d in domains},
        formats={f.id: f for f in formats},
    )


def with_windows(made: Catalogue, windows: dict[str, tuple[int, int]]) -> Catalogue:
    """The catalogue with other windows, in tenths of a second of a round, for some of its shapes."""
    formats = {}
    for form in made.formats.values():
        own = tuple(
            s.model_copy(update={"window_tenths": windows.get(s.id, s.window_tenths)}) for s in form.shapes
        )
        formats[form.id] = form.model_copy(update={"shapes": own})
    return made.model_copy(update={"formats": formats})


@cache
def gym(
    days: tuple[Day, ...] = ("mon", "tue"), kits: tuple[str, ...] = (), size: int = 8, minutes: int = 55
) -> Gym:
    """Two racks, four bars with plates, two rowers for eight; three bells near light, four near heavy."""
    known = {"bare": BARE, "bar": BAR}
    return builders.gym(
        days=days,
        inventory={
            "rack": 2,
            "rower": 2,
            "barbell": {20: 4},
            "plate": PLATES,
            "kettlebell": {7: 9, 12: 2, 16: 1, 24: 3, 32: 9},
        },
        kits=(FLOOR, *(known[k] for k in kits)),
        **{"class": {"size": size, "minutes": minutes}},
    )


def universe(
    rules: tuple[Rule, ...] = (),
    past: tuple[PastSession, ...] = (),
    a_catalogue: Catalogue | None = None,
    a_gym: Gym | None = None,
    seed: int = 1,
) -> Problem:
    """A tiny problem."""
    made = assemble_problem(a_catalogue or catalogue(), a_gym or gym(), rules, (), WEEK, seed)
    return replace(made, facts=replace(made.facts, past=past)) if past else made


def rule(**fields) -> Rule:
    """A rule from the fields of a rule file, with the ones filled in that a test does not care about."""
    return RULE_ADAPTER.validate_python({"id": "the-rule", "because": "the test says so", **fields})


# Weeks as text ------------------------------------------------------------------------------------------


def written_day(problem: Problem, day: Day, text: str) -> AuditDay:
    """One day of the gym floor from its text; every movement gets a dose of nought where none is written.

    Units, times, minutes, rating and what is near at hand come from the second measurement, so that a fault
    in what encoders and audits share is not written into the examples too.
    """
    data = data_of(problem)
    strength, _, conditioning = (part.strip() for part in text.partition("|"))
    shape_id, _, listed = (part.strip() for part in conditioning.partition(":"))
    shape = data.shapes[shape_id]
    main, *beside = (part.strip() for part in strength.split("+"))
    lift, _, scheme = main.partition("/")
    lines = [_strength(problem, "main", lift, scheme)]
    lines += [_strength(problem, "assistance", name, "beside") for name in beside]
    lines += [_conditioning(problem, part.strip(), shape) for part in listed.split(",")]
    chosen = data.schemes[scheme]
    shared = measured.shared_at(data, list(lines[0].facts.needs), data.movements[lift])
    return AuditDay(
        day=day,
        lines=tuple(lines),
        shape=problem.catalogue.shapes[shape_id],
        rating=min(10, 1 + chosen["effort"] + shape["effort"]),
        clock_minutes=sum(n for _, n in measured.blocks(chosen, bool(beside), shape, shared=shared)),
        window_tenths=measured.window(shape, floor=True),
        turning_tenths=50 * (len(shape["ladder"]) or 1) * shape["movements"],
    )


def written_week(problem: Problem, *texts: str) -> tuple[AuditDay, ...]:
    """A week of the gym floor, one text for each open day."""
    return tuple(written_day(problem, day, t) for day, t in zip(problem.gym.days, texts, strict=True))


_kept: dict[int, tuple[Problem, Data]] = {}


def data_of(problem: Problem) -> Data:
    """A problem's catalogue and gym as plain dictionaries."""
    if id(problem) not in _kept:
        _kept[id(problem)] = problem, from_values(problem.catalogue, problem.gym, ())
    return _kept[id(problem)][1]


def _strength(problem: Problem, piece: LinePiece, name: str, scheme_id: str) -> PlannedLine:
    data = data_of(problem)
    entry, scheme = data.movements[name], data.schemes[scheme_id]
    facts = _facts(problem, piece, name, scheme["tier"], problem.catalogue.schemes[scheme_id])
    return PlannedLine(facts, scheme["reps"], scheme["sets"] * scheme["reps"] * measured.sides(entry), 0)


def _conditioning(problem: Problem, text: str, shape: Tree) -> PlannedLine:
    name, _, dose = text.partition(" ")
    name, _, tier = name.partition(".")
    entry, n = data_of(problem).movements[name], int(dose or 0)
    facts = _facts(problem, "conditioning", name, tier or "open", None)
    rungs = shape["ladder"] or [n]
    tenths = sum(measured.tenths_of(entry, rung, tier or "open") for rung in rungs)
    return PlannedLine(facts, n, n * shape["rounds"] * measured.sides(entry), tenths)


def _facts(problem: Problem, piece: LinePiece, name: str, tier: Tier, scheme: Scheme | None) -> LineFacts:
    """A line of the gym floor: its first way of being done, and what of that is near at hand."""
    data = data_of(problem)
    entry = data.movements[name]
    loaded = entry["modality"] == "loaded"
    bare = Line(piece, entry, tier if loaded else "open", None, [], 0, 0, 0, {})
    setup = setup_at_hand(data, data.gym["kits"][0], bare)
    assert setup is not None, f"{name} cannot be done here"
    line = replace(bare, needs=setup.get("needs", []))
    item = implement(data, line)
    return LineFacts(
        piece=piece,
        movement=problem.catalogue.movements[name],
        tier=tier if loaded else "open",
        scheme=scheme,
        needs=tuple(line.needs),
        implement=item,
        large=tuple(i for i in line.needs if data.items[i]["large"]),
        at_hand=near_at_hand(data, line) if item else 0,
        load_class=load_of(data, line, on_floor=True)[1],
        takes=takes(data, line) if piece == "conditioning" else ((), ()),
    )


def past_session(problem: Problem, day: Day, text: str, weeks_ago: int = 1) -> PastSession:
    """A session of an earlier week, from the same text."""
    d = written_day(problem, day, text)
    main = next(x.facts for x in d.lines if x.facts.piece == "main")
    return PastSession(
        days_ago=7 * weeks_ago - d.index,
        weeks_ago=weeks_ago,
        lines=tuple(PastLine(x.facts.movement.id, x.facts) for x in d.lines),
        shape_format=d.shape.format,
        domain=d.shape.domain,
        scheme=main.scheme.id if main.scheme else "",
        rating=d.rating,
    )
