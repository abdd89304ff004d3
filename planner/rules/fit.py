"""``fit``: the class fits its minutes, and a piece its time domain."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from planner.domain.timing import TRANSITION_TENTHS
from planner.rules.base import Audit, AuditDay, Facts, Rule, Stage, Term, View, audit_of, place_words


class Fit(Rule):
    """Minutes on the class clock, or predicted time inside the domain.

    Attributes:
        what: ``clock``: all parts of the class add up to at most its minutes; ``domain``: a typical athlete's
            predicted time lies inside the shape's window.
    """

    kind: Literal["fit"]
    what: Literal["clock", "domain"]

    @property
    def stage(self) -> Stage:  # noqa: D102
        return "both" if self.what == "clock" else "doses"

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        for day in facts.days:
            if self.what == "clock":
                minutes, most = view.clock(day)
                yield Term(day, minutes, facts.class_minutes, most)
            else:
                pace, least, most_allowed, bound = view.pace(day)
                yield Term(day, pace - most_allowed, 0, bound, divide=10)
                yield Term(day, least - pace, 0, bound, divide=10)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        places = []
        for d in week:
            if self.what == "clock":
                places.append((d.day, max(0, d.clock_minutes - facts.class_minutes)))
                continue
            lines = [x for x in d.lines if x.facts.piece == "conditioning"]
            walking = (len(d.shape.ladder) or 1) * len(lines) * TRANSITION_TENTHS
            taken = sum(x.tenths for x in lines) + walking
            least, most = d.shape.window_tenths
            outside = max(0, taken - most, least - taken)
            places.append((d.day, -(-outside // 10)))
        return audit_of(places)

    def unit_words(self) -> str:  # noqa: D102
        return "minutes over" if self.what == "clock" else "seconds a round outside"

    def statement(self) -> str:  # noqa: D102
        if self.what == "clock":
            return "All parts of the class fit into its minutes."
        return "The predicted time of the conditioning lies inside its time domain."

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        return f"{place_words(place)}: {measure} {self.unit_words()}."

    def remedy(self) -> str:  # noqa: D102
        if self.what == "clock":
            return "Choose a shorter scheme or a shorter piece."
        return "Change doses or rounds."
