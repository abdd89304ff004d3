"""Reads sessions that a coach wrote: as text on a board, or the same value as YAML or JSON."""

from __future__ import annotations

from pathlib import Path

from planner.domain.catalogue import Catalogue
from planner.domain.gym import DAY_NAMES, Gym
from planner.domain.plan import SessionPlan
from planner.errors import DataError, Place
from planner.language.reader import read_sessions
from planner.language.vocabulary import vocabulary_of
from planner.load.yaml_file import read_text
from planner.problem.written import planned


def sessions_from_file(path: Path, catalogue: Catalogue, gym: Gym) -> tuple[SessionPlan, ...]:
    """Sessions by hand, one or a whole week.

    Raises:
        DataError: with file, line and column of everything that is wrong.
    """
    written = read_sessions(read_text(path), vocabulary_of(catalogue, gym), path)
    days = [s.day for s in written]
    twice = next((d for d in days if days.count(d) > 1), None)
    if twice is not None:
        raise DataError(f"{DAY_NAMES[twice]} is here twice", Place(path), advice="Keep one of the two.")
    return tuple(planned(s, catalogue, gym) for s in written)
