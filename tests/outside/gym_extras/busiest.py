"""A verb: which day of a kept week asks most of the class."""

from __future__ import annotations

import typer

from planner.cli.base import CandidateOption, OwnGym, WeekName, weeks_setting
from planner.domain.gym import DAY_NAMES
from planner.weeks.keeping import asked_about


def busiest_command(gym: OwnGym, week: WeekName, candidate: CandidateOption = None) -> None:
    """Say which day asks most of the class."""
    with weeks_setting(gym, week) as (store, setting):
        _, of = asked_about(store, setting, candidate)
    session = max(of.week.sessions, key=lambda session: session.load_au)
    typer.echo(f"{DAY_NAMES[session.day]} asks most: planned load {session.load_au}.")
