"""Everything that a week must or should keep, as one list of values.

A rule, a lock, a ban, the cap on a redraft's changes: each is a ``Requirement``. The model writes its rows
under one guard literal; a draft fixes all guards, a search for clashes flips them. Whatever is not in this
list only defines what a week is. A session that the coach wrote is no requirement: it is there, as she wrote
it, and everything else is planned around it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from planner.domain.requests import Overrule
from planner.problem.problem import Problem

Kind = Literal["rule", "lock", "ban", "wish", "cap", "stand-ins"]
COSTS: dict[Kind, int] = {"cap": 0, "stand-ins": 0, "ban": 1, "wish": 1, "lock": 2, "rule": 5}
"""What giving one up costs in the ranking of ways out: a ban least, a must most; a design choice."""
CAP, NEAR = "cap/lines-a-day", "stand-ins/near"
MOST_LINES_A_DAY = 4
"""A redraft changes at most so many lines of one day: a total of changes alone would pile them on one day."""


@dataclass(frozen=True, slots=True)
class Requirement:
    """Something that a week must or should keep.

    Attributes:
        id: unique and stable; a rule's own id for rules.
        kind: where it comes from.
        words: as a coach reads it in a list of what clashes.
        give_up: what giving it up means; empty for what a question asks, and for what no coach fixed.
        soft: whether it only costs points.
    """

    id: str
    kind: Kind
    words: str
    give_up: str
    soft: bool = False

    @property
    def cost(self) -> int:
        """What giving it up costs in the ranking of ways out."""
        return COSTS[self.kind]

    @property
    def lifts_itself(self) -> bool:
        """Whether it is given up unasked where no week keeps it; the headline then says so."""
        return self.kind in ("cap", "stand-ins")


def requirements_of(problem: Problem) -> tuple[Requirement, ...]:
    """All of them: rules in file order, then locks, bans and wishes insisted on, then what lifts itself."""
    return (*_of_rules(problem), *_of_requests(problem), *_lifting_themselves(problem))


def _of_rules(problem: Problem) -> Iterator[Requirement]:
    for rule in problem.rules:
        if rule.level != "watch":
            words = f"{rule.id}: {rule.statement()} ({rule.because})"
            yield Requirement(rule.id, "rule", words, f"soften the rule {rule.id}", soft=not rule.must)


def _of_requests(problem: Problem) -> Iterator[Requirement]:
    for day in problem.gym.days:
        for piece in sorted(problem.locked_pieces(day)) if problem.by_hand(day) is None else ():
            lock = problem.lock_of(day, piece)
            yield Requirement(f"{day}/{piece}", "lock", lock.words(), lock.give_up())
    for lock in problem.requests.locks:
        if not lock.of_pieces and lock.day in problem.gym.days and problem.by_hand(lock.day) is None:
            yield Requirement(lock.words(), "lock", lock.words(), lock.give_up())
    for ban in problem.requests.bans:
        if ban.day is None or ban.day in problem.gym.days:
            give_up = f"allow {ban.movement.replace('_', ' ')}"
            yield Requirement(ban.words(), "ban", ban.words(), give_up)
    for wish in problem.insisted:
        yield Requirement(wish.words(), "wish", wish.words(), "")


def _lifting_themselves(problem: Problem) -> Iterator[Requirement]:
    if problem.stay_near and problem.base is not None:
        words = f"at most {MOST_LINES_A_DAY} lines of one day change"
        yield Requirement(CAP, "cap", words, "")
    yield Requirement(NEAR, "stand-ins", "every stand-in is among the nearest to the floor's movement", "")


def overruling(problem: Problem, more: Iterable[Overrule]) -> Problem:
    """The problem with more overrules; what is overruled there already stays as it was said."""
    new = tuple(o for o in more if (o.rule, o.place) not in problem.overruled)
    if not new:
        return problem
    overrules = (*problem.requests.overrules, *new)
    return replace(problem, requests=problem.requests.model_copy(update={"overrules": overrules}))


def without(problem: Problem, off: Collection[str]) -> Problem:
    """The problem with some requirements, by id, given up."""
    if not off:
        return problem
    requests = problem.requests
    kept_bans = tuple(b for b in requests.bans if b.words() not in off)
    kept_locks = tuple(lock for lock in requests.locks if lock.of_pieces or lock.words() not in off)
    return replace(
        problem,
        rules=tuple(r for r in problem.rules if r.id not in off),
        requests=requests.model_copy(update={"bans": kept_bans, "locks": kept_locks}),
        insisted=tuple(w for w in problem.insisted if w.words() not in off),
        given_up=problem.given_up | frozenset(off),
    )
