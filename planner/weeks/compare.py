"""Two candidate weeks side by side: their difference, their figures, and what it all comes to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain, combinations
from typing import TYPE_CHECKING, get_args

from planner.domain.catalogue import PATTERNS, DomainName, Pattern
from planner.domain.comparison import Comparison, Figure, FigureGroup, ListGroup, Listing, gym_floors
from planner.domain.difference import Difference, difference
from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.domain.requests import PIECES
from planner.domain.week import Line, Piece, RuleResult, Session, Week
from planner.domain.words import listed, spoken
from planner.errors import DataError
from planner.prescribe import week_load
from planner.render.notation import PATTERN_WORDS, count, number
from planner.weeks.keeping import meant
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store

PATTERNS_TOLD = 2
"""How many patterns the summary names: those that are furthest apart."""
_ALSO = {"kits": "kit versions", "athletes": "athletes"}
Days = Sequence[Difference[Session]]
_WORK: dict[Pattern, str] = {
    "squat": "squatting", "hinge": "hinging", "lunge": "lunging", "horizontal_push": "horizontal pushing",
    "vertical_push": "vertical pushing", "horizontal_pull": "horizontal pulling",
    "vertical_pull": "vertical pulling", "carry": "carrying", "trunk": "trunk work", "jump": "jumping",
    "cyclic": "cyclic work",
}  # fmt: skip
_COUNTED: tuple[tuple[FigureGroup, str, str, str, Callable[[Week], float | None]], ...] = (
    ("training", "Planned load", "rating times minutes, summed", "more planned load",
     lambda week: week.load.week_au),
    ("training", "Monotony", "mean day over its standard deviation", "higher monotony",
     lambda week: week.load.monotony),
    ("training", "Strain", "load times monotony", "higher strain", lambda week: week.load.strain),
    ("upkeep", "Points given up", "on weighted rules; fewer is better", "fewer points given up on the rules",
     lambda week: week.points),
    ("upkeep", "Musts broken", "", "fewer broken musts",
     lambda week: sum(1 for rule in week.rules if rule.level == "must" and rule.measure)),
)  # fmt: skip
_SIZES = {
    "Week, items": ("Items of equipment", "distinct, gym floor", "fewer items of equipment"),
    "Week, sets of stations": ("Set-ups", "distinct sets of stations", "fewer set-ups"),
    "Movements": ("New movements", "not in the weeks before", "more movements new in four weeks"),
}
"""Lists whose length is a figure."""


def compare(
    a: Week, b: Week, names: tuple[str, str] = ("A", "B"), last_weeks: tuple[Week, ...] = ()
) -> Comparison:
    """Two weeks side by side.

    Args:
        a: the one.
        b: the other.
        names: what to call them.
        last_weeks: weeks before, in any order, for what is new; the last four count.

    Returns:
        What is the same and what differs, all from the weeks alone; with the weeks and names exchanged, the
        same value with its sides exchanged.

    Raises:
        DataError: both have the same name.
    """
    if names[0] == names[1]:
        raise DataError(f'both weeks are called "{names[0]}"', advice="Give them two names.")
    week = difference(a, b)
    days: Days = week.parts["sessions"]
    past = week_load.last_weeks(min(a.week, b.week), last_weeks)
    things = (_things(w, [day.known.day for day in days], past) for w in (a, b))
    lists = tuple(
        Listing(group, term, noun, ours, theirs)
        for (group, term, noun, ours), (*_, theirs) in zip(*things, strict=True)
    )
    figures = tuple(_figures(a, b, days, lists))
    return Comparison(
        names=names,
        week=week,
        rules=tuple(sorted((rule for rule in week.parts["rules"] if not rule.same), key=_severity)),
        figures=figures,
        lists=lists,
        against=tuple(w.week for w in past),
        summary=tuple(_summary(names, week, figures)),
    )


def compare_kept(store: Store, setting: Setting, a: str, b: str) -> Comparison:
    """Two candidates of a week, side by side.

    Raises:
        DataError: there is no such candidate.
    """
    state = store.state(setting.week)
    one, other = meant(state, a), meant(state, b)
    return compare(one.week, other.week, (one.name, other.name), setting.history)


def _severity(rule: Difference[RuleResult]) -> tuple[object, ...]:
    broken = any(side.level == "must" and side.measure for side in (rule.a, rule.b) if side)
    cost, measure = (abs(getattr(rule.a, f, 0) - getattr(rule.b, f, 0)) for f in ("cost", "measure"))
    return not broken, -cost, -measure, rule.key


# Things that a week has ---------------------------------------------------------------------------------


def _things(
    week: Week, days: Iterable[Day], past: Sequence[Week]
) -> Iterator[tuple[ListGroup, str, str, tuple[str, ...]]]:
    """Group, term, noun, and which there are: the same groups, terms and nouns for either week."""
    for domain in get_args(DomainName):
        held = (DAY_NAMES[day][:3] for day in DAYS if week.balance.domains.get(day) == domain)
        yield "domain", domain.capitalize(), "day", tuple(held)
    floor = {s.day: [_stations(piece) for piece in s.pieces] for s in week.sessions}
    for day in days:
        yield "equipment", DAY_NAMES[day], "station", _ordered(chain(*floor.get(day, ())))
    each = [stations for pieces in floor.values() for stations in pieces if stations]
    items = (item for piece in _pieces(week) for line in _floor(piece) for item in line.equipment)
    yield "equipment", "Week, items", "item", _ordered(items)
    yield "equipment", "Week, stations", "station", _ordered(chain(*each))
    yield "equipment", "Week, sets of stations", "set", _ordered(" and ".join(stations) for stations in each)
    found = {"Movements": _movements, "Pairs in one piece": _pairs, "Formats": _formats} if past else {}
    for term, of in found.items():
        old = set(chain(*(of(w) for w in past)))
        fresh = _ordered(said for key, said in of(week).items() if key not in old)
        yield "new", term, term.split()[0].lower().rstrip("s"), fresh


def _pieces(week: Week) -> Iterator[Piece]:
    return (piece for session in week.sessions for piece in session.pieces)


def _floor(piece: Piece) -> tuple[Line, ...]:
    """The gym floor's lines: those of the first kit version."""
    return next(iter(piece.versions.values())).lines if piece.versions else ()


def _stations(piece: Piece) -> list[str]:
    """What each line of a piece needs at once: "barbell + rack"."""
    return sorted({" + ".join(sorted(line.equipment)) for line in _floor(piece) if line.equipment})


def _ordered(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(set(names), key=lambda name: (name.casefold(), name)))


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
    return {piece.format: spoken(piece.format) for piece in _pieces(week) if piece.format}


# Figures ------------------------------------------------------------------------------------------------


def _figures(a: Week, b: Week, days: Days, lists: Iterable[Listing]) -> Iterator[Figure]:
    for group, term, note, praise, of in _COUNTED:
        yield Figure(group, term, of(a), of(b), note, praise)
    for x in lists:
        if x.term in _SIZES:
            term, note, praise = _SIZES[x.term]
            yield Figure("upkeep", term, len(x.a), len(x.b), note, praise)
    for day in days:
        ours, theirs = (side.rating if side else None for side in (day.a, day.b))
        au = [side.load_au if side else 0 for side in (day.a, day.b)]
        rating = Figure("day", "rating", ours, theirs)
        yield Figure("day", DAY_NAMES[day.known.day], au[0], au[1], parts=(rating,))
    for pattern in PATTERNS:
        held = [[s.patterns.get(pattern, 0) if s else 0 for s in (day.a, day.b)] for day in days]
        names = [DAY_NAMES[day.known.day] for day in days]
        parts = tuple(Figure("pattern", day, x, y) for day, (x, y) in zip(names, held, strict=True))
        total = [sum(side) for side in zip(*held, strict=True)]
        if any(total):
            praise = f"more {_WORK[pattern]}"
            yield Figure("pattern", PATTERN_WORDS[pattern], total[0], total[1], praise=praise, parts=parts)


# Summary ------------------------------------------------------------------------------------------------


def _summary(names: tuple[str, str], week: Difference[Week], figures: Sequence[Figure]) -> Iterator[str]:
    """Sentences, the same whichever way round the weeks are put."""
    yield _extent(names, week)
    besides = [*week.own]
    besides += [name for name in _ALSO if not all(part.same for part in week.parts[name])]
    if besides:
        yield f"They differ in {listed(_ALSO.get(x, x) for x in besides)} too."
    apart = [x for x in figures if x.a != x.b and None not in (x.a, x.b)]
    # sorted keeps the order of the patterns where they differ by as much
    widest = sorted((x for x in apart if x.group == "pattern"), key=lambda x: -abs((x.a or 0) - (x.b or 0)))
    training = [*(x for x in apart if x.group == "training"), *widest[:PATTERNS_TOLD]]
    if training:
        yield _praise(names, training)
    elif any(not day.same for day in week.parts["sessions"]):
        yield "Load, monotony, strain and patterns are the same in both."
    upkeep = [x for x in apart if x.group == "upkeep"]
    if upkeep:
        yield _praise(names, upkeep)


def _extent(names: tuple[str, str], week: Difference[Week]) -> str:
    """How much differs."""
    days: Days = week.parts["sessions"]
    if all(day.same for day in days):
        return f"{listed(sorted(names))} are the same week, line for line."
    floors = gym_floors(week)
    pieces = [piece for day in days for piece in day.parts["pieces"] if piece.known.kind in PIECES]
    held = [(piece, [v for v in piece.parts["versions"] if v.key in floors]) for piece in pieces]
    lines = [line for _, versions in held for version in versions for line in version.parts["lines"]]
    floor = [piece for piece, versions in held if piece.own or any(not x.same for x in versions)]
    kits = sum(not piece.same for piece in pieces) - len(floor)
    if floor:
        apart = sum(not line.same for line in lines)
        said = f"{len(floor)} of {count(len(pieces), 'piece')} and {apart} of {count(len(lines), 'line')} "
        said += "differ on the gym floor"
        said += f", and {count(kits, 'piece')} more only in other kit versions" if kits else ""
    elif kits:
        differ = "differs" if kits == 1 else "differ"
        said = f"The gym floor is the same; {count(kits, 'piece')} {differ} in other kit versions"
    else:
        said = "All strength and conditioning is the same"
    same = [DAY_NAMES[day.known.day] for day in days if day.same]
    if not same:
        return f"{said}, and no day is the same."
    return f"{said}; {listed(same)} {'is' if len(same) == 1 else 'are'} the same."


def _praise(names: tuple[str, str], figures: Iterable[Figure]) -> str:
    """Who has more, or fewer where that is what counts: "A has more planned load (2,310 against 2,200)"."""
    by_name: dict[str, list[str]] = {}
    for x in figures:
        more = not x.praise.startswith("fewer")
        first, second = sorted(((x.a or 0, names[0]), (x.b or 0, names[1])), reverse=more)
        said = f"{x.praise} ({number(first[0])} against {number(second[0])})"
        by_name.setdefault(first[1], []).append(said)
    return "; ".join(f"{name} has {listed(what)}" for name, what in by_name.items()) + "."
