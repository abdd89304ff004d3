"""The geometry of the pictures: numbers for the SVG templates, no markup."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

PIPS_AT_MOST = 6
CELL = 24
BAR_HEIGHT = 56
SCALE = 100.0


@dataclass(frozen=True)
class Dot:
    """A dot's centre, in a cell of 24 by 24."""

    x: float
    y: float


@dataclass(frozen=True)
class Bar:
    """A bar along one axis, in hundredths of the picture's width unless said otherwise.

    Attributes:
        start: where it begins.
        size: how long it is.
        fill: ``solid``, ``half`` or ``open``.
    """

    start: float
    size: float
    fill: str


def pips(amount: int) -> tuple[Dot, ...]:
    """One dot for each exposure, three to a row, centred; none if too many to count at a glance."""
    if not 0 < amount <= PIPS_AT_MOST:
        return ()
    rows = [amount] if amount <= PIPS_AT_MOST // 2 else [(amount + 1) // 2, amount // 2]
    step = 7.8
    top = CELL / 2 - step * (len(rows) - 1) / 2
    return tuple(
        Dot(CELL / 2 + step * (i - (width - 1) / 2), top + step * row)
        for row, width in enumerate(rows)
        for i in range(width)
    )


def column(value: int, most: int, fill: str) -> Bar:
    """An upright bar in a cell 56 units high: ``start`` is its top, measured downwards."""
    size = round(BAR_HEIGHT * value / most, 2) if most else 0.0
    return Bar(round(BAR_HEIGHT - size, 2), size, fill)


def facing(left: int, right: int) -> tuple[Bar, Bar]:
    """Two bars that grow from the middle, on one scale."""
    most = max(left, right, 1)
    half = SCALE / 2
    a, b = round(half * left / most, 2), round(half * right / most, 2)
    return Bar(half - a, a, "solid"), Bar(half, b, "half")


def stacked(values: Sequence[int], fills: Sequence[str]) -> tuple[Bar, ...]:
    """Bars end to end that fill the width in proportion."""
    whole = sum(values)
    if not whole:
        return ()
    bars: list[Bar] = []
    start = 0.0
    for value, fill in zip(values, fills, strict=True):
        size = SCALE * value / whole
        bars.append(Bar(round(start, 2), round(size, 2), fill))
        start += size
    return tuple(bars)
