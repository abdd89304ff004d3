"""What is known about movements, drills, schemes and formats, whatever the gym.

Every class here is one entry of a YAML file under ``shared/catalogue``; the field comments are the
reference for who writes an entry. Nothing derived is stored.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple, get_args

from pydantic import Field, field_serializer, model_validator

from planner.domain.base import Id, Unit, Value
from planner.domain.motion import Motion
from planner.domain.sets import ComplexPart, Sets, WorkSet

if TYPE_CHECKING:
    from planner.domain.work import Effort

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
Spot = Literal["opening", "turn", "after_each", "closing"]
"""Where a line comes: once before, in each turn, after each other line of a turn, once at the end."""
Clock = Literal["for_time", "fixed", "every", "work_rest", "as_long"]
"""For time; a fixed length; a start every so many seconds; work and rest in turn; for as long as you can."""
Body = Literal["rounds", "once", "ladder", "any"]
Mark = Literal["once_before", "between", "once_after", "together", "single", "climbing"]
"""What sets a composition apart: lines once before the rounds, after each other line, once at the end; two
or three to do it; a single movement; numbers that climb."""
SetFamily = Literal[
    "across", "ascending", "waves", "back_off", "cluster", "find", "tempo", "paused", "on_the_clock",
    "complex",
]  # fmt: skip
Sharing = Literal["alone", "shared", "in_turn", "mirrored"]
"""Of pairs and threes: a shared total; one works while the others rest; all do the same at once."""


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
        also: other names in general use, singular; where two movements have one, the unit tells them apart.
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
        motion: where body and load go: its row of ``work.yaml``, else what its main pattern does.
    """

    id: Id
    name: str
    also: tuple[Annotated[str, Field(min_length=2, max_length=60)], ...] = ()
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
    motion: Motion | None = None

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

    @cached_property
    def implements(self) -> int:
        """How many of its implement are in the hands: two of a pair, whose mass is said of each."""
        return 2 if any(item.endswith("_pair") for item in self.setups[0].needs) else 1

    @cached_property
    def typical(self) -> Effort | None:
        """What a unit takes of a typical man at a middling load; None if not known."""
        from planner.domain.lifting import typical_effort

        return typical_effort(self)

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

    An entry whose sets are all the same may say them in its own keys: ``sets: 5, reps: 3, reserve: 2,
    rest_s: 135`` is short for ``work`` with five such sets.

    Attributes:
        id: stable name.
        name: "three sets of eight across".
        goal: what it is for.
        work: the work sets. Reps of each side where the movement is per side; of a complex, all its parts in
            turn. The movement's unit must be the same. Percent of 1RM goes before reps in reserve, which with
            the reps give it by the table.
        parts: of a complex: its movements in turn, without putting the bar down; the line's movement is the
            first. Empty for one movement.
        tier: how heavy: ``heavy`` counts as heavy work on the pattern.
        build_up: sets before the work sets, as (percent of the heaviest work load, reps).
        effort: what it adds to the session's expected rating, 0 to 4.
        seconds_per_rep: of a rep of one movement, all phases, where no tempo says it.
        limited: what to do where the load cannot be had: tempo, reps and reserve, in a sentence.
        limited_reps: reps of each set there.
        say: the point of the piece in one line.
        source: where it comes from, or ``common practice``; empty where the head of the file says it.
        drafted: whether drafts may choose it; a session by hand may always.
        class_at_most: minutes of the longest class that it is offered to: for want of a longer one.
    """

    id: Id
    name: str
    goal: Goal
    work: Sets
    parts: tuple[ComplexPart, ...] = Field((), max_length=6)
    tier: Tier
    build_up: tuple[tuple[int, int], ...] = ()
    effort: int = Field(ge=0, le=4)
    seconds_per_rep: float = Field(gt=0, le=10)
    limited: str
    limited_reps: int = Field(ge=1, le=60)
    say: str
    source: str = ""
    drafted: bool = True

    @model_validator(mode="before")
    @classmethod
    def _in_short(cls, data: Any) -> Any:
        if not isinstance(data, dict) or "work" in data or "sets" not in data:
            return data
        count, most = data["sets"], 30
        if not isinstance(count, int) or not 1 <= count <= most:
            raise ValueError(f"sets must be a whole number from 1 to {most}; it is {count}")
        of_set, of_all = WorkSet.model_fields.keys(), Sets.model_fields.keys() - {"sets"}
        one = {key: x for key, x in data.items() if key in of_set}
        work = {key: x for key, x in data.items() if key in of_all} | {"sets": (one,) * count}
        return {key: x for key, x in data.items() if key not in {"sets", *one, *work}} | {"work": work}

    @property
    def sets(self) -> int:
        """Number of work sets."""
        return len(self.work.sets)

    @property
    def reps(self) -> int:
        """Units of each set; of the longest where they are not the same."""
        return self.work.most

    @property
    def family(self) -> SetFamily:
        """What kind of sets it has, by what stands out most."""
        found: dict[SetFamily, bool] = {
            "complex": bool(self.parts),
            "on_the_clock": self.work.every_s is not None,
            "tempo": bool(self.work.tempo),
            "paused": self.work.pause_s is not None,
        }
        return next((name for name, there in found.items() if there), self.work.form)

    @property
    def moves(self) -> int:
        """Reps of single movements in a rep of a set: 1, of a complex all its parts."""
        return sum(part.reps for part in self.parts) or 1

    @property
    def total(self) -> int:
        """Units of the line's movement in all work sets; of a complex, of its first part."""
        return self.work.total * (self.parts[0].reps if self.parts else 1)

    @property
    def unit(self) -> Unit:
        """What the reps count."""
        return self.work.unit

    @property
    def reserve(self) -> int | None:
        """Reps in reserve on each set; None where they are not said, or not the same."""
        return self.work.sets[0].reserve if self.work.alike else None

    @property
    def percent(self) -> int | None:
        """Percent of 1RM of each set; None where it is not said, or not the same."""
        return self.work.sets[0].percent if self.work.alike else None

    @property
    def across(self) -> bool:
        """Whether each work set has the same load, and it is known beforehand."""
        return self.work.form in {"across", "cluster"} and self.work.alike

    @property
    def rest_s(self) -> int:
        """Rest after each work set, seconds; the usual one of its tier where none is said."""
        if self.work.every_s is not None or self.work.practice_s is not None:
            return 0
        return USUAL_REST_S[self.tier] if self.work.rest_s is None else self.work.rest_s

    @property
    def limited_sets(self) -> int:
        """Work sets where the load cannot be had."""
        return TRIES if self.work.form == "find" else self.sets

    def set_seconds(self, reps: int) -> float:
        """Seconds of work in a set: its reps at their tempo, with pauses and the rests inside a cluster."""
        if self.work.practice_s is not None:
            return self.work.practice_s
        tempo = self.work.tempo_seconds
        a_rep = self.seconds_per_rep if tempo is None else tempo
        return reps * (self.moves * a_rep + (self.work.pause_s or 0)) + self.work.within_seconds

    class_at_most: int = 120

    @property
    def finds(self) -> bool:
        """Whether one heavy set is looked for."""
        return self.work.form == "find"


TRIES = 3
"""Sets that it takes to find a heavy one, after the build-up; common practice."""
USUAL_REST_S: dict[Tier, int] = {"heavy": 150, "moderate": 120, "light": 75, "open": 60}
"""Seconds; common practice, as in the shipped schemes."""


class TimeDomain(Value):
    """A range of working time.

    Attributes:
        id: short, medium or long.
        name: for the sheet.
        stimulus: what it is for: "hard and short, mostly without oxygen".
        up_to: seconds of work up to which a piece belongs to it, from where the domain before ends; None for
            up to the most that is drafted.
        seconds: least and most predicted finish of a typical athlete in the shapes that are drafted.
        fatigue_percent: how much longer the whole takes than its parts, fresh; common practice.
    """

    id: DomainName
    name: str
    stimulus: str
    up_to: Annotated[int, Field(gt=0)] | None = None
    seconds: tuple[int, int]
    fatigue_percent: int = Field(ge=0, le=50)


class Part(NamedTuple):
    """How a line's dose counts in a piece.

    Attributes:
        spot: where the line comes.
        times: how often, in one of the shape's ``rounds``.
        turns: how many people take turns at it, of whom one works at a time.
        shares: among how many people the dose is shared out.
        ladder: its rungs, where it has one.
        large: whether it comes once in the whole piece, and so takes large doses.
    """

    spot: Spot = "turn"
    times: int = 1
    turns: int = 1
    shares: int = 1
    ladder: tuple[int, ...] = ()
    large: bool = False


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
        slot_s: the length of that slot in seconds, rest included.
        every_s: for formats where each round has a time slot: its length in seconds, rest included.
        ladder: reps of each rung, empty if none.
        title: "4 rounds for time", "12 minutes, as many rounds as possible".
        laps: how often the turn lines are gone through, where ``rounds`` is 1 and doses are counted over the
            whole piece; None where ``rounds`` or the ladder say it.
        opening: how many lines come once before the first turn.
        after_each: how many come after each other line of a turn.
        closing: how many come once at the end.
        rest_s: rest between rounds, seconds.
        people: who does it together.
        sharing: how they share it.
        cap_s: time cap that the coach set, seconds.
    """

    id: Id
    format: Id
    rounds: int = Field(ge=1)
    movements: int = Field(ge=1, le=20)
    domain: DomainName
    window_tenths: tuple[int, int]
    fixed_minutes: int | None = None
    cap_minutes: int = Field(ge=1, le=60)
    effort: int = Field(ge=0, le=5)
    stations: bool = False
    heats: int = Field(1, ge=1, le=3)
    station_s: tuple[int, int] | None = None
    slot_s: int = 60
    every_s: int | None = None
    ladder: tuple[int, ...] = ()
    title: str
    laps: int | None = None
    opening: int = 0
    after_each: int = 0
    closing: int = 0
    rest_s: int = 0
    people: int = 1
    sharing: Sharing = "alone"
    cap_s: int | None = None

    @property
    def turns(self) -> int:
        """How often the athlete goes through all movements: rounds, or rungs."""
        return self.laps or len(self.ladder) or self.rounds

    @property
    def turn_lines(self) -> int:
        """Lines of a turn, those that come after each other line left out."""
        return self.movements - self.opening - self.after_each - self.closing

    @property
    def whole(self) -> bool:
        """Whether doses are counted over the whole piece, not by the round."""
        return self.laps is not None

    @property
    def spots(self) -> dict[Spot, int]:
        """How many lines come where; only where any do."""
        found: dict[Spot, int] = {
            "opening": self.opening,
            "turn": self.turn_lines,
            "after_each": self.after_each,
            "closing": self.closing,
        }
        return {spot: lines for spot, lines in found.items() if lines}

    def part(self, spot: Spot) -> Part:
        """How the dose of a line counts that comes there."""
        turns = self.people if self.sharing in {"shared", "in_turn"} else 1
        shares = self.people if self.sharing == "shared" else 1
        once = self.turns == 1 and self.rounds == 1 and self.fixed_minutes is None
        ladder = self.ladder if spot == "turn" else ()
        return Part(spot, self.comes(spot), turns, shares, ladder, once or spot in {"opening", "closing"})

    @cached_property
    def parts(self) -> frozenset[Part]:
        """How doses count in it, spot by spot."""
        return frozenset(map(self.part, self.spots))

    def comes(self, spot: Spot) -> int:
        """How often a line comes in one of ``rounds``."""
        if spot in {"opening", "closing"}:
            return 1
        laps = self.laps or 1
        return laps * self.turn_lines if spot == "after_each" else laps

    @property
    def steps(self) -> int:
        """How often the athlete goes from one line to the next, in one of ``rounds``."""
        passes = self.laps or len(self.ladder) or 1
        return self.opening + self.closing + passes * self.turn_lines * (1 + self.after_each)

    @cached_property
    def alone(self) -> Shape:
        """The same for one person: her share of what is shared; where others have their turn, she rests."""
        if self.people == 1:
            return self
        least, most = self.window_tenths
        by = 1 if self.sharing == "mirrored" else self.people
        return self.model_copy(
            update={"people": 1, "sharing": "alone", "window_tenths": (least // by, -(-most // by))}
        )


class Format(Value):
    """A kind of conditioning piece.

    Attributes:
        id: stable name.
        name: for the sheet.
        how: how it runs, one or two sentences for an athlete.
        score: how the result is written down.
        timed: ``for_time`` (finish), ``fixed`` (the clock ends it).
        clock: of the compositions that are of this format; None where none is.
        body: what they go through: rounds, once, a ladder, or any of these.
        by_movement: whether each slot of theirs holds one movement.
        marks: what sets them apart, all of it.
        efforts: what such a composition adds to the session's rating, by its time domain.
        shapes: those that a draft picks from.
    """

    id: Id
    name: str
    how: str
    score: str
    timed: Literal["for_time", "fixed"]
    clock: Clock | None = None
    body: Body = "any"
    by_movement: bool = False
    marks: frozenset[Mark] = frozenset()
    efforts: dict[DomainName, Annotated[int, Field(ge=0, le=5)]] = Field(default_factory=dict)
    shapes: tuple[Shape, ...] = ()

    @field_serializer("marks")
    def _in_order(self, marks: frozenset[Mark]) -> list[Mark]:
        """Sorted: in another process a set has another order, and the digest would have another value."""
        return sorted(marks)


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
