"""Weeks with next to nothing in them, for tests that only keep them."""

from __future__ import annotations

import os
from pathlib import Path

from planner.domain.gym import Day
from planner.domain.iso_week import monday_of
from planner.domain.record import Candidate, WeekState
from planner.domain.week import Balance, Proof, Session, Week, WeekLoad
from planner.store.store import Store

MEMORY = next((str(place) for place in (Path("/dev/shm"),) if os.access(place, os.W_OK)), None)  # noqa: S108
"""A folder that is no disk; None where there is none."""


def session(day: Day, rating: int = 5) -> Session:
    return Session(
        day=day,
        date="2026-11-30",
        title="Squat, then a long one: größer als gedacht",
        pieces=(),
        clock=(),
        rating=rating,
        rating_words="hard",
        load_au=rating * 60,
        hardness="medium",
        patterns={"squat": 2},
        contacts=0,
    )


def small_week(week: str, mark: int = 12, days: tuple[Day, ...] = ("mon", "tue", "thu")) -> Week:
    """A week that differs from others by its class size."""
    return Week(
        week=week,
        monday=monday_of(week).isoformat(),
        gym="Invented gym",
        invented=True,
        class_size=mark,
        class_minutes=60,
        timezone="Europe/Lisbon",
        class_start="18:00",
        kits=(),
        athletes=(),
        sessions=tuple(session(day, 5 + index) for index, day in enumerate(days)),
        balance=Balance(patterns={}, domains={}, modality={}),
        load=WeekLoad(
            daily_au=(300, 360, 0, 420, 0, 0, 0),
            week_au=1080,
            monotony=0.8,
            strain=864.0,
            vigorous_minutes=0,
            moderate_minutes=60,
        ),
        rules=(),
        proof=Proof(tiers=(), seed=1, solver="none", seconds=0.1, variables=0, constraints=0),
        cautions=(),
        inputs_digest="0" * 64,
    )


def candidate(week: str, name: str, mark: int, label: str = "drafted") -> Candidate:
    return Candidate(name=name, label=label, week=small_week(week, mark))


def state_of(week: str, *marks: int, chosen: str | None = None) -> WeekState:
    """Candidates A, B, ... with these marks."""
    named = [candidate(week, "ABCDEFGH"[index], mark) for index, mark in enumerate(marks)]
    return WeekState(week=week, candidates=tuple(named), chosen=chosen)


def put(store: Store, state: WeekState, verb: str) -> WeekState:
    """Keep a state as it is, whatever the week's was."""
    return store.change(state.week, lambda _: (state, verb))
