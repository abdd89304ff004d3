"""What can go wrong in a store, in words for a coach."""

from __future__ import annotations

from planner.errors import DataError, PlannerError


class StoreConflict(PlannerError):  # noqa: N818  (it is no error of anybody's, and reads better so)
    """Somebody else changed the week meanwhile, or is writing just now; nothing was lost, nothing written."""


class NothingThereError(DataError):
    """There is nothing to undo or redo, or no such revision; the store is well."""
