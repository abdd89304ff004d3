"""A week as schema.org ``ExercisePlan``, for programs that read a sheet."""

from __future__ import annotations

from typing import Any

from planner.domain.week import Line, Load, Piece, Session, Week
from planner.render import notation

_UNITS = {"metres": "MTR", "seconds": "SEC"}
"""UN/CEFACT common codes; calories have none there in the trade's sense."""
KILOGRAM = "KGM"
_EXERCISE = {"loaded": "Strength training", "bodyweight": "Bodyweight training", "cyclic": "Aerobic exercise"}


def exercise_plan(week: Week, sessions: tuple[Session, ...], kit: str) -> dict[str, Any]:
    """Sessions in one kit version as JSON-LD.

    Args:
        week: whose sessions they are.
        sessions: which of them.
        kit: id of the version.

    Returns:
        A plan with a part for each session, which has a part for each movement.
    """
    return {
        "@context": "https://schema.org",
        "@type": "ExercisePlan",
        "name": f"{week.gym}, {notation.iso_week(week.week)}",
        "activityFrequency": {"@type": "QuantitativeValue", "value": len(sessions), "unitText": "a week"},
        "hasPart": [_session(session, week, kit) for session in sessions],
    }


def _session(session: Session, week: Week, kit: str) -> dict[str, Any]:
    return {
        "@type": "ExercisePlan",
        "name": session.title,
        "temporalCoverage": session.date,
        "activityDuration": f"PT{week.class_minutes}M",
        "intensity": f"{session.rating} of 10, {session.rating_words}",
        "hasPart": [
            _line(line, piece, week)
            for piece in session.pieces
            if kit in piece.versions
            for line in piece.versions[kit].lines
        ],
    }


def _line(line: Line, piece: Piece, week: Week) -> dict[str, Any]:
    found: dict[str, Any] = {
        "@type": "ExercisePlan",
        "name": line.name,
        "description": f"{piece.title}: {notation.dose(line)}",
        "exerciseType": _EXERCISE[line.modality],
        "activityDuration": f"PT{piece.minutes}M",
        "intensity": _intensity(line, piece),
        "workload": [_load(load, week) for load in line.loads] or _amount(line),
    }
    if line.dose.unit == "reps":
        found["repetitions"] = _quantity(line.dose.value, unitText=notation.dose(line))
    if line.rest_s:
        found["restPeriods"] = _quantity(line.rest_s, unitCode="SEC")
    return found


def _intensity(line: Line, piece: Piece) -> str:
    parts = [notation.percent(line.loads)]
    if line.reserve is not None:
        parts.append(f"{notation.count(line.reserve, 'rep')} in reserve")
    return ", ".join(part for part in parts if part) or piece.stimulus


def _load(load: Load, week: Week) -> dict[str, Any]:
    name = next((a.name for a in week.athletes if a.id == load.athlete), load.athlete)
    return _quantity(load.kg, unitCode=KILOGRAM, name=f"{name}: {load.text}")


def _amount(line: Line) -> dict[str, Any]:
    code = _UNITS.get(line.dose.unit)
    return _quantity(line.total, **({"unitCode": code} if code else {"unitText": line.dose.unit}))


def _quantity(value: float, **more: str) -> dict[str, Any]:
    return {"@type": "QuantitativeValue", "value": value, **more}
