"""One day, written out: its pieces in every kit version, its clock, rating and cautions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.domain.catalogue import Catalogue, Movement, Prepared, Scheme, Shape
from planner.domain.clock import frame_of
from planner.domain.gym import Gym
from planner.domain.line import BARBELL
from planner.domain.plan import ConditioningLine, PiecePlan, SessionPlan, StrengthLine, scheme_of_line
from planner.domain.running import DayFacts, day_facts, timed_lines
from planner.domain.timing import hardness_of
from planner.domain.week import DrillLine, Line, Piece, PieceVersion, Session
from planner.domain.words import capital
from planner.errors import SolverFault
from planner.floor.outcome import summed
from planner.floor.simulate import play
from planner.prescribe import sentences
from planner.prescribe.balance import exposures
from planner.prescribe.class_loads import lines_for_class
from planner.prescribe.clock import class_clock
from planner.prescribe.floor_setup import conditioning_setup, strength_setup
from planner.prescribe.lines import Bench, conditioning_lines, shared_bar_note, strength_line
from planner.prescribe.on_floor import class_flow, floor_piece, floor_test, people_at_once
from planner.prescribe.set_out import Room, conditioning_out, strength_out
from planner.prescribe.set_words import how_sets_run, piece_title, score_of
from planner.prescribe.stock import Stock
from planner.prescribe.times import cap_minutes, on_floor, predict
from planner.prescribe.warm_up import cool_down, empty_bar, warm_up
from planner.prescribe.week_load import session_load_au

MANY_LOWERED = 60
"""Reps of deep or unaccustomed lowering from which a day warns of soreness; our choice."""
OVERHEAD_LINES = 2
"""Lines that load the shoulders overhead much, from which a day says so."""
MUCH = 2
Benches = Mapping[str, Bench]


@dataclass(frozen=True)
class Writer:
    """What every day is written from.

    Attributes:
        catalogue: movements, drills, schemes, formats.
        gym: kits, class, athletes.
    """

    catalogue: Catalogue
    gym: Gym

    def benches(self) -> dict[str, Bench]:
        """By kit id, the gym floor first."""
        items = self.catalogue.items
        return {kit.id: Bench(self.catalogue, Stock(self.gym, kit, items)) for kit in self.gym.kits}


def write_session(plan: SessionPlan, date: str, turn: int, writer: Writer) -> Session:
    """A day's session.

    Args:
        plan: what was decided.
        date: ISO date.
        turn: number of the day since some Monday, so that drills take turns.
        writer: catalogue and gym.

    Raises:
        SolverFault: the plan names something that the catalogue or the kit does not have.
    """
    catalogue, gym = writer.catalogue, writer.gym
    frame = frame_of(gym.class_.minutes)
    facts = day_facts(plan, catalogue, gym)
    benches, room = writer.benches(), Room(catalogue, gym.on(plan.day))
    pieces = []
    for piece, shape, schemes, (_, minutes) in zip(
        plan.pieces, facts.shapes, facts.schemes, facts.pieces, strict=True
    ):
        if piece.lifts:
            pieces.append(_strength(piece, schemes, minutes, writer, benches, room, plan.own))
        elif shape is None:
            raise SolverFault(f"the plan for {plan.day} has an unknown shape: {piece.shape}")
        else:
            pieces.append(_conditioning(piece, shape, minutes, writer, benches, room))
    prepares = _prepares(plan, catalogue)
    lines = [line for piece in pieces for line in _floor(piece)]
    contacts = sum(_done(x) * catalogue.movements[x.movement].takes.contacts for x in lines)
    return Session(
        day=plan.day,
        date=date,
        title=_title(plan, facts, catalogue),
        pieces=(
            _written_drills(
                plan,
                _warm_up(
                    prepares, turn, catalogue, frame.warm_up, _primer(plan, pieces, catalogue, frame.warm_up)
                ),
            ),
            *pieces,
            _written_drills(plan, _cool_down(prepares, turn, catalogue, frame.cool_down)),
        ),
        clock=class_clock(facts.pieces, frame),
        rating=facts.rating,
        rating_words=sentences.rating_words(facts.rating),
        load_au=session_load_au(facts.rating, gym.class_.minutes),
        hardness=hardness_of(facts.rating),
        patterns=exposures(lines),
        contacts=contacts,
        cautions=(*(f"From the coach: {x}" for x in plan.notes), *_cautions(lines, contacts, catalogue)),
        notes=plan.notes,
        drills=plan.drills,
    )


def _floor(piece: Piece) -> tuple[Line, ...]:
    return next(iter(piece.versions.values())).lines


def _title(plan: SessionPlan, facts: DayFacts, catalogue: Catalogue) -> str:
    """What the day is about: its main lift and how its conditioning runs."""
    strength = plan.piece("strength")
    lines = next(iter(strength.versions.values())) if strength else ()
    main = next((x for x in lines if isinstance(x, StrengthLine) and not x.assistance), None)
    parts = [catalogue.movements[main.movement].name] if main else []
    parts += [catalogue.formats[facts.shape.format].name] if facts.shape else []
    return capital(" and ".join(parts) or "practice")


def _strength(  # noqa: PLR0917
    piece: PiecePlan,
    schemes: Sequence[tuple[Scheme, bool]],
    minutes: int,
    writer: Writer,
    benches: Benches,
    room: Room,
    by_hand: bool,
) -> Piece:
    gym, catalogue = writer.gym, writer.catalogue
    floor = _strength_lines(piece, gym.kits[0].id)
    versions = {}
    for kit, bench in benches.items():
        own = _strength_lines(piece, kit)
        lines = tuple(strength_line(line, floor[i], bench, by_hand=by_hand) for i, line in enumerate(own))
        versions[kit] = PieceVersion(kit=kit, lines=lines)
    beside = any(x for _, x in schemes)
    scheme = next((s for s, x in schemes if not x), schemes[0][0])
    paired = any(line.paired for line in floor)
    return Piece(
        kind=piece.kind,
        title=piece_title([scheme, *(s for x in floor if x.paired and (s := scheme_of_line(x, catalogue)))]),
        stimulus=scheme.say,
        how=" ".join(x for x in (how_sets_run(scheme, beside=beside, paired=paired), piece.note) if x),
        score=score_of(scheme) if any(x.loads for x in versions[gym.kits[0].id].lines) else "",
        minutes=minutes,
        floor_setup=strength_setup(versions[gym.kits[0].id].lines, catalogue, room.gym),
        set_out=strength_out(room, versions[gym.kits[0].id].lines, room.gym.class_.people[0]),
        versions=versions,
        paired=piece.paired,
        note=piece.note,
    )


def _strength_lines(piece: PiecePlan, kit: str) -> list[StrengthLine]:
    return [x for x in piece.versions[kit] if isinstance(x, StrengthLine)]


def _conditioning(  # noqa: PLR0917
    piece: PiecePlan, shape: Shape, minutes: int, writer: Writer, benches: Benches, room: Room
) -> Piece:
    catalogue, gym = writer.catalogue, writer.gym
    form, domain = catalogue.formats[shape.format], catalogue.domains[shape.domain]
    floor = _conditioning_lines(piece, gym.kits[0].id)
    versions = {}
    for kit, bench in benches.items():
        own, here = _conditioning_lines(piece, kit), shape if bench.floor else shape.alone
        rounded = ""
        if bench.floor:
            lines, rounded = lines_for_class(own, floor, here, bench, room)
        else:
            lines = conditioning_lines(own, floor, here, bench)
        versions[kit] = PieceVersion(
            kit=kit,
            lines=lines,
            prediction=predict(timed_lines(own, catalogue), here, domain),
            note=" ".join(filter(None, (_version_note(lines, shape, bench), rounded))),
        )
    lines = versions[gym.kits[0].id].lines
    run = play(floor_piece(piece, shape, domain, lines, timed_lines(floor, catalogue), room))
    outcome = summed(run)
    first = versions[gym.kits[0].id]
    if first.prediction is not None:
        said = on_floor(first.prediction, outcome)
        versions[gym.kits[0].id] = first.model_copy(update={"prediction": said})
    predictions = [v.prediction for v in versions.values() if v.prediction is not None]
    cap = cap_minutes(predictions, shape)
    return Piece(
        kind=piece.kind,
        title=shape.title,
        stimulus=domain.stimulus,
        how=" ".join(
            x for x in (form.how, *sentences.order_words(shape, piece.composition), piece.note) if x
        ),
        score=form.score if piece.composition is None else sentences.result_words(piece.composition, form),
        minutes=minutes,
        cap_minutes=cap,
        shape=piece.shape,
        format=form.id,
        domain=shape.domain,
        rounds=shape.turns if shape.whole else shape.rounds,
        ladder=shape.ladder,
        flow=piece.flow,
        class_flow=class_flow(run.piece, room.gym.class_.size, room),
        floor_setup=conditioning_setup(lines, catalogue, room.gym),
        set_out=conditioning_out(room, lines, people_at_once(run.piece), run.piece.counts),
        on_floor=floor_test(run, outcome, cap),
        versions=versions,
        composition=piece.composition,
        note=piece.note,
    )


def _conditioning_lines(piece: PiecePlan, kit: str) -> list[ConditioningLine]:
    return [x for x in piece.versions[kit] if isinstance(x, ConditioningLine)]


def _version_note(lines: Sequence[Line], shape: Shape, bench: Bench) -> str:
    """What is said of a version: the bar that lines share, and how a pair's piece is done by one person."""
    said = [shared_bar_note(lines, bench)]
    if shape.people > 1 and not bench.floor:
        said.append(sentences.ALONE[shape.sharing])
    return " ".join(x for x in said if x)


def _prepares(plan: SessionPlan, catalogue: Catalogue) -> tuple[Prepared, ...]:
    """What the day's movements need prepared, in every kit version, the gym floor's first."""
    needed: list[Prepared] = ["pulse"]
    for kit in plan.versions:
        # Strength first, whatever comes first: its positions are the day's.
        lines = [x for p in sorted(plan.pieces, key=lambda p: not p.lifts) for x in p.versions[kit]]
        for line in lines:
            needed += catalogue.movements[line.movement].prepares
    return tuple(dict.fromkeys(needed))


def _primer(
    plan: SessionPlan, pieces: Sequence[Piece], catalogue: Catalogue, minutes: int
) -> DrillLine | None:
    """The day's lift with the empty bar, where it is on a bar."""
    for planned, piece in zip(plan.pieces, pieces, strict=True):
        main = next((x for x in _floor(piece) if not x.assistance), None)
        if (
            planned.kind == "strength"
            and main is not None
            and catalogue.items[BARBELL].name in main.equipment
        ):
            return empty_bar(main.name, catalogue.movements[main.movement].prepares, minutes)
    return None


def _warm_up(
    prepares: Sequence[Prepared], turn: int, catalogue: Catalogue, minutes: int, primer: DrillLine | None
) -> Piece:
    bar = " Last, in turns at the racks, the empty bar." if primer else ""
    return Piece(
        kind="warm_up",
        title="Warm-up",
        stimulus="Raise the pulse, activate and mobilise what the day uses, then rehearse it.",
        how=f"The coach leads; everyone does the same, with no equipment.{bar}",
        minutes=minutes,
        drills=warm_up(catalogue.drills.values(), prepares, turn, minutes, primer=primer),
    )


def _cool_down(prepares: Sequence[Prepared], turn: int, catalogue: Catalogue, minutes: int) -> Piece:
    return Piece(
        kind="cool_down",
        title="Cool-down",
        stimulus="Let the pulse come down, and move easily through what was used.",
        minutes=minutes,
        drills=cool_down(catalogue.drills.values(), prepares, turn, minutes),
    )


def _written_drills(plan: SessionPlan, usual: Piece) -> Piece:
    """The warm-up or cool-down that the coach wrote; without a drill of hers the usual one, with her note."""
    own = [d for d in plan.drills if d.kind == usual.kind]
    drills = [drill for d in own for drill in d.drills]
    minutes = sum(d.minutes or 0 for d in own)
    note = "; ".join(d.note for d in own if d.note)
    length = f"{minutes} minutes: " if minutes and drills else ""
    how = f"{length}{'; '.join(drills)}" if drills else usual.how
    said = ". ".join(x.rstrip(". ") for x in (how, note) if x) if note else how
    hers = {"drills": (), "stimulus": ""} if drills else {}
    return usual.model_copy(update={"how": said, "note": note, **hers}) if own else usual


def _done(line: Line) -> int:
    """Units over the whole piece; twice what is written where it is for each side."""
    return line.total * (2 if line.dose.sides == "per_side" else 1)


def _cautions(lines: Sequence[Line], contacts: int, catalogue: Catalogue) -> tuple[str, ...]:
    """Cautions for the day: landing, much overhead, much lowering."""
    moved: list[tuple[Line, Movement]] = [(line, catalogue.movements[line.movement]) for line in lines]
    cautions = []
    if contacts:
        cautions.append(f"{contacts} landings planned. {sentences.LANDING}")
    if sum(m.takes.overhead >= MUCH for _, m in moved) >= OVERHEAD_LINES:
        cautions.append(sentences.OVERHEAD)
    if sum(_done(line) for line, m in moved if m.eccentric and m.unit == "reps") >= MANY_LOWERED:
        cautions.append(sentences.LOWERING)
    return tuple(cautions)
