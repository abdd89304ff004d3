"""A day that the coach wrote: every line with its dose, as it will be, whatever the rules think of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.domain.catalogue import Catalogue, Scheme, Shape
from planner.domain.complexes import lifted
from planner.domain.gym import Gym
from planner.domain.line import LineFacts, LinePiece, line_facts
from planner.domain.plan import (
    ConditioningLine,
    PiecePlan,
    PlanLine,
    SessionPlan,
    StrengthLine,
    scheme_of_line,
)
from planner.domain.running import day_facts, near
from planner.domain.timing import walking_tenths
from planner.prescribe.equipped import equipped
from planner.prescribe.stock import Stock
from planner.prescribe.taking import takes_of
from planner.problem.candidates import DoseChoice, explicit_dose, strength_dose


@dataclass(frozen=True, slots=True, eq=False)
class GivenLine:
    """A line on the gym floor.

    Attributes:
        facts: of it.
        line: as it is written.
        dose: as it is written.
        shape: how its piece runs; None in a strength piece.
        at: its piece among the day's, and its place there.
    """

    facts: LineFacts
    line: PlanLine
    dose: DoseChoice
    shape: Shape | None
    at: tuple[int, int]


@dataclass(frozen=True, slots=True, eq=False)
class GivenDay:
    """A day as it is written.

    Attributes:
        session: the plan of it; the gym floor, and other versions where these are written too.
        lines: on the gym floor, in order.
        shape: how the first piece with a clock runs; None where there is none.
        rating: expected rating of the session.
        minutes: on the class clock.
    """

    session: SessionPlan
    lines: tuple[GivenLine, ...]
    shape: Shape | None
    rating: int
    minutes: int


def given_day(session: SessionPlan, catalogue: Catalogue, gym: Gym) -> GivenDay:
    """Everything that planning asks of a written day; what the catalogue does not have is left out."""
    facts_of_day = day_facts(session, catalogue, gym)
    stock = Stock(gym, gym.kits[0], catalogue.items)
    lines: list[GivenLine] = []
    seen: dict[tuple[bool, str], int] = {}
    for number, (piece, shape) in enumerate(zip(session.pieces, facts_of_day.shapes, strict=True)):
        for place, line in enumerate(piece.versions[gym.kits[0].id]):
            made = _facts(piece, line, catalogue, stock)
            if made is None or (shape is None and not piece.lifts):
                continue
            key = piece.lifts, line.movement
            before = [p for p in session.pieces[:number] if p.lifts == piece.lifts]
            facts = replace(made, piece_number=len(before), again=seen.get(key, 0))
            seen[key] = facts.again + 1
            lines.append(GivenLine(facts, line, _dose(facts, line, shape), shape, (number, place)))
    shape = facts_of_day.shape
    if shape is not None and not shape.whole:
        shape = _near_its_time(shape, lines)
    return GivenDay(session, tuple(lines), shape, facts_of_day.rating, facts_of_day.minutes)


def _near_its_time(shape: Shape, lines: list[GivenLine]) -> Shape:
    """A catalogue's shape with the time that the written doses take in the place of its own."""
    taken = walking_tenths(shape) + sum(x.dose.tenths for x in lines if x.shape is shape)
    return shape.model_copy(update={"window_tenths": near(taken)})


def _facts(piece: PiecePlan, line: PlanLine, catalogue: Catalogue, stock: Stock) -> LineFacts | None:
    m = catalogue.movements.get(line.movement)
    if m is None:
        return None
    scheme: Scheme | None = None
    kind: LinePiece = "conditioning"
    if isinstance(line, StrengthLine):
        scheme = scheme_of_line(line, catalogue)
        kind = "assistance" if line.assistance or piece.kind == "skill" else "main"
        if scheme is None:
            return None
        m = lifted(m, scheme, catalogue.movements)
    tier = scheme.tier if scheme else line.tier if isinstance(line, ConditioningLine) else "open"
    needs = equipped(m, kind, tier, scheme, stock).needs or m.setups[0].needs
    on_floor = stock.kit.id == stock.gym.kits[0].id
    made = line_facts(kind, m, tier, scheme, needs, catalogue.items, stock.gym, floor=on_floor)
    if not isinstance(line, ConditioningLine):
        return made
    return replace(made, spot=line.spot, takes=takes_of(m, needs, line.tier, stock))


def _dose(facts: LineFacts, line: PlanLine, shape: Shape | None) -> DoseChoice:
    if isinstance(line, ConditioningLine) and shape is not None:
        return explicit_dose(facts.movement, line, shape)
    assert facts.scheme is not None
    return strength_dose(facts.movement, facts.scheme)
