"""How often a property of the text form is tried: by default, and on request."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

OFTEN = settings(max_examples=500, deadline=None, suppress_health_check=list(HealthCheck))
VERY_OFTEN = settings(OFTEN, max_examples=10_000)
