"""The class on the floor as a picture: a lane for each athlete, and a table beside it."""

from __future__ import annotations

from dataclasses import dataclass

from planner.domain.words import capital, clock, spelt
from planner.floor.lanes import PieceRun

WIDE, LANE, LEFT, TOP = 720, 13, 26, 4
"""The picture, in its own units: width, height of a lane, room for numbers, room above."""
TICKS_AT_MOST = 8
STEPS_S = (60, 120, 180, 300, 600)
LOADS = ("man's", "woman's")


@dataclass(frozen=True)
class Box:
    """Some time of an athlete: place, and which look it has: ``s0`` to ``s5`` by movement, or ``wait``."""

    x: float
    y: float
    wide: float
    look: str


@dataclass(frozen=True)
class Tick:
    """A minute below the picture."""

    x: float
    text: str


@dataclass(frozen=True)
class FloorRow:
    """An athlete in the table: number, whose load, when done, how long waited."""

    number: str
    load: str
    done: str
    waited: str


@dataclass(frozen=True)
class FloorPicture:
    """A piece.

    Attributes:
        number: on the page, for ids.
        title: of the piece, and ``words`` how the class runs it.
        facts: what all runs say, a sentence each.
        what: the picture in a sentence.
        key: look and movement.
        boxes: of all lanes, and ``names`` their numbers with their heights.
        ticks: below.
        cap: where the cap falls; None where it does not, or later.
        wide: of the picture, ``high`` its height.
        rows: the table.
    """

    number: int
    title: str
    words: str
    facts: tuple[str, ...]
    what: str
    key: tuple[tuple[str, str], ...]
    boxes: tuple[Box, ...]
    names: tuple[tuple[str, float], ...]
    ticks: tuple[Tick, ...]
    cap: float | None
    wide: int
    high: int
    rows: tuple[FloorRow, ...]


def floor_picture(run: PieceRun, number: int = 1) -> FloorPicture:
    """A piece's picture.

    Args:
        run: of the class.
        number: of the picture on its page.
    """
    length = max(run.length_s, run.cap_s if run.cap_s and run.cap_s <= run.length_s * 1.2 else 0, 1)
    scale = (WIDE - LEFT - 8) / length
    high = TOP + LANE * len(run.lanes) + 18

    def x(seconds: float) -> float:
        return round(LEFT + seconds * scale, 1)

    boxes, names = [], []
    for i, lane in enumerate(run.lanes):
        y = TOP + i * LANE
        names.append((str(i + 1), y + LANE * 0.75))
        for span in lane.spans:
            look = "wait" if span.waiting else f"s{span.station % 6}"
            boxes.append(Box(x(span.start_s), y + 1, round((span.end_s - span.start_s) * scale, 1), look))
    step = next((s for s in STEPS_S if length / s <= TICKS_AT_MOST), STEPS_S[-1])
    waited = sum(lane.waited_s for lane in run.lanes)
    return FloorPicture(
        number=number,
        title=capital(run.title),
        words=run.words,
        facts=facts_of(run),
        what=(
            f"{capital(spelt(len(run.lanes)))} lanes, one for each in the class, from left to right in time: "
            f"what each does when. The last is done at {clock(run.length_s)}; waits come to {clock(waited)}."
        ),
        key=(
            *((f"s{i % 6}", name) for i, name in enumerate(run.stations)),
            *([("wait", "waits")] if waited else []),
        ),
        boxes=tuple(boxes),
        names=tuple(names),
        ticks=tuple(Tick(x(s), clock(s)) for s in range(0, length + 1, step)),
        cap=x(run.cap_s) if run.cap_s and run.cap_s <= length else None,
        wide=WIDE,
        high=high,
        rows=tuple(
            FloorRow(str(i + 1), LOADS[lane.group], clock(lane.done_s), clock(lane.waited_s))
            for i, lane in enumerate(run.lanes)
        ),
    )


def facts_of(run: PieceRun) -> tuple[str, ...]:
    """What the runs say: finishes, the longest wait, who is done at the cap, slots."""
    o = run.outcome
    said = []
    if o.finish_s:
        quick, typical, slow = map(clock, o.finish_s)
        said.append(f"Done at {quick} (quick, one in ten), {typical} (typical), {slow} (slow, nine in ten).")
    if o.rounds_tenths:
        slow, typical, quick = (f"{n / 10:g}" for n in o.rounds_tenths)
        said.append(f"{quick} rounds (quick, one in ten), {typical} (typical), {slow} (slow, nine in ten).")
    if o.longest_wait_s:
        said.append(
            f"Nine in ten wait {o.longest_wait_s} s at the longest, {o.waited_percent:g} % of their time."
        )
    else:
        said.append("Nine in ten wait for nothing." if o.use else "Nobody waits for anything.")
    if o.done_at_cap_percent is not None and run.cap_s:
        said.append(f"{o.done_at_cap_percent} % are done when time is called at {clock(run.cap_s)}.")
    if o.missed_percent is not None:
        said.append(f"{o.missed_percent:g} % of the slots end before the work does.")
    said.append(f"The class is done by {clock(o.class_s[2])} nine times in ten.")
    return tuple(said)
