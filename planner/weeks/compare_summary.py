"""What a comparison comes to, in three plain sentences at most, made only from its numbers.

Whoever has more comes first in each comparison, and the names decide between them: the sentences are the same
whichever way round the weeks are put.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from planner.domain.catalogue import Pattern
from planner.domain.comparison import Both, DayPair, Figures, Tally
from planner.domain.gym import DAY_NAMES

_PATTERN_WORDS: dict[Pattern, str] = {
    "squat": "squatting", "hinge": "hinging", "lunge": "lunging", "horizontal_push": "horizontal pushing",
    "vertical_push": "vertical pushing", "horizontal_pull": "horizontal pulling",
    "vertical_pull": "vertical pulling", "carry": "carrying", "trunk": "trunk work", "jump": "jumping",
    "cyclic": "cyclic work",
}  # fmt: skip


class _Clause(NamedTuple):
    """What one week has more of, or less of: "more load (2,310 against 2,200)"."""

    who: str
    what: str


def summary(names: Both[str], days: Sequence[DayPair], tally: Tally, numbers: Figures) -> tuple[str, ...]:
    """The sentences.

    Args:
        names: of the weeks.
        days: aligned.
        tally: how much differs.
        numbers: the figures.
    """
    training = _clauses(names, numbers)
    keeping = _upkeep(names, numbers)
    out = [_extent(names, days, tally)]
    if training:
        out.append(_sentence(training))
    elif not all(day.same for day in days):
        out.append("Load, monotony, strain and patterns are the same in both.")
    if keeping:
        out.append(_sentence(keeping))
    return tuple(out)


def _extent(names: Both[str], days: Sequence[DayPair], tally: Tally) -> str:
    if not tally.days_differ:
        first, second = sorted((names.a, names.b))
        return f"{first} and {second} are the same week, line for line."
    if tally.pieces_differ:
        said = (
            f"{tally.pieces_differ} of {_count(tally.pieces, 'piece')} and {tally.lines_differ} of "
            f"{_count(tally.lines, 'line')} differ on the gym floor"
        )
        if tally.kits_differ:
            said += f", and {_count(tally.kits_differ, 'piece')} more only in other kit versions"
    elif tally.kits_differ:
        said = f"The gym floor is the same; {_count(tally.kits_differ, 'piece')} "
        said += f"{'differs' if tally.kits_differ == 1 else 'differ'} in other kit versions"
    else:
        said = "All strength and conditioning is the same"
    same = [DAY_NAMES[day.day] for day in days if day.same]
    if not same:
        return f"{said}, and no day is the same."
    return f"{said}; {_listed(same)} {'is' if len(same) == 1 else 'are'} the same."


def _clauses(names: Both[str], numbers: Figures) -> list[_Clause]:
    load = numbers.load
    found = [
        _more(names, load.week_au, "more planned load"),
        _more(names, _known(load.monotony), "higher monotony"),
        _more(names, _known(load.strain), "higher strain"),
    ]
    # sorted keeps the order of the patterns where they differ by as much
    widest = sorted(numbers.patterns, key=lambda row: -abs(row.total.a - row.total.b))
    found += [_more(names, row.total, f"more {_PATTERN_WORDS[row.pattern]}") for row in widest[:2]]
    return [clause for clause in found if clause]


def _upkeep(names: Both[str], numbers: Figures) -> list[_Clause]:
    week = numbers.equipment.week
    new = numbers.novelty
    found = [
        _fewer(names, numbers.broken_musts, "fewer broken musts"),
        _fewer(names, numbers.points, "fewer points given up on the rules"),
        _fewer(names, Both[int](a=len(week.a.items), b=len(week.b.items)), "fewer items of equipment"),
        _fewer(names, Both[int](a=len(week.a.sets), b=len(week.b.sets)), "fewer set-ups"),
    ]
    if new.a and new.b:
        fresh = Both[int](a=len(new.a.movements), b=len(new.b.movements))
        found.append(_more(names, fresh, "more movements new in four weeks"))
    return [clause for clause in found if clause]


def _known(pair: Both[float | None]) -> Both[float] | None:
    return None if pair.a is None or pair.b is None else Both[float](a=pair.a, b=pair.b)


def _more(names: Both[str], pair: Both[int] | Both[float] | None, what: str) -> _Clause | None:
    if pair is None or pair.a == pair.b:
        return None
    high, low = max(pair.a, pair.b), min(pair.a, pair.b)
    return _Clause(
        names.a if pair.a > pair.b else names.b, f"{what} ({_number(high)} against {_number(low)})"
    )


def _fewer(names: Both[str], pair: Both[int], what: str) -> _Clause | None:
    if pair.a == pair.b:
        return None
    high, low = max(pair.a, pair.b), min(pair.a, pair.b)
    return _Clause(
        names.a if pair.a < pair.b else names.b, f"{what} ({_number(low)} against {_number(high)})"
    )


def _sentence(clauses: Sequence[_Clause]) -> str:
    by_name: dict[str, list[str]] = {}
    for who, what in clauses:
        by_name.setdefault(who, []).append(what)
    return "; ".join(f"{who} has {_listed(what)}" for who, what in by_name.items()) + "."


def _number(value: float) -> str:
    return f"{value:,.2f}".rstrip("0").rstrip(".")


def _count(amount: int, one: str) -> str:
    return f"{amount:,} {one if amount == 1 else one + 's'}"


def _listed(items: Sequence[str]) -> str:
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"
