"""Plans with something changed in them."""

from __future__ import annotations

from collections.abc import Mapping

from planner.domain.plan import SessionPlan, VersionPlan


def with_versions(
    session: SessionPlan, versions: Mapping[str, VersionPlan], shape: str | None = None
) -> SessionPlan:
    """A drafted day with other lines, by kit; and another shape."""
    given = {"day": session.day, "shape": shape or session.shape, "versions": dict(versions)}
    return SessionPlan.model_validate(given)
