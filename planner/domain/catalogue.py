"""What is known about movements, drills, schemes and formats, whatever the gym.

Every class here is one entry of a YAML file under ``shared/catalogue``; the field comments are the
reference for who writes an entry. Nothing derived is stored.
"""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal, get_args

from pydantic import Field, model_validator

from planner.domain.base import Value

Pattern = Literal[
    "squat",
    "hinge",
    "lunge",
    "horizontal_push",
    "vertical_push",
    "horizontal_pull",
    "vertical_pull",
    "carry",
    "trunk",
    "jump",
    "cyclic",
]
PATTERNS: tuple[Pattern, ...] = get_args(Pattern)
Modality = Literal["loaded", "bodyweight", "cyclic"]
Unit = Literal["reps", "metres", "calories", "seconds"]
Tier = Literal["open", "light", "moderate", "heavy"]
"""How heavy a dose is for its movement; ``open`` where there is no load to choose."""
Sides = Literal["both", "alternating", "per_side"]
Role = Literal["main", "assistance", "conditioning"]
Goal = Literal["strength", "power", "hypertrophy", "skill", "assistance"]
Prepared = Literal[
    "ankles", "calves", "knees", "hips", "hamstrings", "trunk", "thoracic_spine", "shoulders", "overhead",
    "wrists", "grip", "front_rack", "landing", "pulse",
]  # fmt: skip
Phase = Literal["raise", "activate", "mobilise", "potentiate"]
DomainName = Literal["short", "medium", "long"]

Id = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")]


class Item(Value):
    """One kind of equipment.

    Attributes:
        id: stable name.
        name: as a coach says it, singular.
        plural: as a coach says it, plural.
        loaded: whether it is a load in the hands, of which an athlete has one in a piece.
        large: whether it is a station that people would have to queue for.
        by_mass: whether the gym counts it by mass in kg.
        space: room rather than a thing to own: a run outside, a wall. A gym has it or not.
        load_range: how much load it can be: 0 none, 1 one small load, 2 a large one or a pair, 3 a bar.
    """

    id: Id
    name: str
    plural: str
    loaded: bool = False
    large: bool = False
    by_mass: bool = False
    space: bool = False
    load_range: int = Field(0, ge=0, le=3)


class LoadLimit(Value):
    """A ceiling on the load because of how the bar gets to where it is needed.

    Attributes:
        of: the reference lift that sets it.
        percent: percent of that lift's 1RM.
        because: in a few words, for the sheet.
    """

    of: Id
    percent: int = Field(ge=1, le=150)
    because: str


class Setup(Value):
    """One way to do a movement with the equipment at hand; earlier ones are preferred.

    Attributes:
        needs: the items of equipment, each by id; empty for none.
        start: where the load is taken from.
        limit: the ceiling on the load that this way brings with it.
        how: what changes for the athlete, in a sentence; empty where nothing needs saying.
    """

    needs: tuple[Id, ...] = ()
    start: Literal["rack", "floor", "none"] = "none"
    limit: LoadLimit | None = None
    how: str = ""


class LiftShare(Value):
    """How a movement's 1RM follows from a reference lift.

    Attributes:
        of: a reference lift that gyms test: see ``REFERENCE_LIFTS``.
        percent: the movement's 1RM in percent of it.
        source: where the figure comes from, or ``common practice``, or ``from memory``.
    """

    of: Id
    percent: int = Field(ge=1, le=150)
    source: str


REFERENCE_LIFTS: tuple[str, ...] = (
    "back_squat", "front_squat", "deadlift", "strict_press", "bench_press", "clean_and_jerk", "snatch",
)  # fmt: skip


class Takes(Value):
    """What a movement draws on, so that neighbours do not fight for the same thing.

    Attributes:
        grip: 0 none, 1 some, 2 much.
        overhead: load or body weight on the shoulders overhead, 0 to 2.
        back: the lower back, 0 to 2.
        contacts: landing contacts of stated intensity (jump and land on the feet) for each unit of dose;
            rope skips of low height count nought.
    """

    grip: int = Field(0, ge=0, le=2)
    overhead: int = Field(0, ge=0, le=2)
    back: int = Field(0, ge=0, le=2)
    contacts: int = Field(0, ge=0, le=2)


class Pace(Value):
    """Seconds for each unit of dose, for a typical athlete, fresh.

    Attributes:
        seconds: seconds a unit: a rep (of one side, where it alternates or is per side), a metre, a calorie.
            1.0 where the unit is seconds. ``planner.domain.timing`` doubles a dose that is per side.
        source: published source, or ``common practice``.
        steady_to: size of set up to which that pace is held.
        slower_percent: how much slower, in percent, each unit beyond ``steady_to`` is.
    """

    seconds: float = Field(gt=0, le=120)
    source: str
    steady_to: int = Field(10, ge=1)
    slower_percent: int = Field(10, ge=0, le=200)


class Easier(Value):
    """An easier option and what it changes.

    Attributes:
        to: the movement.
        how: said on the sheet: "from the knees", "step up instead of jumping".
    """

    to: Id
    how: str


class Movement(Value):
    """One movement.

    Attributes:
        id: stable name.
        name: as a coach says it, lower case, singular.
        patterns: shares in percent, adding up to 100; the largest is what the movement is counted as.
        modality: loaded, bodyweight or cyclic (row, run, ride, skip).
        setups: ways to do it, the preferred first. No-kit movements have one with empty ``needs``.
        unit: what its dose is counted in.
        roles: where it may be chosen for the gym floor: as main lift, as assistance to it, in conditioning.
        stands_in: roles that it takes only for another movement, in a kit version that has nothing better. A
            movement with neither is only ever an easier option of another.
        goals: for main lifts, the kinds of scheme it takes.
        doses: for conditioning: the numbers of a round that a coach would write, by tier, ascending. A
            leading 1 says that the movement goes well in a ladder such as 21-15-9.
            ``open`` for bodyweight and cyclic ones; ``light``, ``moderate``, ``heavy`` for loaded ones. For
            ``per_side`` movements a dose is for each side; for ``alternating`` it is the total.
        cap: the most units in a whole piece, all rounds together.
        pace: seconds a unit.
        takes: what it draws on.
        skill: 1 anyone, 2 after some weeks, 3 long practice.
        sides: both together, alternating, or all of one side before the other.
        eccentric: whether lengthening work is deep or unaccustomed enough to count towards soreness.
        lift: reference lift and share, for loads; None where there is no load to compute from a barbell lift.
        kg: where there is no lift to compute from: usual masses for men and women by tier, in kg of one
            implement (of each where two are used); common practice.
        standard: what counts as a rep, one sentence.
        points: points of performance, two or three short ones.
        faults: what usually goes wrong, one or two short ones.
        easier: easier options, nearest first; edges form no cycle.
        prepares: what the warm-up should have prepared.
        cautions: short, only where they matter.
        substitutes: costs set by hand for particular stand-ins, 0 (same) to 100; else computed.
    """

    id: Id
    name: str
    patterns: dict[Pattern, Annotated[int, Field(gt=0, le=100)]]
    modality: Modality
    setups: tuple[Setup, ...] = Field(min_length=1)
    unit: Unit = "reps"
    roles: tuple[Role, ...]
    stands_in: tuple[Role, ...] = ()
    goals: tuple[Goal, ...] = ()
    doses: dict[Tier, tuple[Annotated[int, Field(gt=0)], ...]] = Field(default_factory=dict)
    cap: int = Field(gt=0)
    pace: Pace
    takes: Takes = Takes()
    skill: int = Field(1, ge=1, le=3)
    sides: Sides = "both"
    eccentric: bool = False
    lift: LiftShare | None = None
    kg: dict[Tier, tuple[float, float]] = Field(default_factory=dict)
    standard: str = Field(min_length=8)
    points: tuple[str, ...] = Field(min_length=1, max_length=4)
    faults: tuple[str, ...] = ()
    easier: tuple[Easier, ...] = ()
    prepares: tuple[Prepared, ...] = Field(min_length=1)
    cautions: tuple[str, ...] = ()
    substitutes: dict[Id, Annotated[int, Field(ge=0, le=100)]] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _hangs_together(self) -> Movement:
        if sum(self.patterns.values()) != 100:  # noqa: PLR2004  (percent)
            raise ValueError(f"patterns add up to {sum(self.patterns.values())}, they must add up to 100")
        if "conditioning" in self.all_roles and not self.doses:
            raise ValueError("a conditioning movement needs doses")
        if "main" in self.all_roles and not self.goals:
            raise ValueError("a main lift needs goals: which kinds of scheme it takes")
        loaded = self.modality == "loaded"
        if self.doses and loaded == ("open" in self.doses):
            raise ValueError(
                "doses of a loaded movement go under light, moderate, heavy; those of all others under open"
            )
        if loaded and not (self.lift or self.kg):
            raise ValueError("a loaded movement needs lift (share of a reference lift) or kg (usual masses)")
        for tier, numbers in self.doses.items():
            if list(numbers) != sorted(set(numbers)):
                raise ValueError(f"doses.{tier} must ascend")
            if numbers and numbers[-1] > self.cap:
                raise ValueError(f"doses.{tier} has {numbers[-1]}, more than the cap of {self.cap}")
        return self

    @property
    def all_roles(self) -> tuple[Role, ...]:
        """Roles on the gym floor, and those in which it only stands in."""
        return self.roles + self.stands_in

    @cached_property
    def main_pattern(self) -> Pattern:
        """The pattern with the largest share; the first in catalogue order where two are equal."""
        return max(self.patterns, key=lambda p: (self.patterns[p], -PATTERNS.index(p)))

    def share_of(self, pattern: str) -> int:
        """Percent of a pattern in it; 0 where it is none of its patterns."""
        return next((share for name, share in self.patterns.items() if name == pattern), 0)


class Drill(Value):
    """One warm-up or cool-down drill.

    Attributes:
        id: stable name.
        name: as said to a class.
        phase: raise the pulse, activate, mobilise, or potentiate (Jeffreys 2007); a drill that only
            mobilises also serves the cool-down where ``calm`` is set.
        prepares: what it prepares.
        dose: as said: "10 each side", "60 seconds".
        seconds: how long it takes a class.
        needs: equipment; empty for none.
        calm: whether it suits the cool-down.
        point: one thing to say.
    """

    id: Id
    name: str
    phase: Phase
    prepares: tuple[Prepared, ...] = Field(min_length=1)
    dose: str
    seconds: int = Field(ge=10, le=300)
    needs: tuple[Id, ...] = ()
    calm: bool = False
    point: str = ""


class Scheme(Value):
    """Sets, reps, load and rest of a strength piece.

    Attributes:
        id: stable name.
        name: "three sets of eight across".
        goal: what it is for.
        sets: work sets.
        reps: reps of each set (of each side where the movement is per side), or seconds, or metres.
        unit: what ``reps`` counts; the movement's unit must be the same.
        tier: how heavy: ``heavy`` counts as heavy work on the pattern.
        reserve: reps left in reserve on each set; with ``reps`` it gives percent of 1RM by the table.
        percent: percent of 1RM where reps in reserve do not apply (power, skill); overrides ``reserve``.
        rest_s: rest after each work set, seconds.
        build_up: sets before the work sets, as (percent of the work load, reps).
        across: the same load on each work set.
        effort: what it adds to the session's expected rating, 0 to 4.
        seconds_per_rep: controlled tempo of a rep, all phases.
        limited: what to do where the load cannot be had: tempo, reps and reserve, in a sentence.
        limited_reps: reps of each set there.
        say: the point of the piece in one line.
        class_at_most: minutes of the longest class that it is offered to: for want of a longer one.
    """

    id: Id
    name: str
    goal: Goal
    sets: int = Field(ge=1, le=12)
    reps: int = Field(ge=1, le=60)
    unit: Unit = "reps"
    tier: Tier
    reserve: int | None = Field(None, ge=0, le=8)
    percent: int | None = Field(None, ge=30, le=100)
    rest_s: int = Field(ge=0, le=300)
    build_up: tuple[tuple[int, int], ...] = ()
    across: bool = True
    effort: int = Field(ge=0, le=4)
    seconds_per_rep: float = Field(gt=0, le=10)
    limited: str
    limited_reps: int = Field(ge=1, le=60)
    say: str

    class_at_most: int = 120

    @property
    def seconds(self) -> int:
        """Length in seconds: build-up sets with a minute after each, then work sets with their rests."""
        build = sum(reps * self.seconds_per_rep + 60 for _, reps in self.build_up)
        work = self.sets * self.reps * self.seconds_per_rep + (self.sets - 1) * self.rest_s
        return round(build + work)


class TimeDomain(Value):
    """A range of working time.

    Attributes:
        id: short, medium or long.
        name: for the sheet.
        stimulus: what it is for: "hard and short, mostly without oxygen".
        seconds: least and most predicted finish of a typical athlete.
        fatigue_percent: how much longer the whole takes than its parts, fresh; common practice.
    """

    id: DomainName
    name: str
    stimulus: str
    seconds: tuple[int, int]
    fatigue_percent: int = Field(ge=0, le=50)


class Shape(Value):
    """One fixed way in which a conditioning piece can run: what the solver picks from.

    Attributes:
        id: unique: ``amrap_12_3x4``.
        format: id of the format it comes from.
        rounds: by how much a dose is multiplied over the piece: rounds, or expected rounds; 1 for a ladder
            or a chipper, whose dose is the total.
        movements: number of movements.
        domain: time domain.
        window_tenths: least and most tenths of a second of one round, transitions included
            (``planner.domain.timing.round_tenths``).
        fixed_minutes: length where the clock decides, else None (for time).
        cap_minutes: minutes on the class clock, all heats.
        effort: what it adds to the session's expected rating, 0 to 5.
        stations: whether the class can start spread over the movements (each then holds a share of it).
        heats: in how many heats the class can run inside ``cap_minutes``.
        station_s: for formats where each movement has a time slot: least and most seconds of work of one.
        every_s: for formats where each round has a time slot: its length in seconds, rest included.
        ladder: reps of each rung, empty if none.
        title: "4 rounds for time", "12 minutes, as many rounds as possible".
    """

    id: Id
    format: Id
    rounds: int = Field(ge=1)
    movements: int = Field(ge=1, le=6)
    domain: DomainName
    window_tenths: tuple[int, int]
    fixed_minutes: int | None = None
    cap_minutes: int = Field(ge=1, le=60)
    effort: int = Field(ge=0, le=5)
    stations: bool = False
    heats: int = Field(1, ge=1, le=3)
    station_s: tuple[int, int] | None = None
    every_s: int | None = None
    ladder: tuple[int, ...] = ()
    title: str

    @property
    def turns(self) -> int:
        """How often the athlete goes through all movements: rounds, or rungs."""
        return len(self.ladder) or self.rounds


class Format(Value):
    """A kind of conditioning piece.

    Attributes:
        id: stable name.
        name: for the sheet.
        how: how it runs, one or two sentences for an athlete.
        score: how the result is written down.
        timed: ``for_time`` (finish), ``fixed`` (the clock ends it).
        shapes: its shapes.
    """

    id: Id
    name: str
    how: str
    score: str
    timed: Literal["for_time", "fixed"]
    shapes: tuple[Shape, ...] = Field(min_length=1)


class Catalogue(Value):
    """Everything known, whatever the gym; each dict is by id, in file order."""

    items: dict[str, Item]
    movements: dict[str, Movement]
    drills: dict[str, Drill]
    schemes: dict[str, Scheme]
    domains: dict[str, TimeDomain]
    formats: dict[str, Format]

    @cached_property
    def shapes(self) -> dict[str, Shape]:
        """All shapes of all formats by id."""
        return {shape.id: shape for form in self.formats.values() for shape in form.shapes}
