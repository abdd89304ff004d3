"""``queue``: no item is asked for longer than the class can have it, turn after turn."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from planner.domain.base import Id
from planner.domain.gym import Day
from planner.domain.line import Held, LineFacts, held_words
from planner.domain.words import spoken
from planner.rules.base import (
    Audit,
    AuditDay,
    Expr,
    Facts,
    Rule,
    Stage,
    Term,
    TurnWork,
    View,
    audit_of,
    place_words,
)
from planner.rules.where import _listed


class Queue(Rule):
    """Nobody waits long for an item, where people go on from line to line.

    All who take an item of one mass, for as long as each takes, over how many there are, is at most a share
    of the time that a turn takes: what is used all the time has a queue. Half of the class, rounded up, takes
    each of the two reference loads. On the minute everybody goes on when the clock says, and nobody queues.

    Attributes:
        item: which items; empty for every item that the gym counts.
        share_percent: of a turn's time.
    """

    kind: Literal["queue"]
    item: Annotated[tuple[Id, ...], BeforeValidator(_listed)] = ()
    share_percent: int = Field(70, ge=10, le=100)

    unit = "seconds a round"

    @property
    def stage(self) -> Stage:  # noqa: D102
        return "doses"

    @property
    def day_by_day(self) -> bool:  # noqa: D102
        return True

    @property
    def on_conditioning(self) -> bool:  # noqa: D102
        return True

    def encode(self, view: View, facts: Facts) -> Iterator[Term]:  # noqa: D102
        for day in facts.days:
            for turn in view.turns(day):
                units = ceil(ceil(facts.class_on(day) / turn.heats) / turn.people)
                taken = turn.walking + sum(most for _, _, _, most in turn.lines)
                for held in dict.fromkeys(
                    h for line, *_ in turn.lines for takes in line.takes for h in takes
                ):
                    if not self._meant(held, facts) or not units > facts.held(held) > 0:
                        continue
                    if not turn.spans or self._may_bind(turn, held, units, facts.held(held)):
                        yield self._asked(view, facts, day, turn, held, units, taken)

    def _may_bind(self, turn: TurnWork, held: Held, units: int, count: int) -> bool:
        """Whether any line by itself asks for too much at its least dose; else the doses will see to it."""
        lines = zip(turn.lines, turn.spans, strict=True)
        asked = max(_users(line, held, ceil(units / 2), units) * low for (line, *_), (low, _) in lines)
        return 100 * asked > self.share_percent * count * turn.window[0]

    def _asked(  # noqa: PLR0917
        self, view: View, facts: Facts, day: Day, turn: TurnWork, held: Held, units: int, taken: Expr
    ) -> Term:
        count, half = facts.held(held), ceil(units / 2)
        here = [(line, literal, least) for line, literal, least, _ in turn.lines if _users(line, held, 1, 1)]
        asked = sum(_users(line, held, half, units) * least for line, _, least in here)
        most = 100 * units * turn.upper
        idle = turn.idle
        if half <= count:  # only where both halves take it are there too few
            groups = [
                view.any_of([literal for line, literal, _ in here if held in line.takes[g]], f"{day}_{g}")
                for g in (0, 1)
            ]
            both = groups[0] if groups[0] is groups[1] else view.all_of(groups, f"{day}_both")
            idle = idle + (1 - both)
        expr = 100 * asked - self.share_percent * count * taken - most * idle
        return Term(f"{day}: {held_words(held)}", expr, 0, most, divide=1000 * count * turn.rounds)

    def _meant(self, held: Held, facts: Facts) -> bool:
        return held[0] in facts.bounded and (not self.item or held[0] in self.item)

    def audit(self, week: tuple[AuditDay, ...], facts: Facts) -> Audit:  # noqa: D102
        places: list[tuple[str, int]] = []
        for d in week:
            if d.shape is None or d.shape.station_s is not None:
                continue
            people = -(-facts.class_on(d.day) // d.shape.heats)
            if d.shape.sharing in {"shared", "in_turn"}:
                people = -(-people // d.shape.people)
            lines = [
                x
                for x in d.lines
                if x.facts.piece == "conditioning"
                and not x.facts.piece_number
                and x.facts.spot not in {"opening", "closing"}
            ]
            whole = sum(x.tenths for x in lines) + d.turning_tenths
            for held in {h for x in lines for takes in x.facts.takes for h in takes}:
                count = facts.held(held)
                either = {g for x in lines for g in (0, 1) if held in x.facts.takes[g]}
                users = people if len(either) > 1 else (people + 1) // 2
                asked_for = held[0] in facts.bounded and (not self.item or held[0] in self.item)
                if not asked_for or not users > count > 0:
                    continue
                asked = sum(
                    x.tenths * (people if all(held in t for t in x.facts.takes) else (people + 1) // 2)
                    for x in lines
                    if any(held in t for t in x.facts.takes)
                )
                over = 100 * asked - self.share_percent * count * whole
                places.append((f"{d.day}: {held_words(held)}", max(0, -(-over // (1000 * count)))))
        return audit_of(places)

    def statement(self) -> str:  # noqa: D102
        what = " or ".join(spoken(i) for i in self.item) or "item"
        return f"No {what} is asked for during more than {self.share_percent} % of a turn."

    def sentence(self, place: str, measure: int) -> str:  # noqa: D102
        return f"{place_words(place)}: people queue; {measure} {self.unit} too long for those that there are."

    def remedy(self) -> str:  # noqa: D102
        return "Write less of it, more of the other lines, or run it in heats."


def _users(line: LineFacts, held: Held, half: int, whole: int) -> int:
    """How many take an item for a line: those of one load, or of both."""
    groups = sum(held in takes for takes in line.takes)
    return whole if groups > 1 else half if groups else 0
