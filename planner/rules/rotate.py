"""``rotate``: not the same again as in the last weeks."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations
from math import ceil, floor
from typing import Literal

from pydantic import Field, model_validator

from planner.domain.gym import DAYS, Day
from planner.rules.base import (
    Audit,
    AuditDay,
    Expr,
    Facts,
    PastSession,
    Rule,
    Term,
    View,
    audit_of,
    place_words,
)
from planner.rules.where import Where


class Rotate(Rule):
    """Something that was there in the last weeks and should not come back yet.

    Attributes:
        what: the movements of the selected lines, pairs of them in one conditioning piece, the scheme with
            its main lift, or the conditioning's format with its time domain on the same weekday; or
            ``week_load``, the sum of the expected ratings, which should stay near what it was.
        where: which lines, for movements and pairs.
        weeks: how many weeks back.
        within_percent: with ``week_load``: how far it may be from the mean of those weeks.
    """

    kind: Literal["rotate"]
    what: Literal["movement", "pairing", "lift_and_scheme", "weekday_format", "week_load"]
    where: Where = Where()
    weeks: int = Field(1, ge=1, le=4)
    within_percent: int = Field(15, ge=0, le=100)

    unit = "repeats"

    @model_validator(mode="after")
    def _about_lines(self) -> Rotate:
        if self.where.about_sessions:
            raise ValueError("rotate selects lines; for sessions use what: weekday_format")
        return self

    @property
    def forbids(self) -> bool:  # noqa: D102
        return self.what != "week_load"

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        past = [p for p in facts.past if p.weeks_ago <= self.weeks]
        if not past:
            return
        if self.what == "week_load":
            yield from self._load_in_model(view, facts, past)
            return
        for day in facts.days:
            repeats = self._repeats_in_model(view, day, past)
            if repeats:
                yield Term(day, sum(repeats), 0, len(repeats))

    def _load_in_model(self, view: View, facts: Facts, past: list[PastSession]) -> Iterator[Term]:
        ratings = [view.rating(day) for day in facts.days]
        total, most = sum(r for r, _ in ratings), sum(u for _, u in ratings)
        mean_times_weeks, weeks = sum(p.rating for p in past), len({p.weeks_ago for p in past})
        low = mean_times_weeks * (100 - self.within_percent) // (100 * weeks)
        high = -(-mean_times_weeks * (100 + self.within_percent) // (100 * weeks))
        yield Term("week", total, high, most)
        yield Term("week", -total, -low, 0)

    def _repeats_in_model(self, view: View, day: Day, past: list[PastSession]) -> list[Expr]:
        lines = view.matching(day, self.where)
        if self.what == "movement":
            old = {x.movement for p in past for x in p.lines if x.facts and self.where.matches(x.facts)}
            return [lit for f, lit in lines if f.movement.id in old]
        if self.what == "lift_and_scheme":
            used = {
                (x.movement, p.scheme) for p in past for x in p.lines if x.facts and x.facts.piece == "main"
            }
            return [
                lit
                for f, lit in lines
                if f.piece == "main" and f.scheme and (f.movement.id, f.scheme.id) in used
            ]
        if self.what == "weekday_format":
            same = [p for p in past if (7 - p.days_ago) % 7 == DAYS.index(day)]
            kinds = {(p.shape_format, p.domain) for p in same}
            return [lit for s, lit in view.shapes(day) if (s.format, s.domain) in kinds]
        by_movement: dict[str, list[Expr]] = {}
        for f, lit in lines:
            if f.piece == "conditioning":
                by_movement.setdefault(f.movement.id, []).append(lit)
        pairs: dict[tuple[str, str], None] = {}
        for p in past:
            ids = sorted({x.movement for x in p.lines if x.facts and x.facts.piece == "conditioning"})
            pairs.update((pair, None) for pair in combinations(ids, 2))
        out = []
        for a, b in pairs:
            if a in by_movement and b in by_movement:
                both = [view.any_of(by_movement[a], a), view.any_of(by_movement[b], b)]
                out.append(view.all_of(both, f"{day}_{a}_{b}"))
        return out

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        earlier = [p for p in facts.past if p.weeks_ago <= self.weeks]
        if self.what == "week_load":
            return audit_of([("week", self._load_off(week, earlier))]) if earlier else audit_of([])
        return audit_of([(d.day, self._repeats(d, earlier)) for d in week]) if earlier else audit_of([])

    def _load_off(self, week: tuple[AuditDay, ...], earlier: list[PastSession]) -> int:
        """Rating points by which the week is beyond what is near: whole points, to the week's favour."""
        by_week: dict[int, int] = {}
        for p in earlier:
            by_week[p.weeks_ago] = by_week.get(p.weeks_ago, 0) + p.rating
        mean = Fraction(sum(by_week.values()), len(by_week))
        low = floor(mean * (100 - self.within_percent) / 100)
        high = ceil(mean * (100 + self.within_percent) / 100)
        now = sum(d.rating for d in week)
        return max(0, now - high, low - now)

    def _repeats(self, d: AuditDay, earlier: list[PastSession]) -> int:
        mine = [x.facts for x in d.lines if self.where.matches(x.facts)]
        if self.what == "movement":
            before = [x.movement for p in earlier for x in p.lines if x.facts and self.where.matches(x.facts)]
            return len([f for f in mine if f.movement.id in before])
        if self.what == "lift_and_scheme":
            return len(
                [
                    f
                    for f in mine
                    if f.piece == "main"
                    and any(
                        x.facts and x.facts.piece == "main" and x.movement == f.movement.id
                        and f.scheme and p.scheme == f.scheme.id
                        for p in earlier
                        for x in p.lines
                    )
                ]
            )  # fmt: skip
        if self.what == "weekday_format":
            here = (d.shape.format, d.shape.domain) if d.shape else None
            return int(
                any((d.index + p.days_ago) % 7 == 0 and (p.shape_format, p.domain) == here for p in earlier)
            )
        ids = {f.movement.id for f in mine if f.piece == "conditioning"}
        met = set()
        for p in earlier:
            there = {x.movement for x in p.lines if x.facts and x.facts.piece == "conditioning"}
            met |= {frozenset(pair) for pair in combinations(sorted(ids & there), 2)}
        return len(met)

    def statement(self) -> str:  # noqa: D102
        back = "last week" if self.weeks == 1 else f"the last {self.weeks} weeks"
        return {
            "movement": f"No movement of {self.where.words()} comes back from {back}.",
            "pairing": f"No two movements meet in conditioning again that met in {back}.",
            "lift_and_scheme": f"No main lift comes back under the same scheme as in {back}.",
            "week_load": f"The week's load stays within {self.within_percent} % of the mean of {back}.",
            "weekday_format": f"No weekday has the format and time domain that it had in {back}.",
        }[self.what]

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        if self.what == "week_load":
            return f"Over the week: {measure} rating points beyond what is near the last weeks."
        times = "once" if measure == 1 else f"{measure} times"
        return f"{place_words(place)}: repeats what was there before, {times}."

    def remedy(self) -> str:  # noqa: D102
        if self.what == "week_load":
            return "Make a day easier, or harder, as the last weeks were."
        return "Swap it for something that has not been there lately."

    def selectors(self) -> tuple[Where, ...]:  # noqa: D102
        return (self.where,)
