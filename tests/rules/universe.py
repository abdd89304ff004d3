"""Tiny gyms and catalogues, small enough to write down every week that they allow.

There are four movements: a loaded squat, a press that is also assistance, a row, and a hop without kit. One
shape is short and has one movement; another is middle, has two, and runs over four or five rounds. Tests
vary this by ``replace`` and by the arguments of ``universe``.

A day is written as ``squat/heavy + press | pair: squat.light 5, hop 10``: main lift and scheme, assistance,
then the conditioning's shape and its movements with load and dose. The dose may be left out where it does not
matter.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from planner.domain import clock
from planner.domain.catalogue import Catalogue, Format, Item, Pace, Scheme, Setup, Shape, Takes, TimeDomain
from planner.domain.gym import Day, Gym
from planner.domain.line import LineFacts, PlannedLine, line_units
from planner.domain.timing import line_tenths, session_rating
from planner.problem.problem import Problem, assemble_problem
from planner.rules import RULE_ADAPTER, Rule
from planner.rules.base import AuditDay, PastLine, PastSession
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
    )
    return {s.id: s for s in entries}


@cache
def catalogue(
    only_movements: tuple[str, ...] = ("squat", "press", "row", "hop"),
    only_schemes: tuple[str, ...] = ("heavy", "quick"),
    only_shapes: tuple[str, ...] = ("dash", "pair", "pair5"),
) -> Catalogue:
    """The tiny catalogue, thinned to what a test needs."""
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
        movements={i: m for i, m in movements().items() if i in only_movements},
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
    """Two racks, four bars with plates and two rowers for eight people."""
    known = {"bare": BARE, "bar": BAR}
    return builders.gym(
        days=days,
        inventory={"rack": 2, "rower": 2, "barbell": {20: 4}, "plate": PLATES},
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
    """One day of the gym floor from its text; every movement gets a dose of nought where none is written."""
    strength, _, conditioning = (part.strip() for part in text.partition("|"))
    shape_id, _, listed = (part.strip() for part in conditioning.partition(":"))
    shape = problem.catalogue.shapes[shape_id]
    main, *beside = (part.strip() for part in strength.split("+"))
    lift, _, scheme = main.partition("/")
    lines = [strength_line(problem, "main", lift, scheme)]
    lines += [strength_line(problem, "assistance", name, "beside") for name in beside]
    lines += [_written_line(problem, part.strip(), shape) for part in listed.split(",")]
    chosen = problem.catalogue.schemes[scheme]
    return AuditDay(
        day=day,
        lines=tuple(lines),
        shape=shape,
        rating=session_rating(chosen, shape),
        clock_minutes=clock.session_minutes(chosen, bool(beside), shape),
        window_tenths=shape.window_tenths,
    )


def written_week(problem: Problem, *texts: str) -> tuple[AuditDay, ...]:
    """A week of the gym floor, one text for each open day."""
    return tuple(written_day(problem, day, t) for day, t in zip(problem.gym.days, texts, strict=True))


def strength_line(problem: Problem, piece: str, movement: str, scheme: str) -> PlannedLine:
    facts = facts_of(problem, piece, movement, scheme)
    assert facts.scheme is not None
    units = line_units(facts.movement, facts.scheme.reps, facts.scheme.sets)
    return PlannedLine(facts, facts.scheme.reps, units, 0)


def _written_line(problem: Problem, text: str, shape: Shape) -> PlannedLine:
    name, _, dose = text.partition(" ")
    movement, _, tier = name.partition(".")
    facts = facts_of(problem, "conditioning", movement, tier or "open")
    n = int(dose or 0)
    tenths = line_tenths(facts.movement, n, facts.tier, shape.ladder)
    return PlannedLine(facts, n, line_units(facts.movement, n, shape.rounds), tenths)


def facts_of(problem: Problem, piece: str, movement: str, kind: str) -> LineFacts:
    """The line of the gym floor with that movement, and that scheme or load."""
    options = problem.options
    for c in (*options.main, *options.assistance, *options.conditioning):
        f = c.facts
        if (
            f.piece == piece
            and f.movement.id == movement
            and kind in (f.tier, f.scheme.id if f.scheme else "")
        ):
            return f
    raise LookupError(f"no {piece} of {movement} as {kind}")


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
