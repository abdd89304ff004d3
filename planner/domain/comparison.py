"""Two weeks beside each other: the difference, figures of both, and a summary."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.domain.difference import Difference
from planner.domain.week import RuleResult, Week

FigureGroup = Literal["training", "upkeep", "day", "pattern"]
"""What the week asks of people; what it asks of the gym and the rules; the load of a day; a pattern."""
ListGroup = Literal["domain", "equipment", "new"]
"""Days by time domain; equipment of the gym floor; what the weeks before did not have."""


@dataclass(frozen=True)
class Figure:
    """A number of both weeks.

    Attributes:
        group: what it belongs to.
        term: what is counted.
        a: of the one; None where it cannot be said; ``b`` of the other.
        note: how it is counted.
        praise: what the one with more has, "more planned load"; with fewer where it begins so.
        parts: what it is made of: exposures by day; the rating of a day's load.
    """

    group: FigureGroup
    term: str
    a: float | None
    b: float | None
    note: str = ""
    praise: str = ""
    parts: tuple[Figure, ...] = ()

    @property
    def same(self) -> bool:
        """Whether both have the same, in every part too."""
        return self.a == self.b and all(part.same for part in self.parts)


@dataclass(frozen=True)
class Listing:
    """Things of both weeks: what they are things of, the noun for one of them, and their names in order."""

    group: ListGroup
    term: str
    noun: str
    a: tuple[str, ...]
    b: tuple[str, ...]


@dataclass(frozen=True)
class Comparison:
    """Two candidates beside each other.

    Attributes:
        names: "A" and "B", or what sets them apart.
        week: what differs, down to the lines.
        rules: those that differ; broken musts first, then the greatest difference in points.
        figures: in groups.
        lists: in groups; none of what is new where no earlier week is known.
        against: ISO weeks before, newest first, four at most.
        summary: a few sentences, made from the difference and the figures.
    """

    names: tuple[str, str]
    week: Difference[Week]
    rules: tuple[Difference[RuleResult], ...]
    figures: tuple[Figure, ...]
    lists: tuple[Listing, ...]
    against: tuple[str, ...]
    summary: tuple[str, ...]


def gym_floors(week: Difference[Week]) -> frozenset[str]:
    """Ids of the kit versions that are the gym floor: the first of each week."""
    return frozenset(side.kits[0].id for side in (week.a, week.b) if side and side.kits)
