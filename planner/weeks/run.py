"""Runs a week's class on the floor: its pieces with a clock, athlete by athlete."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.audit.reading import plan_of
from planner.domain.catalogue import Catalogue
from planner.domain.gym import Day, Gym
from planner.domain.plan import ConditioningLine
from planner.domain.running import shape_of, timed_lines
from planner.domain.week import Session, Week
from planner.errors import DataError
from planner.floor.lanes import PieceRun, lanes_of
from planner.floor.outcome import summed
from planner.floor.simulate import play
from planner.prescribe.on_floor import class_flow, floor_piece
from planner.prescribe.set_out import Room

MINUTE_S = 60


@dataclass(frozen=True)
class DayRun:
    """A day of a class of some size."""

    day: Day
    size: int
    pieces: tuple[PieceRun, ...]


def run_week(
    week: Week, catalogue: Catalogue, gym: Gym, *, day: Day | None = None, size: int | None = None
) -> tuple[DayRun, ...]:
    """Every day's class on the floor, or one day's.

    Args:
        week: as written.
        catalogue: movements and formats.
        gym: whose items there are, and its class.
        day: the only one; all if None.
        size: of the class, in place of the gym's.

    Raises:
        DataError: there is no session that day, or the gym has not what the week names.
    """
    sessions = [s for s in week.sessions if day in {None, s.day}]
    if not sessions:
        held = ", ".join(s.day for s in week.sessions)
        raise DataError(f'the week has no session on "{day}"', advice=f"It has: {held}.")
    if size is not None:
        gym = gym.model_copy(update={"class_": gym.class_.of_size(size)})
    return tuple(
        DayRun(s.day, gym.class_.on(s.day), _pieces(week, s, catalogue, gym.on(s.day))) for s in sessions
    )


def _pieces(week: Week, session: Session, catalogue: Catalogue, gym: Gym) -> tuple[PieceRun, ...]:
    planned = next(s for s in plan_of(week).sessions if s.day == session.day).pieces
    written = [p for p in session.pieces if p.versions]
    kit, room = week.kits[0].id, Room(catalogue, gym)
    runs = []
    for plan, piece in zip(planned, written, strict=True):
        shape = None if plan.lifts else shape_of(plan, catalogue)
        if shape is None:
            continue
        lines = [x for x in plan.versions[kit] if isinstance(x, ConditioningLine)]
        domain = catalogue.domains[shape.domain]
        timed = timed_lines(lines, catalogue)
        if len(timed) < len(lines):
            raise DataError(f"{session.day}: the catalogue lacks a movement of the {piece.kind}")
        floor = floor_piece(plan, shape, domain, piece.versions[kit].lines, timed, room)
        cap = piece.cap_minutes * MINUTE_S if piece.cap_minutes else None
        played = play(replace(floor, cap_s=cap))
        lanes = lanes_of(played, floor.end_s if floor.flow != "heats" else None)
        runs.append(
            PieceRun(
                kind=piece.kind,
                title=piece.title,
                words=class_flow(floor, gym.class_.size, room),
                stations=tuple(s.name for s in floor.running.stations),
                lanes=lanes,
                length_s=max((lane.done_s for lane in lanes), default=0),
                cap_s=cap,
                outcome=summed(played),
            )
        )
    return tuple(runs)
