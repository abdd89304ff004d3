"""``limit``: at least, at most, or between so many of something a day, a week, or any few days."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field, model_validator

from planner.domain.catalogue import PATTERNS
from planner.domain.gym import DAYS, Day
from planner.rules.base import (
    Amount,
    Audit,
    AuditDay,
    Facts,
    Rule,
    Stage,
    Term,
    View,
    audit_of,
    place_words,
)
from planner.rules.where import Where

_UNITS: dict[str, tuple[str, str]] = {
    "days": ("day", "days"),
    "lines": ("movement", "movements"),
    "units": ("rep or metre", "reps or metres"),
    "contacts": ("landing", "landings"),
    "sets": ("set", "sets"),
    "implements": ("load", "different loads"),
    "large": ("large station", "large stations"),
}
"""What is counted, as one and as many."""
Counted = Literal["days", "lines", "units", "contacts", "sets", "implements", "large"]


class Limit(Rule):
    """A count with a floor, a ceiling, or both.

    Attributes:
        where: what is counted.
        count: days with any of it, lines, units (reps, metres, ...) over the piece, landing contacts, work
            sets, or distinct loads in the hands and distinct large stations.
        per: a day, the week, or ``span``: any ``span_days`` days in a row.
        span_days: with ``per: span``.
        each: count each pattern, or each movement, on its own.
        at_least: fewest.
        at_most: most.
    """

    kind: Literal["limit"]
    where: Where
    count: Counted = "lines"
    per: Literal["day", "week", "span"] = "day"
    span_days: int = Field(0, ge=0, le=7)
    each: Literal["pattern", "movement", ""] = ""
    at_least: int | None = Field(None, ge=0)
    at_most: int | None = Field(None, ge=0)

    @model_validator(mode="after")
    def _hangs_together(self) -> Limit:
        if self.at_least is None and self.at_most is None:
            raise ValueError("give at_least, at_most, or both")
        if self.at_least is not None and self.at_most is not None and self.at_least > self.at_most:
            raise ValueError(f"at_least {self.at_least} is more than at_most {self.at_most}")
        if (self.per == "span") != (self.span_days > 0):
            raise ValueError("per: span and span_days go together")
        if self.each == "movement" and self.at_least is not None:
            raise ValueError("each: movement takes at_most only: no week has every movement")
        if self.where.about_sessions and self.count != "days":
            raise ValueError("sessions are counted in days")
        if self.where.about_sessions and self.each:
            raise ValueError("each: is for selectors about lines")
        return self

    @property
    def stage(self) -> Stage:  # noqa: D102
        strength_only = bool(self.where.piece) and "conditioning" not in self.where.piece
        return "doses" if self.count in ("units", "contacts") and not strength_only else "lines"

    @property
    def forbids(self) -> bool:  # noqa: D102
        return self.at_least is None

    @property
    def day_by_day(self) -> bool:  # noqa: D102
        return self.per == "day"

    @property
    def standing(self) -> int:  # noqa: D102
        return super().standing if self.at_least is None else 1

    # Encode -----------------------------------------------------------------------------------------

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        for tag, where in self._parts_in_model(view, facts):
            for place, days in _spans(self.per, self.span_days, facts.days):
                counted = [self._in_model(view, day, where) for day in days]
                upper = sum(c.upper for c in counted)
                at = f"{place}: {tag}" if tag else place
                if self.at_most is not None and upper > self.at_most:
                    yield Term(at, sum(c.least for c in counted), self.at_most, upper)
                if self.at_least is not None and self.at_least > 0:
                    yield Term(at, -sum(c.most for c in counted), -self.at_least, 0)

    def _parts_in_model(self, view: View, facts: Facts) -> list[tuple[str, Where]]:
        if self.each == "pattern":
            return [(p, self.where.narrowed(pattern=(p,))) for p in self.where.pattern or PATTERNS]
        if self.each == "movement":
            found: dict[str, None] = {}
            for day in facts.days:
                found.update((f.movement.id, None) for f, _ in view.matching(day, self.where))
            return [(m, self.where.narrowed(movement=(m,))) for m in found]
        return [("", self.where)]

    def _in_model(self, view: View, day: Day, where: Where) -> Amount:
        if self.count == "days":
            return Amount.exactly(view.literal(day, where), 1)
        if self.count == "lines":
            return view.lines(day, where)
        if self.count == "implements" or self.count == "large":  # noqa: PLR1714  (narrows the type)
            return view.items(day, where, self.count)
        return view.units(day, where, self.count)

    # Audit ------------------------------------------------------------------------------------------

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: ARG002, D102
        places: list[tuple[str, int]] = []
        if self.each == "pattern":
            kinds: list[str] = list(self.where.pattern or PATTERNS)
        elif self.each == "movement":
            kinds = sorted(
                {x.facts.movement.id for d in week for x in d.lines if self.where.matches(x.facts)}
            )
        else:
            kinds = [""]
        groups: list[tuple[str, list[AuditDay]]] = []
        if self.per == "day":
            groups = [(d.day, [d]) for d in week]
        elif self.per == "week":
            groups = [("week", list(week))]
        else:
            for first in range(7 - self.span_days + 1):
                inside = [d for d in week if first <= d.index < first + self.span_days]
                groups.append((f"{DAYS[first]}-{DAYS[first + self.span_days - 1]}", inside))
        for kind in kinds:
            for place, days in groups:
                n = sum(self._measured(d, kind) for d in days)
                over = max(0, n - self.at_most) if self.at_most is not None else 0
                under = max(0, self.at_least - n) if self.at_least is not None else 0
                places.append((f"{place}: {kind}" if kind else place, over + under))
        return audit_of(places)

    def _measured(self, day: AuditDay, kind: str) -> int:  # noqa: PLR0911  (one for each kind of count)
        if self.where.about_sessions:
            return int(self.where.matches_session(day.shape, day.rating))
        lines = [x for x in day.lines if self.where.matches(x.facts)]
        if self.each == "pattern":
            lines = [x for x in lines if x.facts.movement.share_of(kind) >= self.where.share_at_least]
        elif self.each == "movement":
            lines = [x for x in lines if x.facts.movement.id == kind]
        if self.count == "days":
            return 1 if lines else 0
        if self.count == "lines":
            return len(lines)
        if self.count == "units":
            return sum(x.units for x in lines)
        if self.count == "contacts":
            return sum(x.units * x.facts.movement.takes.contacts for x in lines)
        if self.count == "sets":
            return sum(x.facts.scheme.sets for x in lines if x.facts.scheme)
        if self.count == "implements":
            return len({x.facts.load for x in lines} - {None})
        return len({item for x in lines for item in x.facts.large})

    # Say --------------------------------------------------------------------------------------------

    def unit_words(self) -> str:  # noqa: D102
        return _UNITS[self.count][1]

    def statement(self) -> str:  # noqa: D102
        low, high = self.at_least, self.at_most
        if low is not None and high is not None:
            amount = f"{low}" if low == high else f"{low} to {high}"
        else:
            amount = f"at least {low}" if low is not None else (f"at most {high}" if high else "no")
        one, many = _UNITS[self.count]
        unit = one if (high if high is not None else low) == 1 else many
        span = {"day": "a day", "week": "a week", "span": f"in any {self.span_days} days"}[self.per]
        if self.count == "days" and self.per == "day":
            span = ""
        each = f" for each {self.each}" if self.each else ""
        text = f"{self.where.words()}: {amount} {unit} {span}{each}."
        return text[0].upper() + text[1:]

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        both = self.at_least is not None and self.at_most is not None
        side = "off" if both else ("too few" if self.at_least is not None else "too many")
        return f"{place_words(place)}: {measure} {_UNITS[self.count][measure > 1]} {side}."

    def remedy(self) -> str:  # noqa: D102
        if self.at_most is None:
            return f"Ask for more {self.where.words()}, or ask for less."
        return f"Swap a line for one without {self.where.words()}, or allow more."

    def selectors(self) -> tuple[Where, ...]:  # noqa: D102
        return (self.where,)


def _spans(per: str, span_days: int, days: tuple[Day, ...]) -> list[tuple[str, list[Day]]]:
    """Places and their open days, for the model."""
    if per == "day":
        return [(day, [day]) for day in days]
    if per == "week":
        return [("week", list(days))]
    windows = [DAYS[i : i + span_days] for i in range(len(DAYS) - span_days + 1)]
    return [(f"{w[0]}-{w[-1]}", [d for d in w if d in days]) for w in windows]
