"""A catalogue and a gym in memory: one small gym that has everything the tests ask about."""

from __future__ import annotations

import csv
from pathlib import Path

from planner.domain.catalogue import (
    Catalogue,
    Drill,
    Format,
    Item,
    LiftShare,
    LoadLimit,
    Movement,
    Pace,
    Scheme,
    Setup,
    Shape,
    Takes,
    TimeDomain,
)
from planner.domain.gym import Gym
from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine, VersionPlan
from planner.domain.week import Proof

REFERENCE = Path(__file__).resolve().parents[2] / "shared" / "reference"
KITS = ("floor", "home_barbell", "one_plate", "no_kit")
CLEAN_FIRST = LoadLimit(of="clean_and_jerk", percent=85, because="it must be cleaned first")
RACK = Setup(needs=("barbell", "rack"), start="rack")
FLOOR = Setup(needs=("barbell",), start="floor", limit=CLEAN_FIRST, how="Clean it first.")
BAR = Setup(needs=("barbell",), start="floor")


def table(name: str) -> list[dict[str, str]]:
    """Rows of a reference table; its first line is the source."""
    lines = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("# source:")
    return list(csv.DictReader(lines[1:]))


def movement(id_: str, **changes) -> Movement:
    """A movement with the fields that a test does not care about filled in."""
    fields = {
        "id": id_,
        "name": id_.replace("_", " "),
        "patterns": {"squat": 100},
        "modality": "bodyweight",
        "setups": (Setup(),),
        "roles": ("main", "assistance", "conditioning"),
        "goals": ("strength",),
        "doses": {"open": (5, 10, 15, 20)},
        "cap": 200,
        "pace": Pace(seconds=2, source="common practice", steady_to=50),
        "standard": "Hips below the knees, then tall.",
        "points": ("chest up",),
        "prepares": ("hips",),
    }
    if changes.get("modality") == "loaded":
        fields["doses"] = {"light": (5, 10, 15, 20), "moderate": (5, 10), "heavy": (3, 5)}
    return Movement.model_validate({**fields, **changes})


def lift(id_: str, of: str, percent: int, setups=(BAR,), **changes) -> Movement:
    """A barbell movement."""
    share = LiftShare(of=of, percent=percent, source="test")
    return movement(id_, modality="loaded", lift=share, setups=setups, **changes)


def scheme(id_: str = "four_by_five", **changes) -> Scheme:
    """Four sets of five across, unless changed."""
    fields = {
        "id": id_,
        "name": "Four sets of five across",
        "goal": "strength",
        "sets": 4,
        "reps": 5,
        "tier": "heavy",
        "reserve": 1,
        "rest_s": 120,
        "build_up": ((55, 5), (75, 3), (90, 1)),
        "effort": 3,
        "seconds_per_rep": 3,
        "limited": "three seconds down; one rep in reserve",
        "limited_reps": 9,
        "say": "One weight, four good sets.",
    }
    return Scheme.model_validate({**fields, **changes})


def shape(id_: str = "four_rounds", **changes) -> Shape:
    """Four rounds of three for time, unless changed."""
    fields = {
        "id": id_,
        "format": "rounds_for_time",
        "rounds": 4,
        "movements": 3,
        "domain": "medium",
        "window_tenths": (0, 9999),
        "cap_minutes": 17,
        "effort": 4,
        "stations": True,
        "title": "4 rounds for time",
    }
    return Shape.model_validate({**fields, **changes})


def items() -> dict[str, Item]:
    entries = (
        Item(id="barbell", name="barbell", plural="barbells", loaded=True, by_mass=True),
        Item(id="rack", name="rack", plural="racks"),
        Item(id="plate", name="plate", plural="plates", loaded=True, by_mass=True),
        Item(id="kettlebell", name="kettlebell", plural="kettlebells", loaded=True, by_mass=True),
        Item(id="dumbbell_pair", name="pair of dumbbells", plural="pairs", loaded=True, by_mass=True),
        Item(id="rower", name="rower", plural="rowers", large=True),
        Item(id="run_route", name="run outside", plural="runs outside", space=True),
    )
    return {item.id: item for item in entries}


def movements() -> dict[str, Movement]:
    entries = (
        lift("back_squat", "back_squat", 100, (RACK, FLOOR), easier=({"to": "air_squat", "how": "no bar"},)),
        lift("front_squat", "front_squat", 100, (RACK, FLOOR)),
        lift("push_press", "strict_press", 125, (RACK, BAR), patterns={"vertical_push": 100}),
        lift("deadlift", "deadlift", 100, patterns={"hinge": 100}),
        lift("power_snatch", "snatch", 88, patterns={"hinge": 70, "vertical_push": 30}),
        movement("air_squat"),
        movement("burpee", patterns={"horizontal_push": 50, "jump": 50}, takes=Takes(contacts=1)),
        movement("bar_hop", setups=(Setup(needs=("barbell",)), Setup()), patterns={"jump": 100}),
        movement("split_squat", sides="per_side", patterns={"lunge": 100}),
        movement("row", modality="cyclic", unit="metres", setups=(Setup(needs=("rower",)),), cap=5000,
                 doses={"open": (250, 500)}, pace=Pace(seconds=0.25, source="test", steady_to=1000),
                 patterns={"cyclic": 100}, prepares=("pulse",)),
        movement("run", modality="cyclic", unit="metres", setups=(Setup(needs=("run_route",)),), cap=5000,
                 doses={"open": (200, 400)}, pace=Pace(seconds=0.3, source="test", steady_to=1000),
                 patterns={"cyclic": 100}, prepares=("pulse",)),
        movement("plate_squat", modality="loaded", setups=(Setup(needs=("plate",)),),
                 kg={"light": (15, 10), "moderate": (20, 15)}),
        movement("swing", modality="loaded", setups=(Setup(needs=("kettlebell",)),), patterns={"hinge": 100},
                 kg={"light": (16, 12), "heavy": (32, 24)}),
        movement("two_presses", modality="loaded", setups=(Setup(needs=("dumbbell_pair",)),),
                 patterns={"vertical_push": 100}, kg={"light": (13, 9)}),
    )  # fmt: skip
    return {m.id: m for m in entries}


def drills() -> dict[str, Drill]:
    rows = (
        ("jog", "raise", ("pulse", "ankles"), 60),
        ("jacks", "raise", ("pulse", "shoulders"), 45),
        ("bridge", "activate", ("hips",), 45),
        ("plank", "activate", ("trunk",), 40),
        ("ankle_rocks", "mobilise", ("ankles",), 40),
        ("spine_turns", "mobilise", ("thoracic_spine", "shoulders"), 45),
        ("slow_squats", "potentiate", ("hips", "knees", "ankles"), 60),
        ("pogo_hops", "potentiate", ("landing",), 40),
    )
    made = [Drill(id=i, name=i, phase=p, prepares=w, dose="10", seconds=s) for i, p, w, s in rows]
    made += [
        Drill(id=i, name=i, phase="mobilise", prepares=w, dose="40 seconds", seconds=50, calm=True)
        for i, w in (("hip_stretch", ("hips",)), ("calf_stretch", ("calves",)), ("breathing", ("pulse",)))
    ]
    made.append(Drill(id="easy_row", name="easy row", phase="raise", prepares=("pulse", "hips", "grip"),
                      dose="2 minutes", seconds=120, needs=("rower",)))  # fmt: skip
    return {d.id: d for d in made}


def catalogue() -> Catalogue:
    domain = TimeDomain(
        id="medium", name="middle", stimulus="A hard, even pace.", seconds=(480, 780), fatigue_percent=8
    )
    rounds = Format(id="rounds_for_time", name="rounds for time", how="In order.", score="Your time.",
                    timed="for_time", shapes=(shape(),))  # fmt: skip
    amrap = Format(
        id="as_many_rounds", name="as many rounds as possible", how="Keep moving.", score="Rounds and reps.",
        timed="fixed",
        shapes=(shape("amrap", format="as_many_rounds", fixed_minutes=12, cap_minutes=12,
                      title="12 minutes, as many rounds as possible"),),
    )  # fmt: skip
    schemes = (
        scheme(),
        scheme(
            "beside",
            name="Three sets of ten",
            goal="assistance",
            sets=3,
            reps=10,
            tier="light",
            reserve=3,
            build_up=(),
            effort=0,
        ),
    )
    return Catalogue(
        items=items(),
        movements=movements(),
        drills=drills(),
        schemes={s.id: s for s in schemes},
        domains={"medium": domain},
        formats={f.id: f for f in (rounds, amrap)},
    )


def gym(**changes) -> Gym:
    """The bars, plates and athletes of the demo gym, and fewer other things."""
    fields = {
        "name": "Small Place (invented)",
        "invented": True,
        "days": ("mon", "wed", "fri"),
        "class": {"size": 12, "minutes": 55},
        "inventory": {
            "rack": 4, "rower": 4, "run_route": 12,
            "barbell": {20: 8, 15: 6},
            "plate": {20: 12, 15: 12, 10: 24, 5: 24, 2.5: 16, 1.25: 16},
            "kettlebell": {8: 6, 12: 8, 16: 8, 24: 6, 32: 2},
            "dumbbell_pair": {10: 3, 12.5: 3, 15: 4},
        },
        "kits": (
            {"id": "floor", "name": "Gym floor", "contains": ("everything",)},
            {"id": "home_barbell", "name": "Barbell at home", "contains": ("barbell", "plate", "run_route")},
            {"id": "one_plate", "name": "One plate", "contains": ("plate",), "kg": {"plate": (15, 10)}},
            {"id": "no_kit", "name": "No kit"},
        ),
        "athletes": (
            {"id": "man", "name": "Reference man", "bar_kg": 20, "lifts": {
                "back_squat": 120, "front_squat": 102.5, "deadlift": 145, "strict_press": 60,
                "bench_press": 90, "clean_and_jerk": 90, "snatch": 70}},
            {"id": "woman", "name": "Reference woman", "bar_kg": 15, "lifts": {
                "back_squat": 80, "front_squat": 67.5, "deadlift": 97.5, "strict_press": 37.5,
                "bench_press": 52.5, "clean_and_jerk": 60, "snatch": 47.5}},
        ),
    }  # fmt: skip
    return Gym.model_validate({**fields, **changes})


def version(
    strength: tuple[tuple[str, bool], ...], conditioning: tuple[tuple[str, int, str], ...]
) -> VersionPlan:
    """Lines of one kit version: (movement, assistance) and (movement, dose, tier)."""
    return VersionPlan(
        strength=tuple(
            StrengthLine(movement=m, scheme="beside" if beside else "four_by_five", assistance=beside)
            for m, beside in strength
        ),
        conditioning=tuple(ConditioningLine(movement=m, dose=n, tier=t) for m, n, t in conditioning),
    )


def plan(week: str = "2026-W49") -> Plan:
    """A heavy squat day, and a day with a piece that the clock ends."""
    squat = {
        "floor": version(
            (("back_squat", False), ("split_squat", True)),
            (("front_squat", 6, "light"), ("push_press", 10, "light"), ("power_snatch", 8, "light")),
        ),
        "home_barbell": version(
            (("back_squat", False), ("split_squat", True)),
            (("front_squat", 6, "light"), ("push_press", 10, "light"), ("power_snatch", 8, "light")),
        ),
        "one_plate": version(
            (("plate_squat", False), ("split_squat", True)),
            (("plate_squat", 15, "light"), ("burpee", 10, "open"), ("air_squat", 20, "open")),
        ),
        "no_kit": version(
            (("split_squat", False), ("split_squat", True)),
            (("air_squat", 15, "open"), ("burpee", 10, "open"), ("split_squat", 10, "open")),
        ),
    }
    row = {
        kit: version((("front_squat" if "bar" in kit or kit == "floor" else "air_squat", False),),
                     ((cyclic, 250, "open"), ("burpee", 10, "open"), ("air_squat", 15, "open")))
        for kit, cyclic in zip(KITS, ("row", "run", "burpee", "burpee"), strict=True)
    }  # fmt: skip
    return Plan(
        week=week,
        sessions=(
            SessionPlan(day="mon", shape="four_rounds", versions=squat),
            SessionPlan(day="wed", shape="amrap", versions=row),
        ),
    )


def proof() -> Proof:
    return Proof(tiers=(), seed=1, solver="none", seconds=0, variables=0, constraints=0)
