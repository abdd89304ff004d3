"""From a comparison's figures to the tables of its page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from planner.domain.comparison import Both, Comparison, Figures, RulePair, RuleSide
from planner.domain.gym import DAY_NAMES
from planner.domain.words import capital, listed, spelt
from planner.render import notation
from planner.render.pictures import SCALE, Bar

PLACES_SHOWN = 3
"""More places of one rule would hide the next rule."""


@dataclass(frozen=True)
class FigureRow:
    """One figure of both weeks.

    Attributes:
        term: what it is.
        a: of the one, and ``b`` of the other.
        note: in small type under the term.
        apart: the difference; empty where there is none.
        bars: two that grow from the middle; none where a picture says nothing.
        same: whether both are alike.
    """

    term: str
    a: str
    b: str
    note: str
    apart: str
    bars: tuple[Bar, ...]
    same: bool


@dataclass(frozen=True)
class TripleRow:
    """Things of one week only, of both, and of the other only."""

    term: str
    counts: str
    only_a: str
    both: str
    only_b: str
    same: bool


@dataclass(frozen=True)
class RuleSideView:
    """How a rule did: by how much it gave way, what that cost, and where."""

    measure: str
    cost: str
    places: tuple[str, ...]


@dataclass(frozen=True)
class RuleRow:
    """A rule that did not do the same."""

    id: str
    statement: str
    level: str
    a: RuleSideView
    b: RuleSideView
    apart: str


@dataclass(frozen=True)
class FiguresView:
    """All tables."""

    key: tuple[FigureRow, ...]
    loads: tuple[FigureRow, ...]
    patterns: tuple[FigureRow, ...]
    domains: tuple[TripleRow, ...]
    equipment: tuple[TripleRow, ...]
    novelty: tuple[TripleRow, ...]
    novelty_said: str
    rules: tuple[RuleRow, ...]


def figures_view(comparison: Comparison) -> FiguresView:
    """The tables of a comparison's figures."""
    numbers = comparison.figures
    return FiguresView(
        key=_key(numbers),
        loads=_loads(numbers),
        patterns=_patterns(numbers),
        domains=tuple(
            _triple(
                capital(row.domain), [DAY_NAMES[d][:3] for d in row.days.a],
                [DAY_NAMES[d][:3] for d in row.days.b], "day",
            )
            for row in numbers.domains
        ),
        equipment=_equipment(numbers),
        novelty=_novelty(numbers),
        novelty_said=_novelty_said(comparison),
        rules=tuple(_rule(rule) for rule in numbers.rules),
    )  # fmt: skip


def _figure(
    term: str,
    pair: Both[int] | Both[float | None],
    *,
    note: str = "",
    most: int = 0,
    shown: Both[str] | None = None,
) -> FigureRow:
    a, b = pair.a, pair.b
    texts = shown or Both[str](a=_number(a), b=_number(b))
    apart = ""
    if a != b:
        apart = "not in both" if a is None or b is None else _number(abs(a - b))
    return FigureRow(
        term=term,
        a=texts.a,
        b=texts.b,
        note=note,
        apart=apart,
        bars=_facing(a or 0, b or 0, most) if most else (),
        same=a == b and texts.same,
    )


def _number(value: float | None) -> str:
    return "none" if value is None else notation.number(value)


def _facing(left: float, right: float, most: int) -> tuple[Bar, Bar]:
    """Two bars from the middle, on the scale of the whole table."""
    half = SCALE / 2
    a, b = round(half * left / most, 2), round(half * right / most, 2)
    return Bar(half - a, a, "solid"), Bar(half, b, "half")


def _key(numbers: Figures) -> tuple[FigureRow, ...]:
    load, week, new = numbers.load, numbers.equipment.week, numbers.novelty
    rows = [
        _figure("Planned load", load.week_au, note="rating times minutes, summed"),
        _figure("Monotony", load.monotony, note="mean day over its standard deviation"),
        _figure("Strain", load.strain, note="load times monotony"),
        _figure("Points given up", numbers.points, note="on weighted rules; fewer is better"),
        _figure("Musts broken", numbers.broken_musts),
        _figure("Items of equipment", _sizes(week.a.items, week.b.items), note="distinct, gym floor"),
        _figure("Set-ups", _sizes(week.a.sets, week.b.sets), note="distinct sets of stations"),
    ]
    if new.a and new.b:
        rows.append(
            _figure("New movements", _sizes(new.a.movements, new.b.movements), note=_since(new.a.against))
        )
    return tuple(rows)


def _sizes(a: Sequence[str], b: Sequence[str]) -> Both[int]:
    return Both[int](a=len(a), b=len(b))


def _since(weeks: Sequence[str]) -> str:
    return f"not in the {f'{spelt(len(weeks))} weeks' if len(weeks) > 1 else 'week'} before"


def _loads(numbers: Figures) -> tuple[FigureRow, ...]:
    most = max((au for row in numbers.load.days for au in (row.au.a, row.au.b)), default=0)

    def side(au: int, rating: int | None) -> str:
        return "rest" if rating is None else f"{au:,}, rated {rating}"

    return tuple(
        _figure(
            DAY_NAMES[row.day],
            row.au,
            most=most or 1,
            shown=Both[str](a=side(row.au.a, row.rating.a), b=side(row.au.b, row.rating.b)),
        )
        for row in numbers.load.days
    )


def _patterns(numbers: Figures) -> tuple[FigureRow, ...]:
    most = max((n for row in numbers.patterns for n in (row.total.a, row.total.b)), default=1)
    out = []
    for row in numbers.patterns:
        where = [
            f"{DAY_NAMES[day][:3]} {pair.a}\N{NO-BREAK SPACE}:\N{NO-BREAK SPACE}{pair.b}"
            for day, pair in row.days.items()
            if not pair.same
        ]
        shown = Both[str](a=str(row.total.a), b=str(row.total.b))
        made = _figure(
            notation.PATTERN_WORDS[row.pattern], row.total, most=most, shown=shown, note=", ".join(where)
        )
        if where and made.same:  # as often, on other days
            made = replace(made, apart="other days", same=False)
        out.append(made)
    return tuple(out)


def _triple(term: str, a: Sequence[str], b: Sequence[str], noun: str, between: str = ", ") -> TripleRow:
    return TripleRow(
        term=term,
        counts=_against(a, b, noun),
        only_a=_listing((x for x in a if x not in b), between),
        both=_listing((x for x in a if x in b), between),
        only_b=_listing((x for x in b if x not in a), between),
        same=set(a) == set(b),
    )


def _against(a: Sequence[str], b: Sequence[str], noun: str) -> str:
    """How many there are: "5 items", or "5 against 4 items"."""
    last = notation.count(len(b), noun)
    return last if len(a) == len(b) else f"{len(a)} against {last}"


def _listing(items: Iterable[str], between: str) -> str:
    return between.join(items)


def _equipment(numbers: Figures) -> tuple[TripleRow, ...]:
    week = numbers.equipment.week
    rows = []
    for day, pair in numbers.equipment.days.items():
        row = _triple(DAY_NAMES[day], pair.a.items, pair.b.items, "item")
        stations = _against(pair.a.stations, pair.b.stations, "station")
        alike = row.same and pair.a.stations == pair.b.stations
        rows.append(replace(row, counts=f"{row.counts}, {stations}", same=alike))
    return (
        *rows,
        _triple("Week, items", week.a.items, week.b.items, "item"),
        _triple("Week, stations", week.a.stations, week.b.stations, "station"),
        _triple("Week, sets of stations", week.a.sets, week.b.sets, "set", " / "),
    )


def _novelty(numbers: Figures) -> tuple[TripleRow, ...]:
    a, b = numbers.novelty.a, numbers.novelty.b
    if a is None or b is None:
        return ()
    return (
        _triple("Movements", a.movements, b.movements, "movement"),
        _triple("Pairs in one piece", a.pairs, b.pairs, "pair"),
        _triple("Formats", a.formats, b.formats, "format"),
    )


def _novelty_said(comparison: Comparison) -> str:
    a, b = comparison.figures.novelty.a, comparison.figures.novelty.b
    if a is None or b is None:
        return "No earlier week is known, so nothing can be called new."
    weeks = dict.fromkeys((*a.against, *b.against))
    return f"Not on the gym floor in {listed(notation.iso_week(week) for week in weeks)}."


def _rule(rule: RulePair) -> RuleRow:
    sides = [side for side in (rule.sides.a, rule.sides.b) if side]
    levels = dict.fromkeys(
        f"weight {side.weight}" if side.level == "weight" else side.level for side in sides
    )
    cost = [side.cost if side else 0 for side in (rule.sides.a, rule.sides.b)]
    return RuleRow(
        id=rule.id,
        statement=notation.sentence(rule.statement),
        level=" / ".join(levels),
        a=_rule_side(rule.sides.a, rule.unit),
        b=_rule_side(rule.sides.b, rule.unit),
        apart=notation.count(abs(cost[0] - cost[1]), "point") if cost[0] != cost[1] else "",
    )


def _rule_side(side: RuleSide | None, unit: str) -> RuleSideView:
    if side is None:
        return RuleSideView("not a rule here", "", ())
    kept = "nothing" if side.level == "watch" else "holds"
    measure = notation.amount(side.measure, unit) if side.measure else kept
    hidden = len(side.places) - PLACES_SHOWN
    more = (f"and {hidden} more",) if hidden > 0 else ()
    return RuleSideView(
        measure=measure,
        cost=notation.count(side.cost, "point") if side.level == "weight" else "",
        places=tuple(notation.sentence(text) for text in side.places[:PLACES_SHOWN]) + more,
    )
