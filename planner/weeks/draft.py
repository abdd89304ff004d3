"""Drafts a week: files are read, checked, solved, audited and written out. Start reading here."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from planner.domain.iso_week import next_week
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate
from planner.domain.week import Week
from planner.weeks.keeping import base_of, keep
from planner.weeks.setting import Setting, load_setting
from planner.weeks.written import checked_problem, solved_week

if TYPE_CHECKING:
    from planner.store.store import Store


def draft(
    gym_folder: Path,
    *,
    week: str | None = None,
    seed: int = 1,
    seconds: float = 10.0,
    progress: Progress | None = None,
) -> Week:
    """Drafts a week for a gym.

    Args:
        gym_folder: with ``gym.yaml``, and where there are any ``rules.yaml`` and ``history/*.json``.
        week: ISO week such as ``2026-W49``; the week after this one unless given.
        seed: another seed gives another week of the same quality.
        seconds: the solver's budget, in its own repeatable measure of about a second each.
        progress: called with a label and a fraction done.

    Raises:
        DataError: a file cannot be used.
        NoPlanError: the musts cannot all hold, or no week was found in the time.
        SolverFault: a fault of ours: the solved week fails its own audit.
    """
    setting = load_setting(gym_folder, week or next_week(datetime.now(tz=UTC).date()))
    return drafted(setting, seed=seed, seconds=seconds, progress=progress or quiet)


def drafted(setting: Setting, *, seed: int = 1, seconds: float = 10.0, progress: Progress = quiet) -> Week:
    """Checks, solves, audits and writes out a week for a setting.

    Raises:
        RuleError: a rule's selector matches nothing.
        NoPlanError: the musts and locks cannot all hold, or no week was found in the time.
        SolverFault: a fault of ours.
    """
    return solved_week(checked_problem(setting.problem(seed=seed)), seconds, progress)


def draft_kept(
    store: Store, setting: Setting, *, seed: int = 1, seconds: float = 10.0, progress: Progress = quiet
) -> Candidate:
    """Drafts a week under its locks, bans, wishes and overrules, and keeps it as the next candidate.

    Raises:
        DataError: a rule or a request makes no sense.
        NoPlanError: no week meets all musts and locks; nothing is kept.
    """
    state = store.state(setting.week)
    here = setting.asking(state.requests, base_of(state))
    week = drafted(here, seed=seed, seconds=seconds, progress=progress)
    (kept,) = keep(store, setting.week, [(f"drafted, seed {seed}", week)], "drafted")
    return kept
