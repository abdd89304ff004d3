"""``share``: one group of work against another over the week."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from pydantic import Field, model_validator

from planner.domain.week import Side
from planner.rules.base import Audit, AuditDay, Facts, Rule, Term, View, audit_of
from planner.rules.where import Where


class Share(Rule):
    """Either ``of`` against ``to``, as near to even as ``within`` lines; or ``of`` as a percentage of ``to``.

    Attributes:
        of: the first group of lines.
        to: the second; for a percentage the whole, which includes the first.
        within: most lines by which the two may differ.
        percent: least and most percent of ``to`` that ``of`` may be; breach in whole lines, rounded up.
    """

    kind: Literal["share"]
    of: Where
    to: Where
    within: int | None = Field(None, ge=0)
    percent: tuple[int, int] | None = None

    unit = "movements"

    @model_validator(mode="after")
    def _one_of(self) -> Share:
        if (self.within is None) == (self.percent is None):
            raise ValueError("give `within` or `percent`, one of them")
        if self.percent and not 0 <= self.percent[0] <= self.percent[1] <= 100:  # noqa: PLR2004
            raise ValueError("percent: least and most, 0 to 100")
        if self.of.about_sessions or self.to.about_sessions:
            raise ValueError("share is about lines; count sessions with `limit`")
        return self

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        part = [view.lines(d, self.of) for d in facts.days]
        whole = [view.lines(d, self.to) for d in facts.days]
        a, most_a = sum(x.least for x in part), sum(x.upper for x in part)
        b, most_b = sum(x.least for x in whole), sum(x.upper for x in whole)
        if self.within is not None:
            yield Term("week", a - b, self.within, most_a)
            yield Term("week", b - a, self.within, most_b)
        elif self.percent is not None:
            low, high = self.percent
            yield Term("week", 100 * a - high * b, 0, 100 * most_a, divide=100)
            yield Term("week", low * b - 100 * a, 0, low * most_b, divide=100)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102, ARG002
        every = [x.facts for d in week for x in d.lines]
        a = len([x for x in every if self.of.matches(x)])
        b = len([x for x in every if self.to.matches(x)])
        if self.within is not None:
            measure = abs(a - b) - self.within
        else:
            assert self.percent is not None
            too_many = -(-(100 * a - self.percent[1] * b) // 100)
            too_few = -(-(self.percent[0] * b - 100 * a) // 100)
            measure = max(too_many, too_few)
        whole = self.percent is not None
        sides = (Side(name=self.of.words(), count=a), Side(name=self.to.words(), count=b, whole=whole))
        return replace(audit_of([("week", max(0, measure))]), sides=sides)

    def statement(self) -> str:  # noqa: D102
        if self.within is not None:
            said = f"{self.of.words()} and {self.to.words()} differ by at most {self.within} a week."
            return said.capitalize()
        assert self.percent is not None
        low, high = self.percent
        return f"{self.of.words()}: {low} to {high} % of {self.to.words()}.".capitalize()

    def sentence(self, place: str, measure: int) -> str:  # noqa: ARG002, D102
        return f"Over the week: {measure} {self.unit} out of proportion."

    def remedy(self) -> str:  # noqa: D102
        return f"Swap a line between {self.of.words()} and {self.to.words()}."

    def selectors(self) -> tuple[Where, ...]:  # noqa: D102
        return (self.of, self.to)
