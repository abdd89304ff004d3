"""``fit``: the class fits its minutes, and a piece its time domain."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from planner.domain.timing import TRANSITION_TENTHS
from planner.rules.base import NATURE, Audit, AuditDay, Facts, Rule, Stage, Term, View, audit_of, place_words


class Fit(Rule):
    """Minutes on the class clock, or predicted time inside the domain.

    Attributes:
        what: ``clock``: all parts of the class add up to at most its minutes; ``use``: they leave an
            athlete at most ``spare_percent`` of them unused, waiting for the other heat included; ``domain``:
            a typical athlete's predicted time lies inside the shape's window.
        spare_percent: percent of the class that may be left over, whole minutes; with ``what: use``.
    """

    kind: Literal["fit"]
    what: Literal["clock", "use", "domain"]
    spare_percent: int = Field(0, ge=0, le=60)

    @property
    def stage(self) -> Stage:  # noqa: D102
        return "doses" if self.what == "domain" else "lines"

    @property
    def day_by_day(self) -> bool:  # noqa: D102
        return True

    @property
    def on_time(self) -> bool:  # noqa: D102
        return self.what == "domain"

    @property
    def standing(self) -> int:  # noqa: D102
        return NATURE

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        for day in facts.days:
            if self.what == "clock":
                minutes, most = view.clock(day)
                yield Term(day, minutes, facts.class_minutes, most)
            elif self.what == "use":
                minutes, _ = view.clock(day, one_heat=True)
                yield Term(day, -minutes, self._spare(facts) - facts.class_minutes, 0)
            else:
                for pace in view.paces(day):
                    step = 10 * pace.rounds
                    yield Term(day, pace.takes.least - pace.longest, 0, pace.upper, divide=step)
                    yield Term(day, pace.shortest - pace.takes.most, 0, pace.upper, divide=step)

    def _spare(self, facts: Facts) -> int:
        return facts.class_minutes * self.spare_percent // 100

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        places: list[tuple[str, int]] = []
        for d in week:
            if self.what == "clock":
                places.append((d.day, max(0, d.clock_minutes - facts.class_minutes)))
                continue
            if self.what == "use":
                waiting = d.shape.cap_minutes - d.shape.cap_minutes // d.shape.heats if d.shape else 0
                left = facts.class_minutes - d.clock_minutes + waiting
                places.append((d.day, max(0, left - facts.class_minutes * self.spare_percent // 100)))
                continue
            lines = [x for x in d.lines if x.facts.piece == "conditioning" and not x.facts.piece_number]
            if d.shape is None:
                continue
            ways = d.shape.steps if d.shape.whole else (len(d.shape.ladder) or 1) * len(lines)
            taken = sum(x.tenths for x in lines) + ways * TRANSITION_TENTHS
            least, most = d.window_tenths
            outside = max(0, taken - most, least - taken)
            places.append((d.day, -(-outside // 10)))
        return audit_of(places)

    def unit_words(self) -> str:  # noqa: D102
        return {"clock": "minutes over", "use": "minutes unused", "domain": "seconds a round outside"}[
            self.what
        ]

    def statement(self) -> str:  # noqa: D102
        if self.what == "clock":
            return "All parts of the class fit into its minutes."
        if self.what == "use":
            return f"At most {self.spare_percent} % of the class is left over."
        return "The predicted time of the conditioning lies inside its time domain."

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        return f"{place_words(place)}: {measure} {self.unit_words()}."

    def remedy(self) -> str:  # noqa: D102
        if self.what == "clock":
            return "Choose a shorter scheme or a shorter piece."
        if self.what == "use":
            return "Choose a longer scheme or a longer piece, or add assistance."
        return "Change doses or rounds."
