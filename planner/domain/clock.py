"""The class clock: how many minutes each part of a session takes, shared by the solver and the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from typing import NamedTuple

from planner.domain.catalogue import TRIES, Scheme

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
BUILD_UP_REST_S = 60
"""After a build-up set of who has a bar to herself; common practice."""
PLATE_CHANGE_S, HAND_OVER_S = 40, 10
"""From one to the next at one bar: plates off and on; where none are, walking up; common practice."""


class Turns(NamedTuple):
    """How a lift is shared.

    Attributes:
        people: how many take turns at one set of what it needs.
        change_s: from one to the next, seconds.
        sides: 2 where each set is done with one side after the other.
    """

    people: int = 1
    change_s: int = 0
    sides: int = 1


ALONE = Turns()


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


def strength_minutes(scheme: Scheme | None, assistance: bool, turns: Turns = ALONE) -> int:
    """Minutes of the strength piece, build-up included; 0 where there is none.

    Args:
        scheme: of the main lift.
        assistance: whether anything is done beside it.
        turns: how many share a rack or a bar.
    """
    if scheme is None:
        return 0
    return ceil(sets_seconds(scheme, turns) / 60) + (ASSISTANCE if assistance else 0)


def sets_seconds(scheme: Scheme, turns: Turns = ALONE) -> int:
    """Seconds from the first build-up set to the end of the last work set of the last in turn.

    Who takes turns lifts again when the others have had theirs, or when her own rest is over, whichever is
    later; every turn takes the change to the next. Build-up sets go round in the same way.
    """
    people, change_s, sides = turns if scheme.work.practice_s is None else (1, 0, 1)

    def again(set_s: float, rest_s: float) -> float:
        return max(set_s + rest_s, people * (set_s + change_s))

    build = [reps * scheme.moves * scheme.seconds_per_rep * sides for _, reps in scheme.build_up]
    work = [scheme.set_seconds(x.reps) * sides for x in scheme.work.sets * (TRIES if scheme.finds else 1)]
    seconds = sum(again(x, 0 if people > 1 else BUILD_UP_REST_S) for x in build)
    if scheme.work.every_s is not None:
        return round(seconds + sum(max(scheme.work.every_s, people * (x + change_s)) for x in work))
    seconds += sum(again(x, scheme.rest_s) for x in work[:-1])
    return round(seconds + people * (work[-1] + change_s) - change_s)


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


def lifts_minutes(
    lifts: Sequence[tuple[Scheme, bool]], turns: Sequence[Turns] = (), *, paired: bool = False
) -> int:
    """Minutes of a piece of sets and reps.

    Args:
        lifts: the scheme of each, and whether it is done beside another.
        turns: how each is shared; each has all to herself where that is not given.
        paired: whether those beside are done in turn with the first, set by set, so that each takes time.
    """
    shared = turns or (ALONE,) * len(lifts)
    every = [(scheme, own) for (scheme, _), own in zip(lifts, shared, strict=True)]
    mains = [x for x, (_, beside) in zip(every, lifts, strict=True) if not beside] or every[:1]
    if paired:
        others = sum(s.sets * s.set_seconds(s.reps) * own.sides for s, own in every[1:])
        return strength_minutes(mains[0][0], assistance=False, turns=mains[0][1]) + ceil(others / 60)
    beside = len(lifts) > len(mains)
    return sum(strength_minutes(scheme, beside and i == 0, own) for i, (scheme, own) in enumerate(mains))
