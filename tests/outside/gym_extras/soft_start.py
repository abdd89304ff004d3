"""A kind of rule: how hard the first session of the week may be."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from planner.rules.base import Audit, AuditDay, Facts, Rule, Term, View, audit_of, place_words


class SoftStart(Rule):
    """The week's first session is not expected to be harder than this.

    Attributes:
        hardest: expected rating, 0 to 10.
    """

    kind: Literal["soft_start"]
    hardest: int = Field(ge=0, le=10)

    unit = "points of rating"

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:
        first = facts.days[0]
        rating, most = view.rating(first)
        yield Term(first, rating, self.hardest, most)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:
        return audit_of([(d.day, max(0, d.rating - self.hardest)) for d in week if d.day == facts.days[0]])

    def statement(self) -> str:
        return f"The week begins with a session rated {self.hardest} at most."

    def sentence(self, place: str, measure: int) -> str:
        return f"{place_words(place)} is too hard a start by {measure}."

    def remedy(self) -> str:
        return "Take a shorter or a lighter piece for the first day."
