"""Planned training load: session load, monotony, strain, and the change against the weeks before.

Session load is rating times minutes of the whole class, warm-up and rests included (Foster 1998, 2001).
Monotony is the mean daily load over its standard deviation. The papers do not say which deviation; n - 1 is
our choice. Rest days count as nought. These are planned values, not a forecast of injury: no ratio of a week
to the weeks before is given, since its risk bands are disputed.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import mean, stdev

from planner.domain.gym import DAYS, Day
from planner.domain.plan import LIFTING, RUNNING
from planner.domain.week import Session, Week, WeekLoad

WEEKS_BACK = 4
VIGOROUS_RATING = 7
"""Very hard and above; our choice of a line for counting vigorous minutes."""


def session_load_au(rating: int, class_minutes: int) -> int:
    """Session load in arbitrary units: rating times minutes."""
    return rating * class_minutes


def monotony(daily_au: Sequence[int]) -> float | None:
    """Mean daily load over its standard deviation (n - 1); None where all days are alike."""
    if len(daily_au) < 2 or len(set(daily_au)) == 1:  # noqa: PLR2004  (a deviation needs two)
        return None
    return mean(daily_au) / stdev(daily_au)


def strain(daily_au: Sequence[int]) -> float | None:
    """Week's load times monotony; None where monotony is."""
    value = monotony(daily_au)
    return None if value is None else sum(daily_au) * value


def change_percent(week_au: int, last_weeks_au: Sequence[int]) -> int | None:
    """Change against the mean of the weeks before, in percent; None where there are none to compare with."""
    if not last_weeks_au or not sum(last_weeks_au):
        return None
    return round(100 * (week_au / mean(last_weeks_au) - 1))


def last_weeks(week: str, history: Sequence[Week]) -> tuple[Week, ...]:
    """Up to four weeks before this one, newest first; of a week that is there twice, the later entry."""
    by_id = {w.week: w for w in history if w.week < week}
    return tuple(by_id[w] for w in sorted(by_id, reverse=True)[:WEEKS_BACK])


def week_load(week: str, sessions: Sequence[Session], history: Sequence[Week]) -> WeekLoad:
    """The week's planned load.

    Args:
        week: ISO week.
        sessions: of the week.
        history: weeks before, in any order.
    """
    by_day: dict[Day, int] = {s.day: s.load_au for s in sessions}
    daily = tuple(by_day.get(day, 0) for day in DAYS)
    last = tuple(w.load.week_au for w in last_weeks(week, history))
    vigorous = moderate = 0
    for session in sessions:
        for piece in session.pieces:
            if piece.kind in RUNNING and session.rating >= VIGOROUS_RATING:
                vigorous += piece.minutes
            elif piece.kind in RUNNING + LIFTING:
                moderate += piece.minutes
    even, hard = monotony(daily), strain(daily)
    return WeekLoad(
        daily_au=daily,
        week_au=sum(daily),
        monotony=None if even is None else round(even, 2),
        strain=None if hard is None else round(hard),
        last_weeks_au=last,
        change_percent=change_percent(sum(daily), last),
        vigorous_minutes=vigorous,
        moderate_minutes=moderate,
    )
