"""A week as text, as a coach writes it on a board; ``planner write`` reads it back."""

from __future__ import annotations

from pathlib import Path

from planner import paths
from planner.audit.reading import plan_of
from planner.domain.gym import Day
from planner.domain.week import Week
from planner.errors import DataError
from planner.language.vocabulary import vocabulary_of
from planner.language.writer import write_sessions
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.problem.written import said


def board(week: Week, gym_folder: Path, day: Day | None = None) -> str:
    """The gym floor's sessions with all their numbers.

    Args:
        week: as drafted.
        gym_folder: whose kit versions the text may name.
        day: this one alone.

    Raises:
        DataError: the gym or the catalogue cannot be read, or the week has no such day.
    """
    catalogue = load_catalogue(paths.home().shared / "catalogue")
    gym = load_gym(gym_folder, catalogue)
    sessions = [s for s in plan_of(week).sessions if day in {None, s.day}]
    if not sessions:
        raise DataError(f"{week.week} has no session on {day}")
    return write_sessions([said(s, catalogue) for s in sessions], vocabulary_of(catalogue, gym))
