"""``spacing``: hours between exposures, this week and against the last sessions of the week before."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field, model_validator

from planner.domain.catalogue import PATTERNS
from planner.domain.gym import DAYS
from planner.domain.line import LineFacts
from planner.rules.base import Audit, AuditDay, Facts, Rule, Term, View, audit_of, place_words
from planner.rules.where import Where

HOURS_A_DAY = 24


class Spacing(Rule):
    """Hours between two days of the same work.

    Attributes:
        where: the work.
        hours: fewest hours between the two; sessions are taken to be at the same time of day.
        each: each pattern on its own.
    """

    kind: Literal["spacing"]
    where: Where
    hours: int = Field(ge=25, le=168)
    each: Literal["pattern", ""] = ""

    unit = "hours too few"

    @model_validator(mode="after")
    def _about_lines(self) -> Spacing:
        if self.where.about_sessions:
            raise ValueError("spacing is about lines; for sessions use `sequence`, or `limit` with per: span")
        return self

    @property
    def forbids(self) -> bool:  # noqa: D102
        return True

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        tags = list(self.where.pattern or PATTERNS) if self.each else [""]
        for tag in tags:
            where = self.where.narrowed(pattern=(tag,)) if tag else self.where
            suffix = f": {tag}" if tag else ""
            for i, first in enumerate(facts.days):
                for second in facts.days[i + 1 :]:
                    short = self.hours - HOURS_A_DAY * (DAYS.index(second) - DAYS.index(first))
                    if short > 0:
                        pair = view.literal(first, where) + view.literal(second, where)
                        yield Term(f"{first}-{second}{suffix}", pair, 1, 2, scale=short)
                for past in facts.past:
                    short = self.hours - HOURS_A_DAY * (DAYS.index(first) + past.days_ago)
                    if short > 0 and any(x.facts and where.matches(x.facts) for x in past.lines):
                        yield Term(f"{first}{suffix}", view.literal(first, where), 0, 1, scale=short)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        places: list[tuple[str, int]] = []
        kinds: tuple[str, ...] = (self.where.pattern or PATTERNS) if self.each else ("",)
        for kind in kinds:
            suffix = f": {kind}" if kind else ""
            exposed = [d for d in week if self._exposed([x.facts for x in d.lines], kind)]
            places.extend((d.day + suffix, 0) for d in week)
            for a in exposed:
                for b in exposed:
                    gap = (b.index - a.index) * 24
                    if 0 < gap < self.hours:
                        places.append((f"{a.day}-{b.day}{suffix}", self.hours - gap))
                for p in facts.past:
                    gap = (a.index + p.days_ago) * 24
                    if gap < self.hours and self._exposed([x.facts for x in p.lines if x.facts], kind):
                        places.append((a.day + suffix, self.hours - gap))
        return audit_of(places)

    def _exposed(self, lines: list[LineFacts], kind: str) -> bool:
        return any(
            self.where.matches(x) and (not kind or x.movement.share_of(kind) >= self.where.share_at_least)
            for x in lines
        )

    def statement(self) -> str:  # noqa: D102
        each = ", each pattern on its own" if self.each else ""
        return f"At least {self.hours} hours between days of {self.where.words()}{each}."

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        return f"{place_words(place)}: {measure} hours short of the {self.hours} between the two."

    def remedy(self) -> str:  # noqa: D102
        return "Move one of the two days apart, or make one of them lighter."

    def selectors(self) -> tuple[Where, ...]:  # noqa: D102
        return (self.where,)
