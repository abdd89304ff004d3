"""From a written-out week back to the plan behind it, so that any week file can be audited."""

from __future__ import annotations

from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine, VersionPlan
from planner.domain.week import Line, Piece, Session, Week
from planner.errors import DataError


def plan_of(week: Week) -> Plan:
    """The plan that a week writes out.

    Raises:
        DataError: a session lacks its strength or its conditioning.
    """
    return Plan(week=week.week, sessions=tuple(_session(week, s) for s in week.sessions))


def _session(week: Week, session: Session) -> SessionPlan:
    strength, conditioning = _piece(session, "strength"), _piece(session, "conditioning")
    versions = {}
    for kit in week.kits:
        if kit.id not in conditioning.versions or kit.id not in strength.versions:
            raise DataError(f"{session.day}: there is no version for {kit.name}")
        versions[kit.id] = VersionPlan(
            strength=tuple(_strength(x) for x in strength.versions[kit.id].lines),
            conditioning=tuple(
                ConditioningLine(movement=x.movement, dose=_dose(x, conditioning), tier=x.tier)
                for x in conditioning.versions[kit.id].lines
            ),
        )
    return SessionPlan(day=session.day, shape=conditioning.shape, versions=versions)


def _strength(line: Line) -> StrengthLine:
    """A strength line as planned; what was changed in the file since stands."""
    ids = {"movement": line.movement, "scheme": line.scheme, "assistance": line.assistance}
    if line.planned is None or line.planned.scheme != line.scheme:
        return StrengthLine.model_validate(ids)
    return line.planned.model_copy(update=ids)


def _dose(line: Line, piece: Piece) -> int:
    return sum(piece.ladder) if piece.ladder else line.dose.value


def _piece(session: Session, kind: str) -> Piece:
    for piece in session.pieces:
        if piece.kind == kind:
            return piece
    raise DataError(f"{session.day}: there is no {kind} piece")
