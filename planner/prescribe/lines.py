"""One line of a piece, for one kit version: movement, dose, load, setup, advice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import TypedDict

from planner.domain.at_hand import EVERYTHING, usable_setup
from planner.domain.catalogue import Catalogue, Modality, Movement, Pattern, Scheme, Setup, Shape, Tier
from planner.domain.complexes import Complex, lifted
from planner.domain.limiter import limiter_of
from planner.domain.line import BARBELL, LinePiece
from planner.domain.plan import ConditioningLine, StrengthLine, scheme_of_line
from planner.domain.running import timed_line
from planner.domain.substitution import for_strength, substitution_cost
from planner.domain.timing import line_tenths
from planner.domain.week import Dose, EasierOption, Line, Load
from planner.domain.words import capital, clock, listed
from planner.domain.work import effort_of
from planner.domain.written import Start
from planner.errors import SolverFault
from planner.prescribe.equipped import equipped
from planner.prescribe.loads import (
    StrengthLoad,
    build_up_kg,
    conditioning_loads,
    said_load,
    scheme_percent,
)
from planner.prescribe.percent import percent_for
from planner.prescribe.sentences import (
    LESS_OF_IT,
    dose_text,
    find_advice,
    kg_text,
    strength_advice,
    too_heavy,
)
from planner.prescribe.set_words import heavy_cautions, rep_words, terms
from planner.prescribe.stock import Stock
from planner.prescribe.without_load import without_load
from planner.prescribe.work_sets import alike_sets, heaviest, set_loads, sets_dose, weakest

LIMITED_RESERVE = 1
"""Reps left in a limited set where its load is nearly what the scheme asks for; common practice."""
START_WORDS = {"rack": "from the rack", "floor": "from the floor", "none": ""}
BENCH = "bench"
IN_TURN = "in turn with the lift before it"


class Common(TypedDict):
    """What strength and conditioning lines have in common; fields as in ``Line``."""

    movement: str
    name: str
    stands_for: str
    patterns: dict[Pattern, int]
    modality: Modality
    equipment: tuple[str, ...]
    start: str
    standard: str
    points: tuple[str, ...]
    faults: tuple[str, ...]
    easier: tuple[EasierOption, ...]
    cautions: tuple[str, ...]
    substitution_cost: int


@dataclass(frozen=True)
class Bench:
    """What lines of one kit version are written from.

    Attributes:
        catalogue: movements, schemes, names.
        stock: the kit version at hand.
    """

    catalogue: Catalogue
    stock: Stock

    @property
    def floor(self) -> bool:
        """Whether this is the gym floor."""
        return self.stock.kit.contains == EVERYTHING

    def lacks(self, movement: Movement, piece: LinePiece, tier: Tier) -> str:
        """What is lacking for a line, as a sentence without its full stop; empty where nothing is."""
        return equipped(movement, piece, tier, None, self.stock).lacks

    def lifted(self, line: StrengthLine) -> tuple[Movement, Scheme]:
        """What a strength line lifts, a movement or a complex, and its scheme.

        Raises:
            SolverFault: the catalogue does not have it; a plan must not hold such a line.
        """
        scheme, movements = scheme_of_line(line, self.catalogue), self.catalogue.movements
        if scheme is None or line.movement not in movements:
            raise SolverFault(f"the catalogue has no {line.movement} under {line.scheme}")
        return lifted(movements[line.movement], scheme, movements), scheme

    def setup(
        self, movement: Movement, piece: LinePiece, start: Start | None = None, *, anyway: bool = False
    ) -> Setup:
        """How a movement is done with this kit in a piece, from where the coach said if that can be.

        Args:
            movement: the movement.
            piece: in which it is done.
            start: from the rack or from the floor, where that was said.
            anyway: whether the coach wrote it, so that it is done as usual even where something lacks.

        Raises:
            SolverFault: it cannot be; a plan must not hold such a line.
        """
        held = self.stock.items_for(piece)
        asked = [s for s in movement.setups if s.start == start]
        setup = next((s for s in asked if held.issuperset(s.needs)), None) or usable_setup(
            movement, held, piece
        )
        if setup is None and anyway:
            return movement.setups[0]
        if setup is None:
            raise SolverFault(f"{movement.name} cannot be done with the kit version {self.stock.kit.name}")
        return setup


def strength_line(line: StrengthLine, floor: StrengthLine, bench: Bench, *, by_hand: bool = False) -> Line:
    """A strength line as an athlete reads it.

    Where the load that the scheme asks for cannot be had, because the setup or the kit holds it down or the
    stand-in is not lifted on a bar, the scheme's limited form takes its place: more reps, slower, with reps
    in reserve.

    Args:
        line: in this kit version.
        floor: the line of the gym floor that it stands for.
        bench: the kit version.
        by_hand: whether the coach wrote it: then it is written out whatever the gym lacks.
    """
    (movement, scheme), (original, _) = (bench.lifted(x) for x in (line, floor))
    piece: LinePiece = "assistance" if line.assistance else "main"
    anyway = by_hand and bench.floor
    setup = bench.setup(movement, piece, line.start, anyway=anyway)
    lacks = equipped(movement, piece, scheme.tier, scheme, bench.stock).lacks if anyway else ""
    same = line.movement == floor.movement
    each = set_loads(line, movement, setup, scheme, bench.stock, as_named=same)
    loads = tuple(map(heaviest, each))
    on_bar = BARBELL in setup.needs
    short = any(x.short for x in loads)
    stands_in = movement.id != original.id and original.modality == "loaded" and not on_bar
    limited = (short or stands_in) and not scheme.work.practice_s
    note = line.note if same else ""
    athletes, asked = bench.stock.gym.athletes, [x.load for x in loads]
    own = (
        without_load(movement, original, scheme, asked, athletes) if limited and not line.assistance else None
    )
    reps, sets, rest_s, a_rep = scheme.reps, scheme.sets, scheme.rest_s, scheme.seconds_per_rep
    if own:
        reps, sets, rest_s, a_rep = own.reps, own.sets, own.rest_s, own.seconds
    elif limited:
        reps, sets = reps_within(scheme.limited_reps, loads), scheme.limited_sets
    instead = (own.how if own else scheme.limited) if limited else ""
    text = dose_text(reps, scheme.unit, movement.sides)
    sides = 2 if movement.sides == "per_side" else 1
    find = scheme.work.form == "find" and not limited
    uncounted = find or scheme.work.practice_s
    spotted = setup.start == "rack" or BENCH in setup.needs
    common = _common(movement, original, setup, bench, lift=for_strength(scheme))
    common["cautions"] += heavy_cautions(scheme, spotted=spotted) if find else ()
    named = line.kg is not None or any(one.kg for one in scheme.work.sets)
    known = movement.lift is not None and on_bar and not (limited or line.assistance or named)
    return Line(
        **common,
        # A scheme without a load in mind is done light where the movement has one.
        tier="light" if scheme.tier == "open" and movement.modality == "loaded" else scheme.tier,
        scheme=scheme.id,
        assistance=line.assistance,
        dose=Dose(value=reps, unit=scheme.unit, sides=movement.sides, text=text)
        if limited
        else sets_dose(scheme.work, movement.sides),
        total=sets * reps if limited else scheme.work.total,
        sets=None if uncounted else sets,
        work_sets=() if limited else alike_sets(scheme, each, movement.sides),
        terms=(*([IN_TURN] if line.paired else []), *terms(scheme.work, clock_only=limited)),
        build_up=_build_up(scheme, loads, bench.stock) if on_bar else "",
        rest_s=None if scheme.work.every_s else rest_s,
        # The limited form says its own reserve; the scheme's would contradict it.
        reserve=None if limited else scheme.reserve,
        loads=tuple(x.load for x in loads if x.load is not None),
        how=_how(
            setup.how,
            *_how_done(movement, scheme, loads, bench, limited=instead),
            *([f"Not at hand: {lacks}"] if lacks else []),
            note,
        ),
        lacks=lacks,
        too_heavy=_strength_advice(movement, scheme, loads, known=known, limited=limited),
        seconds=ceil(sides * (reps * a_rep if limited else scheme.set_seconds(reps))),
        own_sets=own.title if own else "",
        planned=line if _more_than_ids(line) else None,
    )


def _how_done(
    movement: Movement, scheme: Scheme, loads: Sequence[StrengthLoad], bench: Bench, *, limited: str
) -> tuple[str, ...]:
    """How its reps and sets are done: limited, or with tempo, pauses, clusters; which lift sets the load."""
    if limited:
        return (_limited_sentence(limited, loads),)
    named = dict.fromkeys(capital(x.because) for x in loads if x.because)
    return (*rep_words(scheme.work), weakest(movement, bench.stock.gym.athletes), *named)


def _more_than_ids(line: StrengthLine) -> bool:
    return line != StrengthLine(movement=line.movement, scheme=line.scheme, assistance=line.assistance)


def reps_within(reps: int, loads: Sequence[StrengthLoad]) -> int:
    """Reps of a limited set: no more than the heavier of the loads lets one do with one in reserve.

    Args:
        reps: that the scheme's limited form asks for.
        loads: of both athletes.
    """
    percents = [x.load.percent_1rm for x in loads if x.load is not None and x.load.percent_1rm]
    most = max(percents, default=0)
    return next((n for n in range(reps, 1, -1) if percent_for(n, LIMITED_RESERVE) >= most), 1)


def conditioning_lines(
    lines: Sequence[ConditioningLine], floor: Sequence[ConditioningLine], shape: Shape, bench: Bench
) -> tuple[Line, ...]:
    """All lines of a conditioning piece, which share their implements.

    Args:
        lines: in this kit version.
        floor: those of the gym floor, one for one.
        shape: how the piece runs.
        bench: the kit version.
    """
    movements, anyway = bench.catalogue.movements, shape.whole and bench.floor
    lifts = [(m, _setup(x, m, bench, anyway), x.tier) for x in lines for m in [movements[x.movement]]]
    by_athlete = [conditioning_loads(lifts, bench.stock, a) for a in bench.stock.gym.athletes]
    bars = sum(m.modality == "loaded" and BARBELL in setup.needs for m, setup, _ in lifts)
    # A lift without a load of its own takes the bar that the coach loaded for the piece.
    named = (x.kg for x, (m, setup, _) in zip(lines, lifts, strict=True) if x.kg and BARBELL in setup.needs)
    bar_kg = next(named, None)
    written = []
    for i, (line, (movement, setup, tier)) in enumerate(zip(lines, lifts, strict=True)):
        loads = tuple(load for load in (own[i] for own in by_athlete) if load is not None)
        on_bar = movement.modality == "loaded" and BARBELL in setup.needs
        said = line.kg or (bar_kg if on_bar else None)
        if said is not None:
            athletes = bench.stock.gym.athletes
            loads = tuple(said_load(kg, setup, bench.stock, a) for kg, a in zip(said, athletes, strict=False))
        shared = bars > 1 and BARBELL in setup.needs and said is None
        rungs = timed_line(line, movement).rungs(shape)
        lacks = bench.lacks(movement, "conditioning", tier) if anyway else ""
        dose = line.dose
        written.append(
            Line(
                **_common(movement, movements[floor[i].movement], setup, bench, lift=False),
                tier=tier,
                dose=Dose(
                    value=dose,
                    unit=movement.unit,
                    sides=movement.sides,
                    text=_said_dose(line, movement, rungs),
                ),
                total=dose * (1 if rungs else shape.comes(line.spot) * shape.rounds),
                loads=loads,
                how=_with_notes(setup.how, line.note, lacks),
                too_heavy=_too_heavy(movement, setup, dose, bench, shared_bar=shared) if loads else "",
                seconds=ceil(line_tenths(movement, dose, tier, rungs) / 10),
                spot=line.spot,
                numbers=line.numbers,
                said_kg=line.kg,
                said_start=line.start,
                open=line.open,
                most_s=line.most_s,
                note=line.note,
                lacks=lacks,
                taxes=_taxes(movement, max(rungs, default=dose), tier, loads, bench),
            )
        )
    return tuple(written)


def _taxes(movement: Movement, dose: int, tier: Tier, loads: Sequence[Load], bench: Bench) -> str:
    """What gives first, for the first athlete."""
    kg = (loads[0].kg if loads else 0.0) * movement.implements
    effort = effort_of(movement, kg, bench.stock.gym.athletes[0].body, tier)
    return limiter_of(movement, dose, tier, effort)


def _setup(line: ConditioningLine, movement: Movement, bench: Bench, anyway: bool) -> Setup:
    """How a line is done: from where the coach said, if the movement can be, else as the kit allows."""
    usual = bench.setup(movement, "conditioning", anyway=anyway)
    asked = (s for s in movement.setups if s.start == line.start) if line.start else ()
    held = bench.stock.items_for("conditioning")
    return next((s for s in asked if anyway or held.issuperset(s.needs)), usual)


def _with_notes(how: str, note: str, lacks: str) -> str:
    """What the setup changes, what the coach wrote, and what the gym lacks."""
    return _how(how, note, f"Not at hand: {lacks}" if lacks else "") if note or lacks else how


def _said_dose(line: ConditioningLine, movement: Movement, rungs: tuple[int, ...]) -> str:
    if line.numbers and len(set(line.numbers)) == 1:  # the same in each round, beside numbers that change
        said = dose_text(line.numbers[0], movement.unit, movement.sides)
    else:
        said = dose_text(line.dose, movement.unit, movement.sides, rungs)
    within = f" in {clock(line.most_s)}" if line.most_s else ""
    return f"as many as you can{within}, about {said}" if line.open else said


def shared_bar_note(lines: Sequence[Line], bench: Bench) -> str:
    """Says which movements share one bar and at what load; empty where no two lines do."""
    bar = bench.catalogue.items[BARBELL].name if BARBELL in bench.catalogue.items else BARBELL
    shared = [line for line in lines if line.loads and bar in line.equipment]
    names = list(dict.fromkeys(line.name for line in shared))
    if len(names) < 2:  # noqa: PLR2004  (sharing takes two)
        return ""
    return f"One bar for {listed(names)}: {_slashed(shared[0].loads)}. The weakest lift sets the load."


def _common(movement: Movement, original: Movement, setup: Setup, bench: Bench, *, lift: bool) -> Common:
    """What strength and conditioning lines have in common."""
    catalogue = bench.catalogue
    return {
        "movement": movement.id,
        "name": movement.name,
        "stands_for": "" if movement.id == original.id else original.name,
        "patterns": movement.patterns,
        "modality": movement.modality,
        "equipment": tuple(catalogue.items[i].name if i in catalogue.items else i for i in setup.needs),
        "start": START_WORDS[setup.start],
        "standard": movement.standard,
        "points": movement.points,
        "faults": movement.faults,
        "easier": _easier(movement, bench),
        "cautions": movement.cautions,
        "substitution_cost": substitution_cost(original, movement, lift=lift),
    }


def _easier(movement: Movement, bench: Bench) -> tuple[EasierOption, ...]:
    """The catalogue's options; less of it where there is none, and of a complex one part fewer."""
    if isinstance(movement, Complex):
        return (EasierOption(name="one part fewer", how="leave out the lift that holds you back"),)
    known = bench.catalogue.movements
    options = tuple(EasierOption(name=known[e.to].name, how=e.how) for e in movement.easier if e.to in known)
    if options:
        return options
    name, how = LESS_OF_IT[movement.unit]
    return (EasierOption(name=name, how=how),)


def _build_up(scheme: Scheme, loads: Sequence[StrengthLoad], stock: Stock) -> str:
    """The sets before the work sets: "build up: 6 at 47.5 kg / 30 kg, 4 at ..."."""
    known = [(a, x.load) for a, x in zip(stock.gym.athletes, loads, strict=True) if x.load is not None]
    if not known or not scheme.build_up:
        return ""
    steps = []
    for percent, reps in scheme.build_up:
        masses = " / ".join(f"{kg_text(build_up_kg(load.kg, percent, stock, a))} kg" for a, load in known)
        steps.append(f"{reps} at {masses}")
    return f"build up: {', '.join(steps)}"


def _limited_sentence(how: str, loads: Sequence[StrengthLoad]) -> str:
    because = next((x.because for x in loads if x.because), "")
    if because:
        return f"Lighter than on the gym floor ({because}): {how}."
    return f"With what is at hand: {how}."


def _how(*parts: str) -> str:
    """Parts as sentences, each with its full stop, empty ones left out."""
    return " ".join(p if p.endswith((".", "!", "?")) else f"{p}." for p in parts if p)


def _strength_advice(
    movement: Movement, scheme: Scheme, loads: Sequence[StrengthLoad], *, known: bool, limited: bool
) -> str:
    if all(x.load is None for x in loads):
        return ""
    percent = scheme_percent(scheme) if known else None
    if limited:
        return "Too light? Slow the way down and pause longer. Too heavy? Fewer reps, not fewer than half."
    if scheme.work.form == "find":
        return find_advice(movement.name, percent)
    name = "in the weakest of these lifts" if isinstance(movement, Complex) else movement.name
    where = "" if scheme.work.alike else " on the heaviest set"
    return strength_advice(f"{name}{where}", percent, scheme.reserve)


def _too_heavy(movement: Movement, setup: Setup, dose: int, bench: Bench, *, shared_bar: bool) -> str:
    item = bench.stock.implement(setup.needs)
    only_one = item is not None and item in bench.stock.kit.kg
    return too_heavy(movement, dose, bench.catalogue.movements, shared_bar=shared_bar, lighter=not only_one)


def _slashed(loads: Sequence[Load]) -> str:
    return " / ".join(load.text for load in loads)
