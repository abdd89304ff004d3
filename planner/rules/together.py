"""``together``: what may, must or must not share a session."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field, model_validator

from planner.domain.catalogue import PATTERNS
from planner.rules.base import Audit, AuditDay, Facts, Rule, Term, View, audit_of, place_words
from planner.rules.where import Where


class Together(Rule):
    """One thing that excludes, or asks for, another on the same day.

    Attributes:
        with_: where this is (``with`` in the file) ...
        never: ... this must not be; or
        needs: ... this must be.
        each: each pattern on its own: both selectors then speak of the same pattern.
    """

    kind: Literal["together"]
    with_: Where = Field(alias="with")
    never: Where | None = None
    needs: Where | None = None
    each: Literal["pattern", ""] = ""

    unit = "days"

    @model_validator(mode="after")
    def _one_of(self) -> Together:
        if (self.never is None) == (self.needs is None):
            raise ValueError("give `never` or `needs`, one of them")
        if self.each and any(w.pattern for w in self.selectors()):
            raise ValueError("each: pattern speaks of every pattern; leave `pattern` out of its selectors")
        return self

    @property
    def day_by_day(self) -> bool:  # noqa: D102
        return True

    @property
    def forbids(self) -> bool:  # noqa: D102
        return self.never is not None

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        other = self.never or self.needs
        assert other is not None
        for tag in PATTERNS if self.each else ("",):
            a = self.with_.narrowed(pattern=(tag,)) if tag else self.with_
            b = other.narrowed(pattern=(tag,)) if tag else other
            for day in facts.days:
                place = f"{day}: {tag}" if tag else day
                first, second = view.literal(day, a), view.literal(day, b)
                if self.never is not None:
                    yield Term(place, first + second, 1, 2)
                else:
                    yield Term(place, first - second, 0, 1)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102, ARG002
        places = []
        for d in week:
            for kind in PATTERNS if self.each else ("",):
                here = self._there(self.with_, d, kind)
                if self.never is not None:
                    wrong = here and self._there(self.never, d, kind)
                else:
                    assert self.needs is not None
                    wrong = here and not self._there(self.needs, d, kind)
                places.append((f"{d.day}: {kind}" if kind else d.day, int(wrong)))
        return audit_of(places)

    @staticmethod
    def _there(where: Where, d: AuditDay, kind: str) -> bool:
        if where.about_sessions:
            return where.matches_session(d.shape, d.rating)
        for x in d.lines:
            share = x.facts.movement.share_of(kind) if kind else 100
            if where.matches(x.facts) and share >= where.share_at_least:
                return True
        return False

    def statement(self) -> str:  # noqa: D102
        each = ", pattern by pattern" if self.each else ""
        if self.never is not None:
            return f"No {self.never.words()} on a day with {self.with_.words()}{each}."
        assert self.needs is not None
        return f"A day with {self.with_.words()} also has {self.needs.words()}{each}."

    def sentence(self, place: str, measure: int) -> str:  # noqa: ARG002, D102
        if self.never is not None:
            return f"{place_words(place)}: {self.with_.words()} and {self.never.words()} meet."
        assert self.needs is not None
        return f"{place_words(place)}: {self.with_.words()} without {self.needs.words()}."

    def remedy(self) -> str:  # noqa: D102
        return "Move one of the two to another day."

    def selectors(self) -> tuple[Where, ...]:  # noqa: D102
        return tuple(w for w in (self.with_, self.never, self.needs) if w is not None)
