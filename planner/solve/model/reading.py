"""From solver values to a plan: which lines are there, and in which order they are done."""

from __future__ import annotations

from itertools import pairwise, permutations

from planner.domain.catalogue import Movement, Shape
from planner.domain.gym import Day
from planner.domain.plan import (
    OWN,
    ConditioningLine,
    PiecePlan,
    PlanLine,
    SessionPlan,
    StrengthLine,
    VersionPlan,
)
from planner.domain.written import SPOTS
from planner.problem.candidates import DoseChoice
from planner.problem.given import GivenLine
from planner.solve.model.view import LineVar

Chosen = tuple[LineVar, DoseChoice]


def in_order(lines: list[Chosen], shape: Shape) -> list[Chosen]:
    """The order with the least clash between neighbours, spot by spot; in rounds the last meets the first.

    Ties go to cyclic work first, then to the catalogue's order, so that the same set is always written alike.
    """
    around = shape.turns > 1

    def clash(order: tuple[Chosen, ...]) -> tuple[int, int, tuple[str, ...]]:
        moves = [c[0].facts.movement for c in order]
        pairs = list(pairwise(moves))
        if around and len(moves) > 2:  # noqa: PLR2004
            pairs.append((moves[-1], moves[0]))
        late = next((i for i, m in enumerate(moves) if m.modality == "cyclic"), 0)
        return sum(neighbours_clash(a, b) for a, b in pairs), late, tuple(m.id for m in moves)

    turn = [x for x in lines if x[1].part.spot == "turn"]
    orders: list[tuple[Chosen, ...]] = list(permutations(turn))
    ordered = min(orders, key=lambda order: clash(tuple(order)))
    by_spot = {spot: [x for x in lines if x[1].part.spot == spot] for spot in SPOTS}
    return [x for spot in SPOTS for x in (ordered if spot == "turn" else by_spot[spot])]


def neighbours_clash(a: Movement, b: Movement) -> int:
    """How much two movements fight when one follows the other: grip, overhead, back, and shared pattern."""
    shared = sum(min(a.patterns[p], b.patterns.get(p, 0)) for p in a.patterns)
    ta, tb = a.takes, b.takes
    return 40 * (min(ta.grip, tb.grip) + min(ta.overhead, tb.overhead) + min(ta.back, tb.back)) + shared


def version_plan(lines: list[Chosen]) -> VersionPlan:
    """Lines as ids."""
    strength, conditioning = [], []
    for x, dose in lines:
        f = x.facts
        if f.scheme is not None:
            strength.append(
                StrengthLine(movement=f.movement.id, scheme=f.scheme.id, assistance=f.piece == "assistance")
            )
        else:
            conditioning.append(
                ConditioningLine(movement=f.movement.id, dose=dose.dose, tier=f.tier, spot=dose.part.spot)
            )
    return VersionPlan(strength=tuple(strength), conditioning=tuple(conditioning))


def session_plan(day: Day, shape: Shape, versions: dict[str, VersionPlan]) -> SessionPlan:
    """A day as ids."""
    strength, conditioning = (
        {kit: getattr(version, kind) for kit, version in versions.items()}
        for kind in ("strength", "conditioning")
    )
    pieces = (
        PiecePlan(kind="strength", versions=strength),
        PiecePlan(kind="conditioning", shape=shape.id, versions=conditioning),
    )
    return SessionPlan(day=day, pieces=pieces)


def given_line(written: GivenLine, chosen: LineVar, dose: DoseChoice) -> PlanLine:
    """The line of a kit version that stands for one that the coach wrote."""
    line, f = written.line, chosen.facts
    if isinstance(line, StrengthLine):
        assert f.scheme is not None
        own = {"movement": f.movement.id, "scheme": f.scheme.id}
        if f.scheme.id != line.scheme:  # what has no such sets has its own
            made = f.scheme if f.scheme.id.startswith(OWN) else None
            return StrengthLine(**own, own=made, assistance=line.assistance, paired=line.paired)
        kept = {} if f.movement.id == line.movement else {"kg": None, "start": None}
        return line.model_copy(update=own | kept)
    return ConditioningLine(
        movement=f.movement.id,
        dose=dose.dose,
        tier=f.tier,
        spot=line.spot,
        numbers=dose.ladder,
        kg=line.kg if f.movement.id == line.movement else None,
        open=line.open,
        most_s=line.most_s,
    )
