"""The class clock: how many minutes each part of a session takes, shared by the solver and the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from planner.domain.catalogue import Scheme

BRIEF = 2
"""Minutes: what the day is about, what to watch; common practice."""
WARM_UP = 9
"""Minutes of raise, activate and mobilise, potentiate; 5 to 10 is usual for the general part."""
CHANGE_OVER = 3
"""Minutes from strength to conditioning: bars stripped, stations set; common practice."""
COOL_DOWN = 4
"""Minutes; common practice."""
ASSISTANCE = 2
"""Minutes that assistance adds: most of it is done in the rests of the main lift; common practice."""


@dataclass(frozen=True, slots=True)
class ClassFrame:
    """Minutes of a class around its two pieces."""

    brief: int = BRIEF
    warm_up: int = WARM_UP
    change_over: int = CHANGE_OVER
    cool_down: int = COOL_DOWN

    @property
    def minutes(self) -> int:
        """All of them together."""
        return self.brief + self.warm_up + self.change_over + self.cool_down


USUAL = ClassFrame()
HALF_AN_HOUR, TWENTY_MINUTES = 30, 20
_SHORT, _SHORTEST = ClassFrame(1, 5, 1, 2), ClassFrame(1, 3, 1, 1)
"""Below half an hour a warm-up of the least that is usual; below twenty minutes what just leaves room for two
short pieces, with the build-up sets as the rest of it. A design choice."""


def frame_of(class_minutes: int) -> ClassFrame:
    """What is left for brief, warm-up, change over and cool-down in a class of so many minutes."""
    if class_minutes >= HALF_AN_HOUR:
        return USUAL
    return _SHORT if class_minutes >= TWENTY_MINUTES else _SHORTEST


def strength_minutes(scheme: Scheme | None, assistance: bool) -> int:
    """Minutes of the strength piece, build-up included; 0 where there is none.

    Args:
        scheme: of the main lift.
        assistance: whether anything is done beside it.
    """
    if scheme is None:
        return 0
    return ceil(scheme.seconds / 60) + (ASSISTANCE if assistance else 0)


Block = tuple[str, int]
"""A part of the class, and its minutes."""
LABELS = {
    "skill": "Skill", "strength": "Strength", "conditioning": "Conditioning", "finisher": "Finisher",
}  # fmt: skip


def blocks_of(pieces: Iterable[tuple[str, int]], frame: ClassFrame = USUAL) -> tuple[Block, ...]:
    """The blocks of a class in their order, each with its minutes; those that are not there have none.

    The change-over is counted only where there is something to change over to and from: before a piece with
    a clock, once anything was done.

    Args:
        pieces: kind and minutes of each, in order.
        frame: minutes of the other blocks.
    """
    blocks: list[Block] = [("Brief", frame.brief), ("Warm-up", frame.warm_up)]
    done = 0
    for kind, minutes in pieces:
        if kind in {"conditioning", "finisher"}:
            blocks.append(("Change over", frame.change_over if done and minutes else 0))
        blocks.append((LABELS[kind], minutes))
        done += minutes
    return (*blocks, ("Cool-down", frame.cool_down))


def lifts_minutes(lifts: Sequence[tuple[Scheme, bool]], *, paired: bool = False) -> int:
    """Minutes of a piece of sets and reps.

    Args:
        lifts: the scheme of each, and whether it is done beside another.
        paired: whether those beside are done in turn with the first, set by set, so that each takes time.
    """
    mains = [scheme for scheme, beside in lifts if not beside] or [scheme for scheme, _ in lifts[:1]]
    if paired:
        others = sum(s.sets * s.set_seconds(s.reps) for s, _ in lifts[1:])
        return strength_minutes(mains[0], assistance=False) + ceil(others / 60)
    beside = len(lifts) > len(mains)
    return sum(strength_minutes(scheme, beside and i == 0) for i, scheme in enumerate(mains))
