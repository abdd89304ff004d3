"""What a solver, or a coach with a pencil, decides: ids only, nothing drawn or computed from them."""

from __future__ import annotations

from typing import Annotated

from planner.domain.base import Value
from planner.domain.catalogue import Catalogue, Scheme, Tier
from planner.domain.difference import Compared
from planner.domain.gym import Day
from planner.domain.sets import Kg
from planner.domain.written import Start


class StrengthLine(Value):
    """A movement under a scheme.

    Attributes:
        movement: id.
        scheme: id.
        assistance: whether it is done beside the main lift.
        own: the scheme itself, where the catalogue has none like it.
        kg: what a man and a woman lift on every set, where the coach named it.
        tier: how heavy, where the coach named it.
        start: from the rack or from the floor, where the coach named it.
        paired: whether it is done in turn, set by set, with the line before it.
        note: as the coach wrote it.
    """

    movement: str
    scheme: str
    assistance: bool = False
    own: Scheme | None = None
    kg: tuple[Kg, Kg] | None = None
    tier: Tier | None = None
    start: Start | None = None
    paired: bool = False
    note: str = ""


def scheme_of_line(line: StrengthLine, catalogue: Catalogue) -> Scheme | None:
    """A line's scheme: its own, else the catalogue's; None where that has none of the name."""
    return line.own or catalogue.schemes.get(line.scheme)


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
