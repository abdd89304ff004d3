"""What the coach has overruled, in words, for every sheet."""

from __future__ import annotations

import re

from planner.domain.gym import Day
from planner.domain.week import Week
from planner.render import notation
from planner.render.contexts import Overruled


def overruled(week: Week, day: Day | None = None) -> tuple[Overruled, ...]:
    """Overruled rules, except those that hold anyway.

    Args:
        week: as audited.
        day: only what concerns this day; all if None.
    """
    return tuple(
        Overruled(
            anchor=f"rule-{rule.id}",
            statement=notation.sentence(rule.statement),
            said=notation.sentence(place.sentence),
            because=notation.sentence(place.overruled),
        )
        for rule in week.rules
        for place in rule.places
        if place.overruled and (day is None or day in re.split(r"\W+", place.place))
    )
