"""Pairs of weeks for the tests of comparing: the sample week shuffled, cut and changed, all of it sound."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from planner.domain.gym import DAYS
from planner.domain.week import Line, Load, Piece, Session, Week
from planner.prescribe.balance import balance, exposures, floor_lines
from planner.prescribe.week_load import week_load
from tests.render.sample_week import sample_week

EQUIPMENT = {
    "back_squat": ("barbell", "rack"), "front_squat": ("barbell", "rack"), "deadlift": ("barbell",),
    "strict_press": ("barbell", "rack"), "bench_press": ("barbell", "bench"), "pull_up": ("rig",),
    "bent_row": ("barbell",), "wall_ball": ("ball",), "thruster": ("barbell",), "row": ("rower",),
    "box_jump": ("box",), "farmers": ("kettlebell",), "swing": ("kettlebell",), "rope": ("rope",),
}  # fmt: skip
FORMATS = ("rounds_for_time", "as_many_rounds", "intervals", "ladder")


def changed(old: Any, /, **update: Any) -> Any:
    return old.model_copy(update=update)


def sound(week: Week, sessions: tuple[Session, ...]) -> Week:
    """With exposures, balance and load as these sessions have them; the sample's own are written by hand."""
    counted = tuple(changed(s, patterns=exposures(floor_lines(s))) for s in sessions)
    load = week_load(week.week, counted, ())
    return changed(week, sessions=counted, balance=balance(counted), load=load)


def base_week() -> Week:
    """The sample week with equipment and formats, as a drafted week has them."""
    week = sample_week()

    def line(x: Line) -> Line:
        return changed(x, equipment=EQUIPMENT.get(x.movement, ()))

    def piece(x: Piece, number: int) -> Piece:
        versions = {kit: changed(v, lines=tuple(line(y) for y in v.lines)) for kit, v in x.versions.items()}
        return changed(x, versions=versions, format=FORMATS[number % 4] if x.kind == "conditioning" else "")

    sessions = (changed(s, pieces=tuple(piece(p, n) for p in s.pieces)) for n, s in enumerate(week.sessions))
    return sound(week, tuple(sessions))


BASE = base_week()


def with_piece(week: Week, day: int, kind: str, **update: Any) -> Week:
    session = week.sessions[day]
    pieces = tuple(changed(p, **update) if p.kind == kind else p for p in session.pieces)
    sessions = list(week.sessions)
    sessions[day] = changed(session, pieces=pieces)
    return sound(week, tuple(sessions))


def with_line(week: Week, day: int, kind: str, kit: str = "gym_floor", at: int = 0, **update: Any) -> Week:
    piece = next(p for p in week.sessions[day].pieces if p.kind == kind)
    lines = list(piece.versions[kit].lines)
    lines[at] = changed(lines[at], **update)
    versions = piece.versions | {kit: changed(piece.versions[kit], lines=tuple(lines))}
    return with_piece(week, day, kind, versions=versions)


def heavier(line: Line) -> tuple[Load, ...]:
    return tuple(changed(load, kg=load.kg + 5, text=f"{load.kg + 5:g} kg") for load in line.loads)


@st.composite
def weeks(draw: st.DrawFn, week: str = "2025-W49") -> Week:
    """The sample's sessions on other days, some missing, with lines shuffled, cut and changed."""
    days = sorted(draw(st.sets(st.integers(0, 6), max_size=6)))
    taken = draw(st.permutations(BASE.sessions))[: len(days)]
    sessions = []
    for day, session in zip(days, taken, strict=True):
        pieces = tuple(_piece(draw, p) for p in session.pieces if draw(st.integers(0, 9)))
        rating = draw(st.integers(1, 10))
        moved = changed(session, day=DAYS[day], pieces=pieces, rating=rating, load_au=rating * 60)
        sessions.append(moved)
    rules = tuple(
        changed(rule, measure=n, cost=n * rule.weight) for rule in BASE.rules
        if (n := draw(st.integers(-1, 2))) >= 0
    )  # fmt: skip
    return sound(changed(BASE, week=week, rules=rules), tuple(sessions))


def _piece(draw: st.DrawFn, piece: Piece) -> Piece:
    if draw(st.booleans()):
        return piece
    versions = {}
    for kit, version in piece.versions.items():
        if kit != "gym_floor" and not draw(st.integers(0, 5)):
            continue
        lines = list(draw(st.permutations(version.lines)))
        if len(lines) > 1 and draw(st.booleans()):
            lines.pop()
        if draw(st.booleans()):
            lines[0] = changed(lines[0], dose=changed(lines[0].dose, value=7, text="7 reps"))
        if draw(st.booleans()):
            lines[-1] = changed(lines[-1], loads=heavier(lines[-1]), rest_s=45)
        versions[kit] = changed(version, lines=tuple(lines))
    cap = draw(st.sampled_from([None, piece.cap_minutes, 9]))
    return changed(piece, versions=versions, cap_minutes=cap, drills=piece.drills[draw(st.integers(0, 1)) :])
