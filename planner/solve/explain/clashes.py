"""Where no week can be: which requirements clash, and the cheapest ways out, each verified.

The model of the draft itself, whose guards are flipped: what clashes is found by leaving requirements out,
with ordinary solves. The solver's own core under assumptions says where to look first, and no more than that:
it need not be smallest, so it is believed only as far as the same solves confirm it. That a week is possible
is only said where one was filled, doses, kit versions and all.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Literal

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.plan import SessionPlan
from planner.problem.problem import Problem
from planner.problem.requirements import Requirement, without
from planner.solve.model.master import ASIDE, Master, build_master, set_ceiling, set_range, switch
from planner.solve.search import cuts
from planner.solve.search.fewest import fewest
from planner.solve.search.fill import Filled, Infeasible, fill, floor_of
from planner.solve.search.repair import other_lines
from planner.solve.search.solver import Budget, at_once, core_of, solve_layer

PROBE = 4.0
"""Deterministic budget of one solve."""
SEARCH = 20.0
"""Deterministic budget of a whole search; spent on what comes first in a fixed order, so it is repeatable."""
QUESTION = 0.05
"""What a question counts for at least: building and reading take their time too."""
FIND = 4.0
"""Deterministic budget of one search for a whole week."""
FILLING, CUT = 0.1, 0.3
"""What it counts for at least to fill a week, and to find out which of its lines cannot be filled."""
WAYS_SHARE = 0.4
"""Of the budget, what is kept back for the ways out: they help more than one clash more."""
MOST_CLASHES = 10
FEW = 6
"""So few suspects are asked about one by one, in the hope that they are a smallest set already; more bans
than that are first asked about as one."""
Verdict = Literal["possible", "impossible", "undecided"]
Block = tuple[Requirement, ...]
"""Requirements that are asked about as one: dozens of bans, of which it matters little which they are."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Requirements that cannot all hold, though any one less can."""

    members: tuple[Requirement, ...]


@dataclass(frozen=True, slots=True)
class WayOut:
    """Requirements that it is enough to give up; verified by a filled week."""

    members: tuple[Requirement, ...]

    @property
    def cost(self) -> int:
        """By which ways out are ranked."""
        return sum(r.cost for r in self.members)


@dataclass(slots=True)
class Clashes:
    """What was found.

    Attributes:
        clashes: smallest sets, each verified: impossible together, possible without any one of its members.
        ways_out: verified, the cheapest first.
        complete: whether the time sufficed to look for every clash.
        verdict: on everything together.
        hopeless: whether there is no week even with everything left out: the equipment is too little.
    """

    clashes: list[Clash] = field(default_factory=list)
    ways_out: list[WayOut] = field(default_factory=list)
    complete: bool = True
    verdict: Verdict = "impossible"
    hopeless: bool = False


Answers = dict[frozenset[str], Verdict]
"""By what was on."""


class Switchboard:
    """Asks whether a week is possible with some requirements on and all others off."""

    def __init__(self, problem: Problem, master: Master | None = None, seconds: float = SEARCH) -> None:
        """Takes over a draft's model with all its cuts, or builds one."""
        self.problem, self.left = problem, seconds
        self._master = master or build_master(problem)
        for name in self._master.ceilings:
            set_ceiling(self._master, name, None)
        for kept in self._master.kept.values():
            if not isinstance(kept, int):
                set_range(self._master.model, kept, 0, 1)
        self._relaxed: Answers = {}
        self._filled: Answers = {}
        self._weeks: dict[frozenset[str], tuple[SessionPlan, ...]] = {}

    @property
    def requirements(self) -> tuple[Requirement, ...]:
        """All that can clash: not what only costs points, nor what lifts itself."""
        return tuple(r for r in self._master.requirements if not r.soft and not r.lifts_itself)

    def ask(self, on: Iterable[Requirement]) -> Verdict:
        """Whether lines are possible; doses and kit versions count as far as cuts know of them."""
        key = frozenset(r.id for r in on)
        known = _told(self._filled, key) or _told(self._relaxed, key)
        if known is None:
            known = self._relaxed[key] = self._solve(key)[0]
        return known

    def ask_each(self, several: Iterable[Iterable[Requirement]]) -> list[Verdict]:
        """The same of several sets, some at once."""
        return list(at_once(self.ask, several))

    def find(self, on: Iterable[Requirement], *, thorough: bool = False) -> Verdict:
        """Whether a whole week is possible, with doses and every kit version.

        Args:
            on: what is to hold.
            thorough: whether it matters which of many bans are on.
        """
        key = frozenset(r.id for r in on)
        known = _told(self._filled, key)
        if known is None:
            known = self._filled[key] = self._find(key, thorough=thorough)
        return known

    def broken(self, on: Iterable[Requirement], bans: Iterable[Requirement]) -> list[Requirement]:
        """Of bans that were off, those that a week found with the rest on does not keep."""
        key = frozenset(r.id for r in on)
        week = next(sessions for known, sessions in self._weeks.items() if key <= known)
        used = {
            (s.day, movement)
            for s in week
            for v in s.versions.values()
            for movement in (*(x.movement for x in v.strength), *(x.movement for x in v.conditioning))
        }
        broken = {
            b.words()
            for b in self.problem.requests.bans
            if any(m == b.movement and b.day in (None, d) for d, m in used)
        }
        return [r for r in bans if r.id in broken]

    def confirm(self, on: Iterable[Requirement]) -> bool:
        """Whether a second configuration of the solver also finds that no week is possible."""
        return self._solve(frozenset(r.id for r in on), seed=7, presolve=False)[0] == "impossible"

    def suspects(self, on: Sequence[Requirement]) -> list[Requirement]:
        """Of requirements that cannot all hold, fewer that cannot either, as far as that is quick to tell."""
        guards = self._master.guards
        by_index = {guards[r.id].index: r for r in on}
        model = self._master.model.clone()
        switch(self._master, (ASIDE,), model)
        for r in on:
            set_range(model, guards[r.id], 0, 1)
        answer = core_of(model, [guards[r.id] for r in on], self._budget(1))
        self.left -= max(answer.deterministic, QUESTION)
        core = {by_index[i].id for i in answer.core}
        few = [r for r in on if r.id in core]
        return few if few and self.ask(few) == "impossible" else list(on)

    def _find(self, key: frozenset[str], *, thorough: bool) -> Verdict:
        here = without(self.problem, {r.id for r in self._master.requirements if r.id not in key})
        aside, end = False, max(0.0, self.left - FIND)
        values: tuple[int, ...] = ()
        while self.left > end:
            if not values:
                verdict, values = self._solve(key, aside=aside)
                if verdict != "possible":
                    return "undecided" if aside else verdict
            floor = floor_of(self._master, here, values)
            filled = fill(here, floor)
            self.left -= max(filled.deterministic, FILLING)
            if isinstance(filled, Filled):
                self._weeks[key] = filled.sessions
                return "possible"
            if isinstance(filled, Infeasible):
                bad = cuts.cut(self._master, here, floor, thorough=thorough)
                self.left -= CUT
                self._relaxed = {k: v for k, v in self._relaxed.items() if v == "impossible"}
            else:
                cuts.set_aside(self._master, floor)
                aside, bad = True, list(floor)
            values = self._mended(key, here, values, bad, aside=aside)
        return "undecided"

    def _mended(
        self, on: frozenset[str], here: Problem, values: tuple[int, ...], bad: list[Day], *, aside: bool
    ) -> tuple[int, ...]:
        """The same week with other lines on the days that could not be filled; empty where there are none."""
        answer = other_lines(here, self._master, values, bad, self._switched(on, aside=aside))
        self.left -= max(answer.deterministic, QUESTION)
        return answer.values

    def _switched(self, on: frozenset[str], *, aside: bool) -> cp_model.CpModel:
        model = self._master.model.clone()
        switch(self._master, {*on, *((ASIDE,) if aside else ())}, model)
        return model

    def _budget(self, seed: int) -> Budget:
        """Of one question: no more than is left, but for the least that any takes."""
        return Budget(min(PROBE, max(self.left, QUESTION)), seed)

    def _solve(
        self, on: frozenset[str], seed: int = 1, *, presolve: bool = True, aside: bool = False
    ) -> tuple[Verdict, tuple[int, ...]]:
        model = self._switched(on, aside=aside)
        answer = solve_layer(model, None, self._budget(seed), presolve=presolve)
        self.left -= max(answer.deterministic, QUESTION)
        if answer.status in ("impossible", "undecided"):
            return ("impossible" if answer.status == "impossible" else "undecided"), ()
        return "possible", answer.values


def _told(answers: Answers, on: frozenset[str]) -> Verdict | None:
    """What follows from earlier answers: with less on there still is a week, with more there is none."""
    for key, verdict in answers.items():
        if key == on or (on < key if verdict == "possible" else key < on and verdict == "impossible"):
            return verdict
    return None


def find_clashes(problem: Problem, master: Master | None = None, seconds: float = SEARCH) -> Clashes:
    """Smallest sets that clash, up to ten, and the cheapest ways out.

    Args:
        problem: for which no week is possible.
        master: of the draft that found that, with its cuts; built anew where None.
        seconds: deterministic budget; what is found by then is returned.
    """
    board = Switchboard(problem, master, seconds)
    found = Clashes(verdict=board.find(board.requirements))
    if found.verdict != "impossible":
        return found
    if board.ask(()) == "impossible":
        found.hopeless = True
        return found
    _enumerate(board, found, seconds * WAYS_SHARE)
    _ways_out(board, found)
    return found


def _enumerate(board: Switchboard, found: Clashes, kept_back: float) -> None:
    """Every clash: one, then what clashes without one of its members, and so on; many bans go as one."""
    waiting: list[frozenset[Requirement]] = [frozenset()]
    seen: set[frozenset[Requirement]] = set()
    while waiting:
        if board.left <= kept_back or len(found.clashes) >= MOST_CLASHES:
            found.complete = False
            return
        without_these = waiting.pop(0)
        if without_these in seen:
            continue
        seen.add(without_these)
        known = next((c for c in found.clashes if not without_these & set(c.members)), None)
        if known is None:
            rest = [r for r in board.requirements if r not in without_these]
            if board.ask(rest) != "impossible":
                continue
            known = Clash(tuple(_smallest(board, rest)))
            if not board.confirm(known.members):
                found.complete = False
                continue
            found.clashes.append(known)
            board.ask_each([r for r in rest if r not in block] for block in blocks_of(known.members))
        waiting += [without_these | set(block) for block in blocks_of(known.members)]


def _smallest(board: Switchboard, clashing: list[Requirement]) -> list[Requirement]:
    """A smallest set that clashes, of one that does; each member needed, which a filled week shows."""
    blocks = _needed(board, blocks_of(board.suspects(clashing)), [])
    for block in list(blocks):
        rest = [b for b in blocks if b is not block]
        if rest and board.find(_flat(rest)) == "impossible":
            blocks = rest
    for block in [b for b in blocks if len(b) > 1]:
        others = [b for b in blocks if b is not block]
        blocks = [*others, *_needed(board, [(r,) for r in block], others)]
    ids = {r.id for r in _flat(blocks)}
    return [r for r in clashing if r.id in ids]


def blocks_of(requirements: Iterable[Requirement]) -> list[Block]:
    """Each by itself, but more than a few bans together."""
    every = list(requirements)
    bans = tuple(r for r in every if r.kind == "ban")
    if len(bans) <= FEW:
        return [(r,) for r in every]
    return [*((r,) for r in every if r.kind != "ban"), bans]


def _flat(blocks: Iterable[Block]) -> list[Requirement]:
    return [r for block in blocks for r in block]


def _needed(board: Switchboard, blocks: list[Block], given: list[Block]) -> list[Block]:
    """Those blocks that clash with what is given, none of them to spare; whether all are is asked first."""
    if len(blocks) <= FEW:
        less = board.ask_each(_flat([*given, *(b for b in blocks if b is not block)]) for block in blocks)
        if all(verdict == "possible" for verdict in less):
            return blocks

    def clash(some: list[Block]) -> bool:
        on = _flat(some)
        return (board.find(on, thorough=True) if given else board.ask(on)) == "impossible"

    return fewest(clash, blocks, given)


def _ways_out(board: Switchboard, found: Clashes) -> None:
    """Smallest sets that touch every clash, the cheapest first, each verified to leave a week.

    Of many bans as many are given up as a week without any of them breaks, and then no more than it takes.
    """
    blocks = {b: sum(r.cost for r in b[:1]) for c in found.clashes for b in blocks_of(c.members)}
    ranked = sorted((b for b in blocks if all(r.give_up for r in b)), key=lambda b: (blocks[b], b[0].id))
    for size in (1, 2, 3):
        for option in sorted(combinations(ranked, size), key=lambda o: sum(blocks[b] for b in o)):
            off = _flat(option)
            if board.left <= 0:
                break
            if any(set(w.members) <= set(off) for w in found.ways_out):
                continue
            if not all(set(off) & set(c.members) for c in found.clashes):
                continue
            if board.find([r for r in board.requirements if r not in off]) == "possible":
                found.ways_out.append(WayOut(tuple(_no_more_than_needed(board, option))))
        if found.ways_out:
            break
    found.ways_out.sort(key=lambda w: w.cost)


def _no_more_than_needed(board: Switchboard, option: Sequence[Block]) -> list[Requirement]:
    """Of a way out that gives up many bans, those without which there is no week."""
    singles = [r for b in option if len(b) == 1 for r in b]

    def rest(off: Sequence[Requirement]) -> list[Requirement]:
        return [r for r in board.requirements if r not in (*singles, *off)]

    many = [r for b in option if len(b) > 1 for r in b]
    many = board.broken(rest(many), many) if many else []
    for ban in list(many):
        fewer = [r for r in many if r is not ban]
        if board.left > 0 and board.find(rest(fewer)) == "possible":
            many = fewer
    return [*singles, *many]
