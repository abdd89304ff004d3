"""A written conditioning piece as the floor sees it, how the class runs it, and that in a line of words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.domain.catalogue import Shape, TimeDomain
from planner.domain.flow import START_EVERY_S, People, Running, Station, flow_of, heats_of, in_parts, users_of
from planner.domain.line import Held
from planner.domain.plan import PiecePlan
from planner.domain.timing import SLOW_PERCENT, TRANSITION_TENTHS, TimedLine, dose_tenths, own_share
from planner.domain.week import FloorTest, Line
from planner.domain.words import capital, clock, listed, spelt
from planner.floor.outcome import Outcome, summed
from planner.floor.piece import FloorPiece
from planner.floor.simulate import Played
from planner.prescribe.sentences import kg_text
from planner.prescribe.set_out import Room, counts_of


def floor_piece(  # noqa: PLR0917
    piece: PiecePlan,
    shape: Shape,
    domain: TimeDomain,
    lines: Sequence[Line],
    timed: Sequence[TimedLine],
    room: Room,
) -> FloorPiece:
    """A piece with its class, in the flow that was said, else in the best that the counts allow.

    Args:
        piece: as planned.
        shape: how it runs.
        domain: its time domain.
        lines: of the gym floor, as written.
        timed: the same with their movements.
        room: the gym.
    """
    running = _running(shape, lines, timed, room)
    roundings = [_units(people, shape) for people in room.gym.class_.people]
    counts = counts_of(room, lines, roundings[0])
    stretch = 100 + domain.fatigue_percent
    slow_s = running.turn_tenths * shape.turns * stretch * SLOW_PERCENT // 100_000
    best = flow_of(running, roundings, counts, slow_s, shape.cap_minutes * 60)
    flow = piece.said_flow or ("heats" if shape.heats > 1 else best)
    c = piece.composition
    work = c.seconds if c is not None and c.clock == "work_rest" and c.by_movement else None
    fixed = (c.seconds if c is not None and c.clock == "fixed" else None) or (
        None if shape.fixed_minutes is None else shape.fixed_minutes * 60
    )
    return FloorPiece(
        title=shape.title,
        running=running,
        turns=shape.turns,
        people=roundings[0],
        counts=counts,
        flow=flow,
        stretch_percent=stretch,
        rest_s=0 if running.slot_s else shape.rest_s,
        work_s=work,
        end_s=None if running.slot_s else fixed,
    )


def _units(people: People, shape: Shape) -> People:
    """Athletes, or pairs and threes of whom one works at a time."""
    return in_parts(people, shape.part("turn").turns)


def _running(shape: Shape, lines: Sequence[Line], timed: Sequence[TimedLine], room: Room) -> Running:
    stations = tuple(_station(line, one, shape, room) for line, one in zip(lines, timed, strict=True))
    turning = [s for s in stations if s.spot == "turn"]
    after = [s for s in stations if s.spot == "after_each"]
    each = sum(s.mean_tenths for s in turning) + len(turning) * sum(s.mean_tenths for s in after)
    by_movement = shape.station_s is not None
    return Running(
        stations=stations,
        turn_tenths=each + len(turning) * (1 + len(after)) * TRANSITION_TENTHS,
        visits=max(1, len(turning)),
        slot_s=shape.slot_s if by_movement else (shape.every_s or 0),
        by_movement=by_movement,
        timed=shape.fixed_minutes is None and not shape.every_s,
    )


def _station(line: Line, one: TimedLine, shape: Shape, room: Room) -> Station:
    part = shape.part(one.spot)
    numbers = [own_share(n, part) for n in one.rungs(shape) or (one.dose,)]
    return Station(
        movement=line.movement,
        name=line.name,
        tenths=tuple(part.turns * dose_tenths(one.movement, n, one.tier) for n in numbers),
        takes=room.takes(line),
        spot=one.spot,
    )


def people_at_once(piece: FloorPiece) -> People:
    """How many of each load take things at the same time: one heat, one half, in twos a set for two."""
    if piece.flow == "heats":
        return in_parts(piece.people, heats_of(piece.running, piece.people, piece.counts))
    return in_parts(piece.people, 2) if piece.flow in {"halves", "twos"} else piece.people


def floor_test(run: Played, outcome: Outcome, cap_minutes: int | None) -> FloorTest:
    """What the simulation says of a piece, for the sheet.

    Args:
        run: all runs.
        outcome: of them.
        cap_minutes: time cap; None where there is none.
    """
    if cap_minutes is not None:
        outcome = summed(replace(run, piece=replace(run.piece, cap_s=cap_minutes * 60)))
    return FloorTest(
        flow=run.piece.flow,
        longest_wait_s=outcome.longest_wait_s,
        waited_percent=outcome.waited_percent,
        done_at_cap_percent=outcome.done_at_cap_percent,
        missed_percent=outcome.missed_percent,
        class_s=outcome.class_s[2],
    )


# In words --------------------------------------------------------------------------------------------------


def class_flow(piece: FloorPiece, size: int, room: Room) -> str:
    """How the class runs a piece, with counts: "Spread out over the three movements, four to each".

    Args:
        piece: with its class.
        size: of the class.
        room: names of the items.
    """
    turning = max(1, len(piece.running.turning))
    heats = heats_of(piece.running, piece.people, piece.counts) if piece.flow == "heats" else 1
    said = {
        "together": "All together.",
        "spread": (
            f"Spread out over the {spelt(turning)} movements, {spelt(-(-size // turning))} to each; "
            "then go on in order."
        ),
        "heats": (
            f"{capital(spelt(heats))} heats of {spelt(-(-size // heats))}: while one works, the others "
            "count and set up."
        ),
        "starts": (
            f"One after the other, a start every {START_EVERY_S} seconds: the last of you at "
            f"{clock(START_EVERY_S * (sum(piece.people) - 1))}."
        ),
        "twos": "In twos at one set, turn and turn about: each does her full numbers.",
        "halves": "One half of you here, the other at the other part; then swap.",
    }[piece.flow]
    sharing = [text for text in (_sharing(piece, held, heats, room) for held in _asked(piece)) if text]
    return f"{said} {capital(listed(sharing))}." if sharing else said


def _asked(piece: FloorPiece) -> list[Held]:
    return [h for h in users_of(piece.running.stations, piece.people) if h in piece.counts]


def _sharing(piece: FloorPiece, held: Held, heats: int, room: Room) -> str:
    """How many share an item; empty where each has her own, or those at a movement have."""
    users = users_of(piece.running.stations, piece.people)[held]
    count = max(1, piece.counts[held])
    turning = [s for s in piece.running.turning if any(held in takes for takes in s.takes)]
    if piece.flow == "spread" and turning:
        users = max(-(-users // len(piece.running.turning)), 1)
    elif piece.flow == "halves":
        users = -(-users // 2)
    users = -(-users // heats)
    if piece.flow == "twos":
        users = -(-users // 2)
    each = -(-users // count)
    if each <= 1:
        return ""
    item, kg = held
    name = room.catalogue.items[item].name if item in room.catalogue.items else item
    mass = f" of {kg_text(kg)} kg" if kg is not None else ""
    who = "pairs" if piece.flow == "twos" else "of you"
    return f"{spelt(each)} {who} share a {name}{mass}"
