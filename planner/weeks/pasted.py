"""Past weeks that were pasted into ``history/`` as text: enough of them for rules that look back."""

from __future__ import annotations

from pathlib import Path

from planner.domain.catalogue import Catalogue
from planner.domain.gym import DAYS, Gym
from planner.domain.iso_week import monday_of
from planner.domain.plan import Plan
from planner.domain.week import Proof, Week
from planner.errors import DataError, Place
from planner.language.files import sessions_in
from planner.language.vocabulary import vocabulary_of
from planner.prescribe.write_out import write_out
from planner.problem.written import planned

NOT_SOLVED = Proof(tiers=(), seed=0, solver="pasted", seconds=0, variables=0, constraints=0)


def pasted_weeks(folder: Path, catalogue: Catalogue, gym: Gym) -> tuple[Week, ...]:
    """The weeks in ``history/*.txt``, each named for its week: ``2026-W48.txt``; the gym floor alone.

    Args:
        folder: of the gym.
        catalogue: movements and schemes.
        gym: as it is now; what it lacks by now is no fault of a past week.

    Raises:
        DataError: a file is not named for a week, or with the place of everything that is wrong in it.
    """
    floor = gym.model_copy(update={"kits": gym.kits[:1], "days": DAYS})
    return tuple(_week(path, catalogue, floor) for path in sorted((folder / "history").glob("*.txt")))


def _week(path: Path, catalogue: Catalogue, floor: Gym) -> Week:
    try:
        monday_of(path.stem)
    except ValueError as error:
        raise DataError(str(error), Place(path), "Name the file for its week: 2026-W48.txt.") from None
    sessions = [planned(s, catalogue, floor) for s in sessions_in(path, vocabulary_of(catalogue, floor))]
    plan = Plan(week=path.stem, sessions=tuple(sorted(sessions, key=lambda s: DAYS.index(s.day))))
    return write_out(plan, catalogue, floor, rules=(), proof=NOT_SOLVED, history=(), inputs_digest="")
