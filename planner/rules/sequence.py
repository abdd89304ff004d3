"""``sequence``: what must not follow what, day after day."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Literal

from pydantic import Field, model_validator

from planner.domain.gym import DAYS, Day
from planner.rules.base import Audit, AuditDay, Expr, Facts, Rule, Term, View, audit_of, place_words
from planner.rules.where import Where


class Sequence(Rule):
    """A run of calendar days that must not be, or a property that must change from one day to the next.

    Attributes:
        never: selectors of days in a row, such as three hard days.
        differ: what must differ between one day and the next where both are open.
    """

    kind: Literal["sequence"]
    never: tuple[Where, ...] = Field((), max_length=6)
    differ: Literal["domain", "format", "movements", ""] = ""

    unit = "times"

    @model_validator(mode="after")
    def _one_of(self) -> Sequence:
        if bool(self.never) == bool(self.differ):
            raise ValueError("give `never` (selectors of days in a row) or `differ`, one of them")
        if len(self.never) == 1:
            raise ValueError("`never` needs two days at least")
        return self

    @property
    def forbids(self) -> bool:  # noqa: D102
        return True

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        if self.never:
            n = len(self.never)
            for i in range(len(DAYS) - n + 1):
                run = DAYS[i : i + n]
                if all(d in facts.days for d in run):
                    met = sum(view.literal(d, w) for d, w in zip(run, self.never, strict=True))
                    yield Term(f"{run[0]}-{run[-1]}", met, n - 1, n)
            return
        for first, second in pairwise(DAYS):
            if first in facts.days and second in facts.days:
                mine, next_ones = self._by_value(view, first), self._by_value(view, second)
                for value, literals in mine.items():
                    if value in next_ones:
                        both = sum(literals) + sum(next_ones[value])
                        yield Term(f"{first}-{second}", both, 1, 2)

    def _by_value(self, view: View, day: Day) -> dict[str, list[Expr]]:
        out: dict[str, list[Expr]] = {}
        for shape, literal in view.shapes(day):
            out.setdefault(str(getattr(shape, self.differ)), []).append(literal)
        return out

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102, ARG002
        by_index = {d.index: d for d in week}
        places = []
        for start in range(7):
            if self.differ:
                a, b = by_index.get(start), by_index.get(start + 1)
                if a and b and a.shape and b.shape:
                    same = {
                        "domain": a.shape.domain == b.shape.domain,
                        "format": a.shape.format == b.shape.format,
                        "movements": a.shape.movements == b.shape.movements,
                    }[self.differ]
                    places.append((f"{a.day}-{b.day}", int(same)))
                continue
            days = [by_index.get(start + k) for k in range(len(self.never))]
            if all(days):
                met = [self._there(w, d) for w, d in zip(self.never, days, strict=True) if d]
                places.append((f"{DAYS[start]}-{DAYS[start + len(days) - 1]}", int(all(met))))
        return audit_of(places)

    @staticmethod
    def _there(where: Where, d: AuditDay) -> bool:
        if where.about_sessions:
            return where.matches_session(d.shape, d.rating)
        return any(where.matches(x.facts) for x in d.lines)

    def statement(self) -> str:  # noqa: D102
        if self.differ:
            noun = {"domain": "time domain", "format": "format", "movements": "number of movements"}[
                self.differ
            ]
            return f"The {noun} of the conditioning differs from the day before."
        words = [w.words() for w in self.never]
        if len(set(words)) == 1:
            return f"Never {len(words)} days in a row of {words[0]}."
        return "Never in a row: " + ", then ".join(words) + "."

    def sentence(self, place: str, measure: int) -> str:  # noqa: ARG002, D102
        if self.differ:
            noun = {"domain": "time domain", "format": "format", "movements": "number of movements"}[
                self.differ
            ]
            return f"{place_words(place)}: the same {noun} two days in a row."
        return f"{place_words(place)}: the run that this rule forbids."

    def remedy(self) -> str:  # noqa: D102
        return "Change one of the days in the run."

    def selectors(self) -> tuple[Where, ...]:  # noqa: D102
        return self.never
