"""The figures of two weeks beside each other, counted from the weeks alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import combinations
from statistics import mean, stdev
from typing import get_args

from planner.domain.catalogue import PATTERNS, DomainName
from planner.domain.comparison import (
    Both,
    DayLoads,
    DomainFigure,
    Equipment,
    EquipmentFigures,
    Figures,
    LoadFigures,
    Novelty,
    PatternFigure,
    RulePair,
    RuleSide,
)
from planner.domain.gym import DAYS, Day
from planner.domain.week import Line, Piece, RuleResult, Session, Week

WEEKS_BACK = 4
_DOMAINS: tuple[DomainName, ...] = get_args(DomainName)


def figures(a: Week, b: Week, last_weeks: Sequence[Week]) -> Figures:
    """All figures of two weeks.

    Args:
        a: the one.
        b: the other.
        last_weeks: weeks before, in any order.
    """
    held = {day: Both[Session | None](a=_on(a, day), b=_on(b, day)) for day in DAYS}
    days = {day: pair for day, pair in held.items() if pair.a or pair.b}
    return Figures(
        patterns=_patterns(days),
        domains=tuple(
            DomainFigure(domain=d, days=Both[tuple[Day, ...]](a=_domain_days(a, d), b=_domain_days(b, d)))
            for d in _DOMAINS
        ),
        load=_load(days),
        equipment=_equipment(days),
        novelty=Both[Novelty | None](a=_novelty(a, last_weeks), b=_novelty(b, last_weeks)),
        rules=_rules(a, b),
        points=Both[int](a=_points(a), b=_points(b)),
        broken_musts=Both[int](a=_broken(a), b=_broken(b)),
    )


def _on(week: Week, day: Day) -> Session | None:
    return next((session for session in week.sessions if session.day == day), None)


def _patterns(days: dict[Day, Both[Session | None]]) -> tuple[PatternFigure, ...]:
    out = []
    for pattern in PATTERNS:
        by_day = {
            day: Both[int](
                a=pair.a.patterns.get(pattern, 0) if pair.a else 0,
                b=pair.b.patterns.get(pattern, 0) if pair.b else 0,
            )
            for day, pair in days.items()
        }
        total = Both[int](a=sum(x.a for x in by_day.values()), b=sum(x.b for x in by_day.values()))
        if total.a or total.b:
            out.append(PatternFigure(pattern=pattern, days=by_day, total=total))
    return tuple(out)


def _domain_days(week: Week, domain: DomainName) -> tuple[Day, ...]:
    return tuple(s.day for s in week.sessions if any(piece.domain == domain for piece in s.pieces))


def _load(days: dict[Day, Both[Session | None]]) -> LoadFigures:
    rows = tuple(
        DayLoads(
            day=day,
            rating=Both[int | None](a=pair.a.rating if pair.a else None, b=pair.b.rating if pair.b else None),
            au=Both[int](a=pair.a.load_au if pair.a else 0, b=pair.b.load_au if pair.b else 0),
        )
        for day, pair in days.items()
    )
    a, b = [row.au.a for row in rows], [row.au.b for row in rows]
    return LoadFigures(
        days=rows,
        week_au=Both[int](a=sum(a), b=sum(b)),
        monotony=Both[float | None](a=_monotony(a), b=_monotony(b)),
        strain=Both[float | None](a=_strain(a), b=_strain(b)),
    )


def _evenness(au: Sequence[int]) -> float | None:
    """Mean day over standard deviation (n - 1) of seven days; rest days count as nought."""
    seven = [*au, *[0] * (len(DAYS) - len(au))]
    return None if len(set(seven)) == 1 else mean(seven) / stdev(seven)


def _monotony(au: Sequence[int]) -> float | None:
    even = _evenness(au)
    return None if even is None else round(even, 2)


def _strain(au: Sequence[int]) -> float | None:
    even = _evenness(au)
    return None if even is None else round(sum(au) * even)


def _floor(piece: Piece) -> tuple[Line, ...]:
    """The gym floor's lines: the first kit version."""
    return next(iter(piece.versions.values())).lines if piece.versions else ()


def _equipment(days: dict[Day, Both[Session | None]]) -> EquipmentFigures:
    def side(sessions: Iterable[Session | None]) -> Equipment:
        return _needs([piece for session in sessions if session for piece in session.pieces])

    return EquipmentFigures(
        days={day: Both[Equipment](a=side([pair.a]), b=side([pair.b])) for day, pair in days.items()},
        week=Both[Equipment](
            a=side(pair.a for pair in days.values()), b=side(pair.b for pair in days.values())
        ),
    )


def _needs(pieces: Sequence[Piece]) -> Equipment:
    stations = [sorted({_station(line) for line in _floor(piece) if line.equipment}) for piece in pieces]
    return Equipment(
        items=_ordered({item for piece in pieces for line in _floor(piece) for item in line.equipment}),
        stations=_ordered({station for piece in stations for station in piece}),
        sets=_ordered({" and ".join(piece) for piece in stations if piece}),
    )


def _ordered(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(names, key=lambda name: (name.casefold(), name)))


def _station(line: Line) -> str:
    return " + ".join(sorted(line.equipment))


def _novelty(week: Week, last_weeks: Sequence[Week]) -> Novelty | None:
    """What the weeks before did not have; None where none is known."""
    before = {w.week: w for w in last_weeks if w.week < week.week}
    against = sorted(before, reverse=True)[:WEEKS_BACK]
    if not against:
        return None
    past = [before[name] for name in against]

    def new(found: Callable[[Week], dict[object, str]]) -> tuple[str, ...]:
        old = {key for w in past for key in found(w)}
        return _ordered(name for key, name in found(week).items() if key not in old)

    return Novelty(
        against=tuple(against), movements=new(_movements), pairs=new(_pairs), formats=new(_formats)
    )


def _pieces(week: Week) -> Iterable[Piece]:
    return (piece for session in week.sessions for piece in session.pieces)


def _movements(week: Week) -> dict[object, str]:
    return {line.movement: line.name for piece in _pieces(week) for line in _floor(piece)}


def _pairs(week: Week) -> dict[object, str]:
    return {
        frozenset((x.movement, y.movement)): " with ".join(sorted((x.name, y.name)))
        for piece in _pieces(week)
        for x, y in combinations(_floor(piece), 2)
        if x.movement != y.movement
    }


def _formats(week: Week) -> dict[object, str]:
    return {piece.format: piece.format.replace("_", " ") for piece in _pieces(week) if piece.format}


def _rules(a: Week, b: Week) -> tuple[RulePair, ...]:
    one, other = {rule.id: rule for rule in a.rules}, {rule.id: rule for rule in b.rules}
    pairs = []
    for name in {*one, *other}:
        sides = Both[RuleSide | None](a=_side(one.get(name)), b=_side(other.get(name)))
        if not _alike(sides.a, sides.b):
            known = [rule for rule in (one.get(name), other.get(name)) if rule]
            pairs.append(
                RulePair(
                    id=name,
                    statement=_said(rule.statement for rule in known),
                    unit=_said(rule.unit for rule in known),
                    sides=sides,
                )
            )
    return tuple(sorted(pairs, key=_severity))


def _said(texts: Iterable[str]) -> str:
    """A text, or both where the two weeks word it differently; in the same order either way round."""
    return " / ".join(sorted(set(texts)))


def _side(rule: RuleResult | None) -> RuleSide | None:
    if rule is None:
        return None
    return RuleSide(
        level=rule.level,
        weight=rule.weight,
        measure=rule.measure,
        cost=rule.cost,
        places=tuple(place.said for place in rule.places),
    )


def _alike(a: RuleSide | None, b: RuleSide | None) -> bool:
    """Whether a rule binds as much and did as well in both; where it gave way may differ."""
    if a is None or b is None:
        return a is b
    return (a.level, a.weight, a.measure, a.cost) == (b.level, b.weight, b.measure, b.cost)


def _severity(pair: RulePair) -> tuple[object, ...]:
    sides = [side for side in (pair.sides.a, pair.sides.b) if side]
    broken = any(side.level == "must" and side.measure for side in sides)
    cost = [side.cost if side else 0 for side in (pair.sides.a, pair.sides.b)]
    measure = [side.measure if side else 0 for side in (pair.sides.a, pair.sides.b)]
    return not broken, -abs(cost[0] - cost[1]), -abs(measure[0] - measure[1]), pair.id


def _points(week: Week) -> int:
    return sum(rule.cost for rule in week.rules if rule.level == "weight")


def _broken(week: Week) -> int:
    return sum(1 for rule in week.rules if rule.level == "must" and rule.measure)
