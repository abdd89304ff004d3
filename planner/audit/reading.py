"""From a written-out week back to the plan behind it, so that any week file can be audited."""

from __future__ import annotations

from planner.domain.plan import (
    LIFTING,
    RUNNING,
    ConditioningLine,
    PiecePlan,
    Plan,
    SessionPlan,
    StrengthLine,
)
from planner.domain.week import Line, Piece, Session, Week
from planner.errors import DataError


def plan_of(week: Week) -> Plan:
    """The plan that a week writes out.

    Raises:
        DataError: a piece lacks a kit version.
    """
    return Plan(week=week.week, sessions=tuple(_session(week, s) for s in week.sessions))


def _session(week: Week, session: Session) -> SessionPlan:
    pieces = tuple(_piece(week, session, p) for p in session.pieces if p.kind in LIFTING + RUNNING)
    return SessionPlan(day=session.day, pieces=pieces, notes=session.notes, drills=session.drills)


def _piece(week: Week, session: Session, piece: Piece) -> PiecePlan:
    for kit in week.kits:
        if kit.id not in piece.versions:
            raise DataError(f"{session.day}: there is no version for {kit.name}")
    lifts = piece.kind in LIFTING
    return PiecePlan.model_validate(
        {
            "kind": piece.kind,
            "shape": "" if piece.composition else piece.shape,
            "composition": piece.composition,
            "paired": any(x.planned and x.planned.paired for x in piece.versions[week.kits[0].id].lines),
            "flow": piece.flow,
            "note": piece.note,
            "versions": {
                kit.id: tuple(
                    _strength(x) if lifts else _conditioning(x, piece) for x in piece.versions[kit.id].lines
                )
                for kit in week.kits
            },
        }
    )


def _conditioning(line: Line, piece: Piece) -> ConditioningLine:
    return ConditioningLine(
        movement=line.movement,
        dose=_dose(line, piece),
        tier=line.tier,
        spot=line.spot,
        numbers=line.numbers,
        kg=line.said_kg,
        start=line.said_start,
        open=line.open,
        most_s=line.most_s,
        note=line.note,
    )


def _strength(line: Line) -> StrengthLine:
    """A strength line as planned; what was changed in the file since stands."""
    ids = {"movement": line.movement, "scheme": line.scheme, "assistance": line.assistance}
    if line.planned is None or line.planned.scheme != line.scheme:
        return StrengthLine.model_validate(ids)
    return line.planned.model_copy(update=ids)


def _dose(line: Line, piece: Piece) -> int:
    if line.numbers:
        return sum(line.numbers)
    return sum(piece.ladder) if piece.ladder and line.spot == "turn" else line.dose.value
