"""The one validated value that solving, auditing and explaining start from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from random import Random
from typing import Literal

from planner.domain.catalogue import Catalogue
from planner.domain.gym import DAYS, Day, Gym
from planner.domain.iso_week import monday_of
from planner.domain.line import LinePiece, line_facts
from planner.domain.plan import RUNNING, Plan, SessionPlan
from planner.domain.requests import PIECES, Lock, Overrule, PieceName, Requests, Wish
from planner.domain.week import Line, Week
from planner.problem.options import Options
from planner.rules.base import Facts, PastLine, PastSession, Rule

SHORTLIST_PERCENT = 55
"""Share of each pattern's movements that a seed puts on the week's shortlist; a design choice."""
SHORTLIST_FLOOR = 4
"""At least so many of each pattern."""


NO_REQUESTS = Requests()


@dataclass(frozen=True, eq=False)
class Problem:
    """A week to be planned.

    Attributes:
        catalogue: movements, schemes, formats.
        gym: the gym.
        week: ISO week.
        rules: those that are on, in file order.
        facts: what rules may ask about gym and past.
        options: what could be written.
        history: earlier weeks, newest first.
        seed: of the shortlist and of the search.
        shortlist: movements that this seed would like to see.
        requests: what the coach has fixed, ruled out, asked for or overruled.
        base: the plan that locks speak of, and that a redraft stays near to.
        stay_near: whether as little of ``base`` is to change as can be.
        insisted: wishes that have to be met here: the question what meeting them would take.
        loosened: ids of musts that may each be broken by one unit in one place: the question what that buys.
        given_up: ids of requirements (``planner.problem.requirements``) that do not count here.
    """

    catalogue: Catalogue
    gym: Gym
    week: str
    rules: tuple[Rule, ...]
    facts: Facts
    options: Options
    history: tuple[Week, ...]
    seed: int
    shortlist: frozenset[str]
    requests: Requests = NO_REQUESTS
    base: Plan | None = None
    stay_near: bool = False
    insisted: tuple[Wish, ...] = ()
    loosened: frozenset[str] = frozenset()
    given_up: frozenset[str] = frozenset()

    @cached_property
    def overruled(self) -> dict[tuple[str, str], Overrule]:
        """What lets a rule not count in a place, by the rule's id and the place."""
        return {(o.rule, o.place): o for o in self.requests.overrules}

    def by_hand(self, day: Day) -> SessionPlan | None:
        """The session of a day that stays as it is: the coach wrote it, or none like it is ever drafted."""
        given = self.options.given.get(day)
        return given.session if given else None

    def base_session(self, day: Day) -> SessionPlan | None:
        """The base plan's session of a day; a session written by hand comes before it."""
        planned = self.base.sessions if self.base else ()
        return self.by_hand(day) or next((s for s in planned if s.day == day), None)

    def locked_pieces(self, day: Day) -> frozenset[PieceName]:
        """Pieces of a day that are locked and not given up; of one written by hand, all are."""
        parts = {lock.part for lock in self.requests.locks if lock.day == day}
        every = "day" in parts or self.by_hand(day) is not None
        return frozenset(p for p in PIECES if (every or p in parts) and f"{day}/{p}" not in self.given_up)

    def lock_of(self, day: Day, part: PieceName | Literal["day"]) -> Lock:
        """The lock on a piece or on all of a day, as it is spoken of: a merge's where no other is on it."""
        makers = {x.made_by for x in self.requests.locks if x.day == day and x.part in {"day", part}}
        merged = makers == {"merge"} and self.by_hand(day) is None
        return Lock(day=day, part=part, made_by="merge" if merged else "coach")

    def banned_on(self, day: Day) -> frozenset[str]:
        """Movements that are not to be used on a day, in any version."""
        return frozenset(b.movement for b in self.requests.bans if b.day in (None, day))


def assemble_problem(  # noqa: PLR0917
    catalogue: Catalogue,
    gym: Gym,
    rules: tuple[Rule, ...],
    history: tuple[Week, ...],
    week: str,
    seed: int,
    *,
    requests: Requests | None = None,
    base: Plan | None = None,
    stay_near: bool = False,
    insisted: tuple[Wish, ...] = (),
) -> Problem:
    """Resolves everything that does not need a solver."""
    asked = requests or Requests()
    given = tuple(s for s in (_stays(day, asked, base) for day in gym.days) if s is not None)
    return Problem(
        catalogue=catalogue,
        gym=gym,
        week=week,
        rules=tuple(r for r in rules if not r.off),
        facts=_facts(catalogue, gym, history, week),
        options=Options(catalogue, gym, base.sessions if base else (), given),
        history=history,
        seed=seed,
        shortlist=_shortlist(catalogue, week, seed),
        requests=asked,
        base=base,
        stay_near=stay_near,
        insisted=insisted,
    )


def _stays(day: Day, asked: Requests, base: Plan | None) -> SessionPlan | None:
    """The session of a day that stays whatever comes: written by hand, or locked and none that is drafted."""
    written = next((s for s in asked.by_hand if s.day == day), None)
    if written is not None or not any(x.day == day and x.part == "day" for x in asked.locks):
        return written
    kept = next((s for s in (base.sessions if base else ()) if s.day == day), None)
    return kept if kept is not None and kept.own else None


def _facts(catalogue: Catalogue, gym: Gym, history: tuple[Week, ...], week: str) -> Facts:
    return Facts(
        days=gym.days,
        class_size=gym.class_.size,
        class_minutes=gym.class_.minutes,
        counts={item: gym.count(item) for item in catalogue.items},
        bounded=frozenset(i.id for i in catalogue.items.values() if not i.space),
        past=tuple(_past(catalogue, history, week)),
        item_names={i.id: i.plural for i in catalogue.items.values()},
        class_sizes=gym.class_.by_day,
        masses={
            (item, kg): count
            for item, held in gym.inventory.items()
            if isinstance(held, dict)
            for kg, count in held.items()
        },
    )


def _past(catalogue: Catalogue, history: tuple[Week, ...], week: str) -> list[PastSession]:
    monday, out = monday_of(week), []
    for past in history:
        weeks_ago = (monday - monday_of(past.week)).days // 7
        for session in past.sessions:
            lines, shape_format, domain, scheme = [], "", "", ""
            for piece in session.pieces:
                floor = piece.versions.get(past.kits[0].id)
                if piece.kind == "conditioning" and not shape_format:
                    shape_format, domain = piece.format, piece.domain or ""
                for line in floor.lines if floor else ():
                    if line.scheme and not line.assistance and piece.kind == "strength" and not scheme:
                        scheme = line.scheme
                    lines.append(_past_line(catalogue, piece.kind, line))
            days_ago = 7 * weeks_ago - DAYS.index(session.day)
            out.append(
                PastSession(days_ago, weeks_ago, tuple(lines), shape_format, domain, scheme, session.rating)
            )
    return out


def _past_line(catalogue: Catalogue, kind: str, line: Line) -> PastLine:
    movement = catalogue.movements.get(line.movement)
    if movement is None:
        return PastLine(line.movement, None)
    beside = line.assistance or kind == "skill"
    piece: LinePiece = "conditioning" if kind in RUNNING else ("assistance" if beside else "main")
    scheme = (line.planned.own if line.planned else None) or catalogue.schemes.get(line.scheme)
    facts = line_facts(piece, movement, line.tier, scheme, movement.setups[0].needs, catalogue.items)
    return PastLine(line.movement, facts)


def _shortlist(catalogue: Catalogue, week: str, seed: int) -> frozenset[str]:
    """The seed's shortlist: a share of each pattern's movements, so that no pattern is thinned out."""
    by_pattern: dict[str, list[str]] = {}
    for m in catalogue.movements.values():
        by_pattern.setdefault(m.main_pattern, []).append(m.id)
    chosen: set[str] = set()
    dice = Random(f"{week}/{seed}")  # noqa: S311  (taste, not secrets)
    for ids in by_pattern.values():
        n = max(SHORTLIST_FLOOR, len(ids) * SHORTLIST_PERCENT // 100)
        chosen.update(dice.sample(sorted(ids), min(n, len(ids))))
    return frozenset(chosen)
