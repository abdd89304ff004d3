"""Small pieces with small classes."""

from __future__ import annotations

from planner.domain.flow import Flow, Running, Station
from planner.domain.line import Held
from planner.floor.piece import FloorPiece

ROWER: Held = ("rower", None)
BAGS: tuple[Held, Held] = ("sandbag", 40.0), ("sandbag", 20.0)


def station(name: str, seconds: float, *takes: Held, women: tuple[Held, ...] | None = None, spot="turn"):
    own = tuple(takes)
    return Station(name, name, (round(seconds * 10),), (own, own if women is None else women), spot)


def piece(
    *stations: Station, people=(6, 6), counts=None, turns=5, flow: Flow = "spread", **more
) -> FloorPiece:
    """A piece for time, or what ``more`` says of its clock."""
    slot = {k: more.pop(k) for k in ("slot_s", "by_movement") if k in more}
    turn = sum(s.mean_tenths for s in stations if s.spot == "turn") + 50 * len(stations)
    timed = not slot and "end_s" not in more
    running = Running(stations, turn, visits=sum(s.spot == "turn" for s in stations), timed=timed, **slot)
    return FloorPiece("piece", running, turns, people, counts or {}, flow, **more)


def rowing(row_s: float = 60, rowers: int = 4, **more) -> FloorPiece:
    """Row, then two movements that need nothing."""
    lines = station("row", row_s, ROWER), station("burpee", 60), station("sit-up", 60)
    return piece(*lines, counts={ROWER: rowers}, **more)
