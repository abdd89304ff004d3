"""Sessions as a coach writes them on a board: read from a file of hers, and a week written so."""

from __future__ import annotations

from pathlib import Path

from planner.audit.by_hand import minded
from planner.audit.reading import plan_of
from planner.domain.gym import Day
from planner.domain.plan import SessionPlan
from planner.domain.week import Week
from planner.errors import DataError
from planner.language.files import sessions_in
from planner.language.vocabulary import vocabulary_of
from planner.language.writer import write_sessions
from planner.problem.written import planned, said
from planner.weeks.known import catalogue_and_gym
from planner.weeks.setting import Setting


def from_board(file: Path, setting: Setting) -> tuple[SessionPlan, ...]:
    """The sessions of a file, one or a whole week: text, YAML or JSON.

    Raises:
        DataError: with the place of everything that is wrong; or the gym is closed on a day.
    """
    vocabulary = vocabulary_of(setting.catalogue, setting.gym)
    return tuple(planned(s, setting.catalogue, setting.gym) for s in sessions_in(file, vocabulary))


def said_of(setting: Setting, sessions: tuple[SessionPlan, ...]) -> tuple[str, ...]:
    """What the rules would mind about sessions, each by itself; they are kept all the same."""
    problem = setting.problem()
    return tuple(dict.fromkeys(text for s in sessions for text in minded(problem, s)))


def board(week: Week, gym_folder: Path, day: Day | None = None) -> str:
    """The gym floor's sessions with all their numbers.

    Args:
        week: as drafted.
        gym_folder: whose kit versions the text may name.
        day: this one alone.

    Raises:
        DataError: the gym or the catalogue cannot be read, or the week has no such day.
    """
    catalogue, gym = catalogue_and_gym(gym_folder)
    sessions = [s for s in plan_of(week).sessions if day in {None, s.day}]
    if not sessions:
        raise DataError(f"{week.week} has no session on {day}")
    return write_sessions([said(s, catalogue) for s in sessions], vocabulary_of(catalogue, gym))
