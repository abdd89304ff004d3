"""Plans with something changed in them, and how long the class of a drafted day is."""

from __future__ import annotations

from collections.abc import Mapping

from planner.domain.catalogue import Scheme, Shape
from planner.domain.clock import ALONE, Turns, blocks_of, strength_minutes
from planner.domain.plan import SessionPlan, VersionPlan


def with_versions(
    session: SessionPlan, versions: Mapping[str, VersionPlan], shape: str | None = None
) -> SessionPlan:
    """A drafted day with other lines, by kit; and another shape."""
    given = {"day": session.day, "shape": shape or session.shape, "versions": dict(versions)}
    return SessionPlan.model_validate(given)


def session_minutes(
    scheme: Scheme | None, assistance: bool, shape: Shape | None, turns: Turns = ALONE
) -> int:
    """Minutes of a class with one strength piece and one conditioning piece at most."""
    minutes = strength_minutes(scheme, assistance, turns), shape.cap_minutes if shape else 0
    return sum(n for _, n in blocks_of(zip(("strength", "conditioning"), minutes, strict=True)))
