"""What a solver, or a coach with a pencil, decides: ids only, nothing drawn or computed from them."""

from __future__ import annotations

from typing import Annotated

from planner.domain.base import Value
from planner.domain.catalogue import Tier
from planner.domain.difference import Compared
from planner.domain.gym import Day


class StrengthLine(Value):
    """A movement under a scheme.

    Attributes:
        movement: id.
        scheme: id.
        assistance: whether it is done beside the main lift.
    """

    movement: str
    scheme: str
    assistance: bool = False


class ConditioningLine(Value):
    """A movement with its dose for one round.

    Attributes:
        movement: id.
        dose: in the movement's unit, for one round; in a ladder, the sum of its rungs.
        tier: how heavy.
    """

    movement: str
    dose: int
    tier: Tier


class VersionPlan(Value):
    """A session's lines for one kit version; line i stands for line i of the gym floor.

    Attributes:
        strength: main lift first, then assistance.
        conditioning: in the order in which they are done.
    """

    strength: Annotated[tuple[StrengthLine, ...], Compared(by="movement")]
    conditioning: Annotated[tuple[ConditioningLine, ...], Compared(by="movement")]


class SessionPlan(Value):
    """One day.

    Attributes:
        day: of the week.
        shape: id of the conditioning shape, the same for every version.
        versions: by kit id, the gym floor first.
    """

    day: Day
    shape: str
    versions: dict[str, VersionPlan]


class Plan(Value):
    """A whole week, as decided.

    Attributes:
        week: ISO week, ``2026-W49``.
        sessions: in day order.
    """

    week: str
    sessions: Annotated[tuple[SessionPlan, ...], Compared(by="day")]
