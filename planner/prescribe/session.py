"""One day, written out: its pieces in every kit version, its clock, rating and cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.catalogue import Catalogue, Movement, Prepared, Scheme, Shape
from planner.domain.clock import frame_of, strength_minutes
from planner.domain.gym import Gym
from planner.domain.plan import SessionPlan, StrengthLine
from planner.domain.timing import hardness_of, session_rating
from planner.domain.week import Line, Piece, PieceVersion, Session
from planner.domain.words import capital, clock
from planner.errors import SolverFault
from planner.prescribe import sentences
from planner.prescribe.balance import exposures
from planner.prescribe.clock import class_clock
from planner.prescribe.floor_setup import conditioning_setup, strength_setup
from planner.prescribe.lines import Bench, conditioning_lines, shared_bar_note, strength_line
from planner.prescribe.stock import Stock
from planner.prescribe.times import cap_minutes, predict
from planner.prescribe.warm_up import cool_down, warm_up
from planner.prescribe.week_load import session_load_au

MANY_LOWERED = 60
"""Reps of deep or unaccustomed lowering from which a day warns of soreness; our choice."""
OVERHEAD_LINES = 2
"""Lines that load the shoulders overhead much, from which a day says so."""
MUCH = 2


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
    shape = catalogue.shapes.get(plan.shape)
    if shape is None:
        raise SolverFault(f"the plan for {plan.day} has an unknown shape: {plan.shape}")
    floor = plan.versions[gym.kits[0].id]
    main = next((line for line in floor.strength if not line.assistance), None)
    scheme = catalogue.schemes[main.scheme] if main else None
    beside = any(line.assistance for line in floor.strength)
    strength = _strength(plan, writer, scheme, beside) if scheme else None
    conditioning = _conditioning(plan, writer, shape)
    prepares, frame = _prepares(plan, catalogue), frame_of(gym.class_.minutes)
    pieces = (
        _warm_up(prepares, turn, catalogue, frame.warm_up),
        strength,
        conditioning,
        _cool_down(prepares, turn, catalogue, frame.cool_down),
    )
    rating = session_rating(scheme, shape)
    lines = [line for piece in (strength, conditioning) if piece for line in _floor(piece)]
    contacts = sum(_done(x) * catalogue.movements[x.movement].takes.contacts for x in lines)
    return Session(
        day=plan.day,
        date=date,
        title=_title(main, shape, catalogue),
        pieces=tuple(piece for piece in pieces if piece is not None),
        clock=class_clock(scheme, beside, shape, frame),
        rating=rating,
        rating_words=sentences.rating_words(rating),
        load_au=session_load_au(rating, gym.class_.minutes),
        hardness=hardness_of(rating),
        patterns=exposures(lines),
        contacts=contacts,
        cautions=_cautions(lines, contacts, catalogue),
    )


def _floor(piece: Piece) -> tuple[Line, ...]:
    return next(iter(piece.versions.values())).lines


def _title(main: StrengthLine | None, shape: Shape, catalogue: Catalogue) -> str:
    form = catalogue.formats[shape.format].name
    return capital(f"{catalogue.movements[main.movement].name} and {form}" if main else form)


def _strength(plan: SessionPlan, writer: Writer, scheme: Scheme, beside: bool) -> Piece:
    gym, catalogue = writer.gym, writer.catalogue
    floor = plan.versions[gym.kits[0].id].strength
    versions = {}
    for kit, bench in writer.benches().items():
        own = plan.versions[kit].strength
        lines = tuple(strength_line(line, floor[i], bench) for i, line in enumerate(own))
        versions[kit] = PieceVersion(kit=kit, lines=lines)
    rest = f"Rest {clock(scheme.rest_s)} after each work set"
    how = (
        f"{rest}; do the assistance in the rests, and what is left of it straight after."
        if beside
        else f"{rest}."
    )
    if scheme.across and scheme.sets > 1:
        how = f"Build up first, then the same weight on every work set. {how}" if scheme.build_up else how
    return Piece(
        kind="strength",
        title=scheme.name,
        stimulus=scheme.say,
        how=how,
        score="The load of your work sets." if any(x.loads for x in versions[gym.kits[0].id].lines) else "",
        minutes=strength_minutes(scheme, beside),
        floor_setup=strength_setup(versions[gym.kits[0].id].lines, catalogue, gym),
        versions=versions,
    )


def _conditioning(plan: SessionPlan, writer: Writer, shape: Shape) -> Piece:
    catalogue, gym = writer.catalogue, writer.gym
    form, domain = catalogue.formats[shape.format], catalogue.domains[shape.domain]
    floor = plan.versions[gym.kits[0].id].conditioning
    versions = {}
    for kit, bench in writer.benches().items():
        own = plan.versions[kit].conditioning
        lines = conditioning_lines(own, floor, shape, bench)
        timed = [(catalogue.movements[x.movement], x.dose, x.tier) for x in own]
        versions[kit] = PieceVersion(
            kit=kit,
            lines=lines,
            prediction=predict(timed, shape, domain),
            note=shared_bar_note(lines, bench),
        )
    predictions = [v.prediction for v in versions.values() if v.prediction is not None]
    return Piece(
        kind="conditioning",
        title=shape.title,
        stimulus=domain.stimulus,
        how=form.how,
        score=form.score,
        minutes=shape.cap_minutes,
        cap_minutes=cap_minutes(predictions, shape),
        shape=shape.id,
        format=form.id,
        domain=shape.domain,
        rounds=shape.rounds,
        ladder=shape.ladder,
        floor_setup=conditioning_setup(versions[gym.kits[0].id].lines, shape, catalogue, gym),
        versions=versions,
    )


def _prepares(plan: SessionPlan, catalogue: Catalogue) -> tuple[Prepared, ...]:
    """What the day's movements need prepared, in every kit version, the gym floor's first."""
    needed: list[Prepared] = ["pulse"]
    for version in plan.versions.values():
        used = [line.movement for line in version.strength] + [line.movement for line in version.conditioning]
        for movement in used:
            needed += catalogue.movements[movement].prepares
    return tuple(dict.fromkeys(needed))


def _warm_up(prepares: Sequence[Prepared], turn: int, catalogue: Catalogue, minutes: int) -> Piece:
    return Piece(
        kind="warm_up",
        title="Warm-up",
        stimulus="Raise the pulse, activate and mobilise what the day uses, then rehearse it.",
        how="The coach leads; everyone does the same, with no equipment.",
        minutes=minutes,
        drills=warm_up(catalogue.drills.values(), prepares, turn, minutes),
    )


def _cool_down(prepares: Sequence[Prepared], turn: int, catalogue: Catalogue, minutes: int) -> Piece:
    return Piece(
        kind="cool_down",
        title="Cool-down",
        stimulus="Let the pulse come down, and move easily through what was used.",
        minutes=minutes,
        drills=cool_down(catalogue.drills.values(), prepares, turn, minutes),
    )


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
