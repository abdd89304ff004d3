"""From a session as a coach wrote it to the plan that is kept, and back.

Nothing that she wrote is weighed here: what the rules think of it is said when the week is drafted.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.domain.catalogue import Catalogue, Movement, Tier
from planner.domain.gym import DAY_NAMES, Gym
from planner.domain.lifting import TIER_ORDER, one_rm_kg, tier_percent, usual_kg
from planner.domain.plan import (
    ConditioningLine,
    PiecePlan,
    PlanLine,
    SessionPlan,
    StrengthLine,
)
from planner.domain.running import composition_of, rungs_of, timed_lines
from planner.domain.written import (
    Composition,
    WrittenConditioning,
    WrittenDrills,
    WrittenLift,
    WrittenLine,
    WrittenPiece,
    WrittenSession,
    WrittenStrength,
)
from planner.errors import DataError
from planner.prescribe.own_scheme import lift_of, line_of

HALF_PERCENT = 50
"""Of a slot that holds a whole round, so much is taken to be work where it says only "as many as you can"."""


def planned(session: WrittenSession, catalogue: Catalogue, gym: Gym) -> SessionPlan:
    """The plan of a written session: gym floor, and the versions that she wrote too.

    Args:
        session: as written; its names are ids.
        catalogue: movements and schemes.
        gym: kits and reference athletes.

    Raises:
        DataError: the gym is closed that day, or a version has other lines than the gym floor.
    """
    if session.day not in gym.days:
        open_days = ", ".join(DAY_NAMES[d] for d in gym.days)
        raise DataError(f"the gym is closed on {DAY_NAMES[session.day]}", advice=f"It opens on {open_days}.")
    floor = gym.kits[0].id
    decided = [p for p in session.pieces if not isinstance(p, WrittenDrills)]
    pieces = [_piece(p, catalogue, gym) for p in decided]
    versions: dict[str, list[tuple[PlanLine, ...]]] = {floor: [x[1] for x in pieces]}
    for kit, own in session.versions.items():
        mine = [_piece(p, catalogue, gym)[1] for p in own if not isinstance(p, WrittenDrills)]
        if [len(x) for x in mine] != [len(x) for x in versions[floor]]:
            name = next((k.name for k in gym.kits if k.id == kit), kit)
            raise DataError(
                f"{DAY_NAMES[session.day]}, {name}: the version has other lines than the gym floor",
                advice="Write a line for each line of the gym floor, in the same order, or leave it out.",
            )
        versions[kit] = mine
    return SessionPlan(
        day=session.day,
        pieces=tuple(
            bare.model_copy(update={"versions": {kit: lines[i] for kit, lines in versions.items()}})
            for i, (bare, _) in enumerate(pieces)
        ),
        notes=session.notes,
        drills=tuple(p for p in session.pieces if isinstance(p, WrittenDrills)),
    )


def _piece(
    piece: WrittenStrength | WrittenConditioning, catalogue: Catalogue, gym: Gym
) -> tuple[PiecePlan, tuple[PlanLine, ...]]:
    if isinstance(piece, WrittenConditioning):
        lines = _lines(piece, catalogue, gym)
        bare = PiecePlan(
            kind=piece.kind, composition=piece.composition, versions={gym.kits[0].id: lines}, note=piece.note
        )
        return bare, lines
    lifts = tuple(
        line_of(lift, catalogue, assistance=_beside(lift, catalogue), paired=piece.paired and i > 0)
        for i, lift in enumerate(piece.lifts)
    )
    bare = PiecePlan(kind=piece.kind, paired=piece.paired, versions={gym.kits[0].id: lifts}, note=piece.note)
    return bare, lifts


def _beside(lift: WrittenLift, catalogue: Catalogue) -> bool:
    """Whether a lift is assistance: its sets are, or its movement is nothing else."""
    scheme = catalogue.schemes.get(lift.scheme or "")
    roles = catalogue.movements[lift.parts[0].movement].all_roles
    return scheme.goal == "assistance" if scheme else "main" not in roles and "assistance" in roles


def _lines(piece: WrittenConditioning, catalogue: Catalogue, gym: Gym) -> tuple[ConditioningLine, ...]:
    usual = _usual_tier(piece.lines, catalogue, gym)
    lines = tuple(_line(x, piece, usual, catalogue, gym) for x in piece.lines)
    if not piece.composition.ladder:
        return lines
    rungs = rungs_of(piece.composition, timed_lines(lines, catalogue))

    def in_rungs(x: ConditioningLine) -> ConditioningLine:
        """A line among numbers that change, with the sum of those; one with a number of its own keeps it."""
        if len(x.numbers) == 1:
            return x.model_copy(update={"numbers": x.numbers * len(rungs), "dose": x.dose * len(rungs)})
        return x if x.numbers or x.spot != "turn" else x.model_copy(update={"dose": sum(rungs)})

    return tuple(map(in_rungs, lines))


def _line(
    x: WrittenLine, piece: WrittenConditioning, usual: Tier, catalogue: Catalogue, gym: Gym
) -> ConditioningLine:
    m = catalogue.movements[x.movement]
    tier = _tier(x, m, gym) or (usual if m.modality == "loaded" else "open")
    laddered = bool(piece.composition.ladder) and x.spot == "turn"
    ladder = piece.composition.ladder if laddered and not (x.numbers or x.dose or x.most_s) else ()
    known = sum(x.numbers) or x.dose or sum(ladder)
    slots = x.most_s or piece.composition.clock in {"every", "work_rest"}
    dose = known or _as_many(m, piece, tier, x.most_s)
    return ConditioningLine(
        movement=x.movement,
        dose=dose,
        tier=tier,
        spot=x.spot,
        numbers=x.numbers or ((dose,) if laddered and not ladder else ()),
        kg=x.kg,
        start=x.start,
        open=not known and bool(slots),
        most_s=x.most_s,
        note=x.note,
    )


def _as_many(m: Movement, piece: WrittenConditioning, tier: Tier, seconds: int | None) -> int:
    """What most get done where no number is said: in its own seconds, in a slot's, else a middling dose."""
    c = piece.composition
    each = m.pace.seconds * (2 if m.sides == "per_side" else 1)
    if seconds:
        return max(1, int(seconds / each))
    work = c.seconds if c.clock == "work_rest" else (c.every_s or 0) * HALF_PERCENT // 100
    if work:
        shared = 1 if c.by_movement else max(1, sum(x.spot == "turn" for x in piece.lines))
        return max(1, int(work / shared / each))
    numbers = m.doses.get(tier) or next(iter(m.doses.values()), (10,))
    return numbers[len(numbers) // 2]


def _usual_tier(lines: Sequence[WrittenLine], catalogue: Catalogue, gym: Gym) -> Tier:
    """How heavy a loaded line is that does not say: as the first that does, else light."""
    said = (_tier(x, catalogue.movements[x.movement], gym) for x in lines)
    return next((tier for tier in said if tier and tier != "open"), "light")


def _tier(x: WrittenLine, m: Movement, gym: Gym) -> Tier | None:
    """How heavy a line is said to be, by word or by its load against what the first athlete lifts."""
    if m.modality != "loaded":
        return "open"
    if x.tier is not None or x.kg is None:
        return x.tier
    athlete = gym.athletes[0]
    best = one_rm_kg(m, athlete)

    def off(tier: Tier) -> float:
        usual = best * tier_percent(m, tier) / 100 if best else usual_kg(m, tier, athlete)
        return abs((usual or 0) - x.kg[0]) if x.kg else 0

    return min(TIER_ORDER, key=off)


# And back -------------------------------------------------------------------------------------------------


def said(session: SessionPlan, catalogue: Catalogue, kit: str | None = None) -> WrittenSession:
    """A session as it is said on a board: the gym floor with all its numbers.

    Args:
        session: as planned.
        catalogue: shapes and schemes.
        kit: id of another version to say in its place.
    """
    before = [d for d in session.drills if d.kind == "warm_up"]
    after = [d for d in session.drills if d.kind == "cool_down"]
    pieces: list[WrittenPiece] = [*before, *(_said_piece(p, catalogue, kit) for p in session.pieces), *after]
    return WrittenSession(day=session.day, pieces=tuple(pieces), notes=session.notes)


def _said_piece(piece: PiecePlan, catalogue: Catalogue, kit: str | None) -> WrittenPiece:
    lines = piece.versions[kit or next(iter(piece.versions))]
    if piece.lifts:
        lifts = tuple(lift_of(x, catalogue) for x in lines if isinstance(x, StrengthLine))
        return WrittenStrength(
            kind="skill" if piece.kind == "skill" else "strength",
            lifts=lifts,
            paired=piece.paired,
            note=piece.note,
        )
    running = [x for x in lines if isinstance(x, ConditioningLine)]
    composition = piece.composition or composition_of(catalogue.shapes[piece.shape], catalogue).model_copy(
        update={"flow": piece.flow}
    )
    return WrittenConditioning(
        kind="finisher" if piece.kind == "finisher" else "conditioning",
        composition=composition,
        lines=tuple(_said_line(x, composition, catalogue) for x in running),
        note=piece.note,
    )


def _said_line(x: ConditioningLine, c: Composition, catalogue: Catalogue) -> WrittenLine:
    ladder = bool(c.ladder) and x.spot == "turn"
    numbers = () if x.open else x.numbers
    dose = None if x.open or numbers or ladder else x.dose
    if ladder and len(set(numbers)) == 1:
        dose, numbers = numbers[0], ()
    loaded = catalogue.movements[x.movement].modality == "loaded"
    return WrittenLine(
        movement=x.movement,
        spot=x.spot,
        dose=dose,
        numbers=numbers,
        most_s=x.most_s,
        tier=x.tier if loaded and x.kg is None and x.tier != "open" else None,
        kg=x.kg,
        start=x.start,
        note=x.note,
    )
