"""``due``: something comes round again within so many weeks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field, model_validator

from planner.domain.gym import Day
from planner.domain.words import spelt
from planner.rules.base import Audit, AuditDay, Facts, Rule, Term, View, audit_of, place_words
from planner.rules.where import Where


class Due(Rule):
    """Something that any few weeks in a row should have at least once.

    It is due from the middle of that time on: missing then, it costs one unit, and one more with each week
    that it stays away. Only weeks that are on record count as weeks without it.

    Attributes:
        where: lines, or sessions.
        weeks: in any so many weeks in a row it comes at least once.
        on: any day; or ``fullest``, the days with the largest class.
    """

    kind: Literal["due"]
    where: Where
    weeks: int = Field(4, ge=2, le=8)
    on: Literal["any", "fullest"] = "any"

    unit = "weeks too long"

    @model_validator(mode="after")
    def _of_the_past_too(self) -> Due:
        if self.where.hardness or self.where.movements or self.where.heats:
            raise ValueError(
                "what is due is told by format, domain, or lines: more is not known of past weeks"
            )
        return self

    @property
    def standing(self) -> int:  # noqa: D102
        return 1

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        missing = self._missing(facts)
        if missing > 0:
            there = [view.literal(day, self.where) for day in self._days(facts)]
            yield Term("week", 1 - sum(there), 0, 1, scale=missing)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        largest = max(facts.class_on(day) for day in facts.days)
        counted = [d for d in week if self.on == "any" or facts.class_on(d.day) == largest]
        run = 1
        for ago in range(1, self.weeks):
            then = [p for p in facts.past if p.weeks_ago == ago]
            if any(p.had(self.where) for p in then):
                break
            run += bool(then)
        late = max(0, run - self.weeks // 2)
        return audit_of([("week", 0 if any(map(self._is_there, counted)) else late)] if late else [])

    def _is_there(self, d: AuditDay) -> bool:
        if self.where.about_sessions:
            return d.shape is not None and self.where.matches_session(d.shape, d.rating)
        return any(self.where.matches(x.facts) for x in d.lines)

    def _days(self, facts: Facts) -> tuple[Day, ...]:
        most = max(facts.class_on(day) for day in facts.days)
        return tuple(d for d in facts.days if self.on == "any" or facts.class_on(d) == most)

    def _missing(self, facts: Facts) -> int:
        """What this week costs without it: weeks without it, this one included, beyond half the time."""
        past = [p for p in facts.past if p.weeks_ago < self.weeks]
        with_it = [p.weeks_ago for p in past if p.had(self.where)]
        since = min(with_it, default=self.weeks)
        without = {p.weeks_ago for p in past if p.weeks_ago < since}
        return len(without) + 1 - self.weeks // 2

    def statement(self) -> str:  # noqa: D102
        on = " on the day with the most people" if self.on == "fullest" else ""
        return f"Any {spelt(self.weeks)} weeks in a row have {self.where.words()}{on}."

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        weeks = "week" if measure == 1 else "weeks"
        return f"{place_words(place)}: {measure} {weeks} too long without it."

    def remedy(self) -> str:  # noqa: D102
        return "Give it a day this week."

    def selectors(self) -> tuple[Where, ...]:  # noqa: D102
        return (self.where,)
