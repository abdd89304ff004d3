"""The week as it is written out: a plain value that stands on its own, and its JSON schema.

Everything a sheet shows is here in words and numbers, so that a reader needs no catalogue and no gym.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from planner.domain.base import Unit, Value
from planner.domain.catalogue import DomainName, Modality, Pattern, Phase, Sides, Spot, Tier
from planner.domain.difference import NEVER, NOTES, Compared
from planner.domain.flow import Flow
from planner.domain.gym import Day
from planner.domain.plan import StrengthLine
from planner.domain.written import Composition, Start, WrittenDrills

SCHEMA_VERSION = 1
PieceKind = Literal["warm_up", "skill", "strength", "conditioning", "finisher", "cool_down"]
RULES_LAYER = "Rules that may give way"
"""Name of the layer of the objective that is the price of all weighted rules."""
PIECES_LAYER, LINES_LAYER = "Pieces changed", "Lines changed"
"""Names of a redraft's first two layers."""
_SCHEME, _FORMAT = Compared("scheme"), Compared("format")
_SETUP = Compared("set-up", after=("movement",))
_EFFORT = Compared("effort", rest=True)


class Load(Value):
    """What one reference athlete lifts.

    Attributes:
        athlete: id.
        kg: one implement, or bar with plates and collars.
        text: "42.5 kg", "2 x 16 kg", "20 kg plate".
        per_side_kg: plates on each side of a bar, heaviest first.
        percent_1rm: of the movement's 1RM, rounded; None where there is none.
    """

    athlete: str
    kg: Annotated[float, Compared("load")]
    text: Annotated[str, Compared("load")]
    per_side_kg: Annotated[tuple[float, ...], Compared("plates", after=("kg", "text"))] = ()
    percent_1rm: Annotated[int | None, Compared("load", after=("kg", "text"))] = None


class Dose(Value):
    """How much for one round or set.

    Attributes:
        value: in ``unit``.
        unit: counted unit.
        sides: both, alternating or per side.
        text: as written: "20 reps", "10 each side", "400 m", "21-15-9".
    """

    value: int
    unit: Unit
    sides: Sides
    text: str


class AlikeSets(Value):
    """Work sets in a row that are alike, on a line whose work sets are not all the same.

    Attributes:
        sets: how many.
        reps: of each, in the unit of the line's dose.
        text: as written: "5 reps".
        reserve: reps in reserve, where it applies.
        loads: for both reference athletes; empty where there is no load.
    """

    sets: int
    reps: int
    text: str
    reserve: int | None = None
    loads: tuple[Load, ...] = ()


class EasierOption(Value):
    """An easier option: the movement's name and what it changes."""

    name: str
    how: str


class Line(Value):
    """A movement as an athlete reads it.

    Attributes:
        movement: id.
        name: as said.
        stands_for: name of the gym floor's movement if another; empty if it is the same.
        patterns: shares in percent.
        modality: loaded, bodyweight, cyclic.
        equipment: item names.
        tier: how heavy.
        scheme: id, on strength lines.
        assistance: whether beside the main lift.
        dose: for one round or one set.
        total: units over the whole piece, all rounds or sets.
        sets: work sets, on strength lines; None where one heavy set is looked for.
        work_sets: those in a row that are alike, where not all are the same; ``dose`` and ``loads`` are then
            those of the longest and of the heaviest.
        terms: how the sets run, beside rest and reserve: "a set every 1:30", "tempo 3-1-0-1".
        build_up: "build up: 5 at 60 kg / 40 kg, ...", or empty.
        own_sets: the name of its sets, where its load cannot be had and they are not the scheme's.
        rest_s: after each set.
        reserve: reps in reserve, where it applies.
        loads: for both reference athletes; empty where there is no load.
        start: "from the rack", "from the floor", or empty.
        how: what the setup changes: "clean it, put it overhead, ..."; or the tempo of a limited scheme.
        standard: what counts as a rep.
        points: points of performance.
        faults: what usually goes wrong.
        easier: easier options.
        too_heavy: what to do if one's load is too heavy or too light; empty where there is no load.
        cautions: short.
        substitution_cost: 0 (the same) to 100.
        seconds: predicted seconds of the dose, typical athlete.
        by_hand: whether the coach changed the line in the file, and means it so.
        spot: where it comes in a conditioning piece: once before, in each turn, after each other line of a
            turn, once at the end.
        numbers: its own number in each round, where they differ from the ladder's.
        said_kg: what a man and a woman lift, where the coach wrote it.
        said_start: from the rack or from the floor, where the coach wrote it.
        open: as many as one can; the dose is what a typical athlete gets.
        most_s: seconds that there are for it, where that is said.
        note: as the coach wrote it.
        lacks: what the gym lacks for it, where the coach wrote it all the same.
        taxes: in conditioning, what gives first: lungs, legs, grip, pushing, pulling, trunk, skill.
        planned: the line as planned, where its scheme is not in the catalogue or the coach named more of it.
    """

    movement: str
    name: Annotated[str, NOTES]
    stands_for: Annotated[str, NEVER] = ""
    patterns: Annotated[dict[Pattern, int], NOTES]
    modality: Annotated[Modality, NOTES]
    equipment: Annotated[tuple[str, ...], _SETUP] = ()
    tier: Annotated[Tier, Compared("load", after=("movement",))]
    scheme: Annotated[str, _SCHEME] = ""
    assistance: Annotated[bool, _SCHEME] = False
    dose: Dose
    total: Annotated[int, NEVER]
    sets: Annotated[int | None, _SCHEME] = None
    work_sets: Annotated[tuple[AlikeSets, ...], _SCHEME] = ()
    terms: Annotated[tuple[str, ...], _SCHEME] = ()
    build_up: Annotated[str, NOTES] = ""
    own_sets: Annotated[str, _SCHEME] = ""
    rest_s: Annotated[int | None, _SCHEME] = None
    reserve: Annotated[int | None, _SCHEME] = None
    loads: Annotated[tuple[Load, ...], Compared("load", by="athlete")] = ()
    start: Annotated[str, _SETUP] = ""
    how: Annotated[str, _SETUP] = ""
    standard: Annotated[str, NOTES]
    points: Annotated[tuple[str, ...], NOTES]
    faults: Annotated[tuple[str, ...], NOTES] = ()
    easier: Annotated[tuple[EasierOption, ...], NOTES] = ()
    too_heavy: Annotated[str, NOTES] = ""
    cautions: Annotated[tuple[str, ...], NOTES] = ()
    substitution_cost: Annotated[int, NEVER] = 0
    seconds: Annotated[int, NEVER] = 0
    by_hand: bool = False
    spot: Annotated[Spot, _FORMAT] = "turn"
    numbers: Annotated[tuple[int, ...], Compared("dose")] = ()
    said_kg: Annotated[tuple[float, float] | None, Compared("load", after=("loads",))] = None
    said_start: Annotated[Start | None, _SETUP] = None
    open: Annotated[bool, Compared("dose")] = False
    most_s: Annotated[int | None, Compared("dose")] = None
    note: Annotated[str, NOTES] = ""
    lacks: Annotated[str, NOTES] = ""
    taxes: Annotated[str, NOTES] = ""
    planned: Annotated[StrengthLine | None, NEVER] = None


class Prediction(Value):
    """What a quick, a typical and a slow athlete get: seconds to finish, or tenths of rounds done."""

    unit: Literal["seconds", "tenths_of_rounds"]
    quick: int
    typical: int
    slow: int
    text: str


class PieceVersion(Value):
    """A piece for one kit version."""

    kit: str
    lines: Annotated[tuple[Line, ...], Compared(by="movement", in_turn=True)]
    prediction: Annotated[Prediction | None, Compared("forecast")] = None
    note: Annotated[str, NOTES] = ""

    @property
    def own_title(self) -> str:
        """The name of its lift's sets, where they are not the piece's; else empty."""
        return next((line.own_sets for line in self.lines if line.own_sets), "")


class DrillLine(Value):
    """A warm-up or cool-down drill."""

    drill: str
    name: str
    phase: Phase
    dose: str
    prepares: tuple[str, ...]
    point: str = ""
    seconds: int


class SetOut(Value):
    """Something to put out on the floor for a piece.

    Attributes:
        item: id.
        name: of one, and ``plural`` of several.
        kg: of one, of the bar alone where it is a bar; None where its mass does not matter.
        count: how many.
        per_side_kg: plates on each side of each, heaviest first.
        uses: movements that it is for.
    """

    item: str
    name: str
    plural: str
    kg: float | None = None
    count: int
    per_side_kg: tuple[float, ...] = ()
    uses: tuple[str, ...] = ()


class FloorTest(Value):
    """What the simulation of the class says of a piece, two hundred runs pooled.

    Attributes:
        flow: how the class runs it.
        longest_wait_s: of a person's longest single wait for an item, the 90th percentile.
        waited_percent: of the share of her time that a person waits, the 90th percentile.
        done_at_cap_percent: of the class done when the cap falls; None where there is none.
        missed_percent: of the slots on the clock that end before the work does; None where there are none.
        class_s: when the last of the class is done, at the 90th percentile, heats and changes included.
    """

    flow: Flow
    longest_wait_s: int
    waited_percent: float
    done_at_cap_percent: int | None = None
    missed_percent: float | None = None
    class_s: int


class Piece(Value):
    """One part of a session.

    Attributes:
        kind: which part.
        title: "Three sets of eight across", "4 rounds for time".
        stimulus: what it is for, in a line.
        how: how it runs.
        score: how the result is written down.
        minutes: on the class clock.
        cap_minutes: time cap, where it is for time.
        shape: id, conditioning.
        format: id, conditioning.
        domain: time domain, conditioning.
        rounds: conditioning; the multiplier of the shape.
        ladder: rungs.
        flow: how the class runs a catalogue's shape, where that was decided.
        class_flow: how the class runs it, in a line with counts: "Spread out, four to a movement."
        floor_setup: "4 racks, three to a rack", one sentence each.
        set_out: what to put out for it.
        on_floor: what the simulation of the class says of it; pieces with a clock.
        drills: warm-up and cool-down.
        versions: by kit id, gym floor first; strength and conditioning.
        composition: how it runs, where the coach wrote it; what else there is follows from it.
        paired: whether two lifts are done in turn, set by set.
        note: as the coach wrote it.
    """

    kind: PieceKind
    title: Annotated[str, _FORMAT]
    stimulus: Annotated[str, NOTES]
    how: Annotated[str, NOTES] = ""
    score: Annotated[str, NOTES] = ""
    minutes: int
    cap_minutes: Annotated[int | None, Compared("cap")] = None
    shape: Annotated[str, _FORMAT] = ""
    format: Annotated[str, _FORMAT] = ""
    domain: Annotated[DomainName | None, Compared("time domain")] = None
    rounds: Annotated[int | None, _FORMAT] = None
    ladder: Annotated[tuple[int, ...], _FORMAT] = ()
    flow: Annotated[Flow | None, _FORMAT] = None
    class_flow: Annotated[str, NOTES] = ""
    floor_setup: Annotated[tuple[str, ...], NOTES] = ()
    set_out: Annotated[tuple[SetOut, ...], NOTES] = ()
    on_floor: Annotated[FloorTest | None, NOTES] = None
    drills: tuple[DrillLine, ...] = ()
    versions: Annotated[dict[str, PieceVersion], Compared(by="kit")] = Field(default_factory=dict)
    composition: Annotated[Composition | None, _FORMAT] = None
    paired: Annotated[bool, _FORMAT] = False
    note: Annotated[str, NOTES] = ""


class ClockEntry(Value):
    """A block of the class clock: when it starts and how long it takes, in minutes."""

    label: str
    start_minute: int
    minutes: int


class Session(Value):
    """A day.

    Attributes:
        day: of the week.
        date: ISO date.
        title: what the day is about, in a few words.
        pieces: warm-up, strength, conditioning, cool-down.
        clock: the class clock; adds up to at most ``class_minutes`` of the week's gym.
        rating: expected rating, 0 to 10 (CR-10).
        rating_words: the scale's own anchor, or the nearest.
        load_au: rating times class minutes.
        hardness: easy, medium or hard.
        patterns: exposures counted on the gym floor, by pattern.
        contacts: landing contacts on the gym floor.
        cautions: for the day.
        notes: as the coach wrote them.
        drills: warm-up and cool-down as she wrote them, if she did.
    """

    day: Day
    date: Annotated[str, NEVER]
    title: Annotated[str, Compared("title", rest=True)]
    pieces: Annotated[tuple[Piece, ...], Compared(by="kind")]
    clock: tuple[ClockEntry, ...]
    rating: Annotated[int, _EFFORT]
    rating_words: Annotated[str, NOTES]
    load_au: Annotated[int, _EFFORT]
    hardness: Annotated[Literal["easy", "medium", "hard"], _EFFORT]
    patterns: Annotated[dict[Pattern, int], NOTES]
    contacts: Annotated[int, NOTES]
    cautions: Annotated[tuple[str, ...], NOTES] = ()
    notes: Annotated[tuple[str, ...], NOTES] = ()
    drills: Annotated[tuple[WrittenDrills, ...], NOTES] = ()


class RulePlace(Value):
    """Where a rule gave way, and by how much.

    Attributes:
        place: a day, two days, a movement, ``week``.
        measure: 0 where it is overruled.
        sentence: what is the case there.
        overruled: the reason why the rule does not count there; empty where it does.
        excused: units that would count if it were not overruled.
    """

    place: str
    measure: int
    sentence: str
    overruled: str = ""
    excused: int = 0

    @property
    def said(self) -> str:
        """What is the case, and why it is let be."""
        return f"{self.sentence} Overruled: {self.overruled}" if self.overruled else self.sentence


class Side(Value):
    """One of two groups that a rule weighs against each other.

    Attributes:
        name: "push work".
        count: movements in the week; one of two of the group's patterns counts once.
        whole: whether the other is a part of it.
    """

    name: str
    count: int
    whole: bool = False


class RuleResult(Value):
    """One rule, as audited.

    Attributes:
        id: of the rule.
        kind: of the rule.
        level: must, weight, or watch.
        weight: points for each unit of breach; 0 for must and watch.
        statement: the rule in a sentence.
        because: the reason, in the words of the rule file.
        source: or empty.
        unit: of the measure.
        checked: places examined.
        measure: sum of the breaches.
        cost: weight times measure.
        places: each breach.
        remedy: what would mend it; empty where it holds.
        sides: where it weighs groups against each other, what it counted of each on the gym floor.
    """

    id: str
    kind: Annotated[str, Compared("wording")]
    level: Literal["must", "weight", "watch"]
    weight: int
    statement: Annotated[str, Compared("wording")]
    because: Annotated[str, Compared("reason")]
    source: Annotated[str, Compared("reason")]
    unit: Annotated[str, Compared("wording")]
    checked: Annotated[int, NEVER]
    measure: int
    cost: Annotated[int, Compared("cost", after=("level", "weight", "measure"))]
    places: Annotated[tuple[RulePlace, ...], Compared("where", after=("measure",))]
    remedy: Annotated[str, NEVER] = ""
    sides: tuple[Side, ...] = ()


class TierProof(Value):
    """How good one layer of the objective is.

    Attributes:
        name: of the layer.
        objective: value reached, in points; lower is better.
        bound: no week can be lower.
        gap: (objective - bound) / max(1, objective), rounded to 4 places.
        status: ``proved`` or ``not proved in the time given``.
        seconds: work used, in the solver's own seconds: about as long as real ones, and the same on every
            machine, so that the same inputs give the same file to the byte.
    """

    name: str
    objective: int
    bound: int
    gap: float
    status: Literal["proved", "not proved"]
    seconds: float


class Proof(Value):
    """What is known of the week's quality, layer by layer; ``seconds`` as in ``TierProof``, all together.

    ``walled`` says that a search ran into the wall-clock stop, so that another run may end elsewhere.
    """

    tiers: tuple[TierProof, ...]
    seed: int
    solver: str
    seconds: float
    variables: int
    constraints: int
    walled: bool = False


class WeekLoad(Value):
    """Planned values, not a forecast of injury.

    Attributes:
        daily_au: seven days from Monday, rest days nought.
        week_au: sum.
        monotony: mean over standard deviation (n - 1), None where the deviation is nought.
        strain: week times monotony, or None.
        last_weeks_au: of up to four weeks before, newest first.
        change_percent: against the mean of those; None where there are none.
        vigorous_minutes: conditioning minutes rated 7 or more.
        moderate_minutes: all other planned working minutes.
    """

    daily_au: tuple[int, ...]
    week_au: int
    monotony: float | None
    strain: float | None
    last_weeks_au: tuple[int, ...] = ()
    change_percent: int | None = None
    vigorous_minutes: int
    moderate_minutes: int


class KitText(Value):
    """A kit version and what it contains, in words."""

    id: str
    name: str
    contains: str


class AthleteText(Value):
    """A reference athlete: id, name, and known lifts in words."""

    id: str
    name: str
    lifts: str


class Balance(Value):
    """The week in numbers, from the gym floor's lines.

    Attributes:
        patterns: by day, then by pattern, exposures.
        domains: by day, the time domain.
        modality: lines of each modality in conditioning.
    """

    patterns: dict[Day, dict[Pattern, int]]
    domains: dict[Day, DomainName]
    modality: dict[Modality, int]

    @model_validator(mode="before")
    @classmethod
    def _as_written_before(cls, data: Any) -> Any:
        """Weeks of before have sums of patterns too, which are not what any rule measures: not read."""
        if not isinstance(data, dict):
            return data
        return {key: value for key, value in data.items() if key not in {"push", "pull", "upper", "lower"}}


class Week(Value):
    """A solved week, written out.

    Attributes:
        schema_version: of this format.
        week: ISO week.
        monday: its date.
        gym: name.
        invented: whether the gym is a demo.
        class_size: athletes.
        class_minutes: length of a class.
        timezone: IANA name.
        class_start: local time.
        kits: versions, gym floor first.
        athletes: man, woman.
        sessions: in day order.
        balance: the week in numbers.
        load: planned load.
        rules: every rule as audited.
        proof: how good it is.
        cautions: for the whole week.
        inputs_digest: SHA-256 of catalogue, gym, rules, history, requests and options, hexadecimal.
        program: version of the program that wrote it; empty in files from before it was named.
        basis_digest: SHA-256 of catalogue, gym, rules and history alone: from these and the plan behind the
            week all the rest of it follows.
    """

    schema_version: Annotated[int, NEVER] = SCHEMA_VERSION
    week: Annotated[str, NEVER]
    monday: Annotated[str, NEVER]
    gym: str
    invented: bool
    class_size: int
    class_minutes: int
    timezone: str
    class_start: str
    kits: Annotated[tuple[KitText, ...], Compared(by="id")]
    athletes: Annotated[tuple[AthleteText, ...], Compared(by="id")]
    sessions: Annotated[tuple[Session, ...], Compared(by="day")]
    balance: Annotated[Balance, NEVER]
    load: Annotated[WeekLoad, NEVER]
    rules: Annotated[tuple[RuleResult, ...], Compared(by="id")]
    proof: Annotated[Proof, NEVER]
    cautions: Annotated[tuple[str, ...], NOTES]
    inputs_digest: Annotated[str, NEVER]
    program: Annotated[str, NEVER] = ""
    basis_digest: Annotated[str, NEVER] = ""

    @property
    def points(self) -> int:
        """What the weighted rules that gave way cost together."""
        return sum(rule.cost for rule in self.rules)
