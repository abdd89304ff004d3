"""A line that could be, or has been, written in a session: a movement with how heavy and with what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.domain.catalogue import Item, Movement, Scheme, Tier

LinePiece = Literal["main", "assistance", "conditioning"]
EXPOSURE_PERCENT = 30
"""A movement is an exposure of each pattern that has at least this share in it; a design choice."""


@dataclass(frozen=True, slots=True, eq=False)
class LineFacts:
    """Everything about a line that rules ask for, its dose apart.

    Attributes:
        piece: main lift, assistance beside it, or conditioning.
        movement: the movement.
        tier: how heavy; ``open`` without a load.
        scheme: sets and reps, on strength lines.
        needs: items of equipment, by id, in the setup used.
        implement: the loaded item among them, or empty.
        large: the large stations among them.
    """

    piece: LinePiece
    movement: Movement
    tier: Tier
    scheme: Scheme | None
    needs: tuple[str, ...]
    implement: str
    large: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """A line with its dose.

    Attributes:
        facts: the line.
        dose: in the movement's unit for one round, for a ladder the sum; for one set on strength lines.
        units: over the whole piece; both sides counted where the movement is per side.
        tenths: tenths of a second in one round; 0 on strength lines.
    """

    facts: LineFacts
    dose: int
    units: int
    tenths: int


def line_facts(
    piece: LinePiece,
    movement: Movement,
    tier: Tier,
    scheme: Scheme | None,
    needs: tuple[str, ...],
    items: dict[str, Item],
) -> LineFacts:
    """The facts of a line, from the catalogue."""
    return LineFacts(
        piece=piece,
        movement=movement,
        tier=tier if movement.modality == "loaded" else "open",
        scheme=scheme,
        needs=needs,
        implement=next((n for n in needs if items[n].loaded and movement.modality == "loaded"), ""),
        large=tuple(n for n in needs if items[n].large),
    )


def line_units(movement: Movement, dose: int, times: int) -> int:
    """Units over a whole piece: dose times rounds or sets, twice where the dose is for each side."""
    return dose * times * (2 if movement.sides == "per_side" else 1)
