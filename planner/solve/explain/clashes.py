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

from planner.problem.problem import Problem
from planner.problem.requirements import Requirement, without
from planner.solve.model.master import ASIDE, Master, build_master, set_ceiling, set_range, switch
from planner.solve.search import cuts
from planner.solve.search.fill import Filled, Infeasible, fill, floor_of
from planner.solve.search.solver import Budget, at_once, core_of, solve_layer

PROBE = 4.0
"""Deterministic budget of one solve."""
SEARCH = 20.0
"""Deterministic budget of a whole search; spent on what comes first in a fixed order, so it is repeatable."""
QUESTION = 0.05
"""What a question counts for at least: building and reading take their time too."""
MOST_CLASHES = 10
FEW = 6
"""So few suspects are asked about one by one, in the hope that they are a smallest set already."""

Verdict = Literal["possible", "impossible", "undecided"]


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
        self._relaxed: dict[frozenset[str], Verdict] = {}
        self._filled: dict[frozenset[str], Verdict] = {}

    @property
    def requirements(self) -> tuple[Requirement, ...]:
        """All that can clash: not what only costs points, nor what lifts itself."""
        return tuple(r for r in self._master.requirements if not r.soft and not r.lifts_itself)

    def ask(self, on: Iterable[Requirement]) -> Verdict:
        """Whether lines are possible; doses and kit versions count as far as cuts know of them."""
        key = frozenset(r.id for r in on)
        known = self._filled.get(key) or self._relaxed.get(key)
        if known is None:
            known = self._relaxed[key] = self._solve(key)[0]
        return known

    def ask_each(self, several: Iterable[Iterable[Requirement]]) -> list[Verdict]:
        """The same of several sets, some at once."""
        return list(at_once(self.ask, several))

    def find(self, on: Iterable[Requirement]) -> Verdict:
        """Whether a whole week is possible, with doses and every kit version."""
        key = frozenset(r.id for r in on)
        if key not in self._filled:
            self._filled[key] = self._find(key)
        return self._filled[key]

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
        core = {by_index[i].id for i in core_of(model, [guards[r.id] for r in on], Budget(PROBE, 1))}
        few = [r for r in on if r.id in core]
        return few if few and self.ask(few) == "impossible" else list(on)

    def _find(self, key: frozenset[str]) -> Verdict:
        here = without(self.problem, {r.id for r in self._master.requirements if r.id not in key})
        aside = False
        while self.left > 0:
            verdict, values = self._solve(key, aside=aside)
            if verdict != "possible":
                return "undecided" if aside else verdict
            floor = floor_of(self._master, here, values)
            filled = fill(here, floor)
            self.left -= filled.deterministic
            if isinstance(filled, Filled):
                return "possible"
            if isinstance(filled, Infeasible):
                cuts.cut(self._master, here, floor)
                self._relaxed = {k: v for k, v in self._relaxed.items() if v == "impossible"}
            else:
                cuts.set_aside(self._master, floor)
                aside = True
        return "undecided"

    def _solve(
        self, on: frozenset[str], seed: int = 1, *, presolve: bool = True, aside: bool = False
    ) -> tuple[Verdict, tuple[int, ...]]:
        model = self._master.model.clone()
        switch(self._master, {*on, *((ASIDE,) if aside else ())}, model)
        answer = solve_layer(model, None, Budget(PROBE, seed), presolve=presolve)
        self.left -= max(answer.deterministic, QUESTION)
        if answer.status in ("impossible", "undecided"):
            return ("impossible" if answer.status == "impossible" else "undecided"), ()
        return "possible", answer.values


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
    _enumerate(board, found)
    _ways_out(board, found)
    return found


def _enumerate(board: Switchboard, found: Clashes) -> None:
    """Every clash: one, then what clashes without one of its members, and so on."""
    waiting: list[frozenset[Requirement]] = [frozenset()]
    seen: set[frozenset[Requirement]] = set()
    while waiting:
        if board.left <= 0 or len(found.clashes) >= MOST_CLASHES:
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
            board.ask_each([r for r in rest if r is not member] for member in known.members)
        waiting += [without_these | {r} for r in known.members]


def _smallest(board: Switchboard, clashing: list[Requirement]) -> list[Requirement]:
    """A smallest set that clashes, of one that does; each member needed, which a filled week shows."""
    found = _candidate(board, clashing)
    for member in found:
        rest = [r for r in found if r is not member]
        if rest and board.find(rest) == "impossible":
            return _smallest(board, rest)
    return found


def _candidate(board: Switchboard, clashing: list[Requirement]) -> list[Requirement]:
    few = board.suspects(clashing)
    if len(few) <= FEW:
        less = board.ask_each([r for r in few if r is not member] for member in few)
        if all(verdict == "possible" for verdict in less):
            return few
    return _shrink(board, [], few)


def _shrink(board: Switchboard, fixed: list[Requirement], open_: list[Requirement]) -> list[Requirement]:
    """QuickXplain (Junker 2004): the members of ``open_`` that clash, given ``fixed``."""
    if fixed and board.ask(fixed) == "impossible":
        return []
    if len(open_) == 1:
        return open_
    half = len(open_) // 2
    first, second = open_[:half], open_[half:]
    from_second = _shrink(board, fixed + first, second)
    from_first = _shrink(board, fixed + from_second, first)
    return from_first + from_second


def _ways_out(board: Switchboard, found: Clashes) -> None:
    """Smallest sets that touch every clash, the cheapest first, each verified to leave a week."""
    members = {r.id: r for c in found.clashes for r in c.members if r.give_up}
    ranked = sorted(members.values(), key=lambda r: (r.cost, r.id))
    for size in (1, 2, 3):
        for option in sorted(combinations(ranked, size), key=lambda o: sum(r.cost for r in o)):
            if board.left <= 0:
                return
            if any(set(w.members) <= set(option) for w in found.ways_out):
                continue
            if not all(set(option) & set(c.members) for c in found.clashes):
                continue
            if board.find([r for r in board.requirements if r not in option]) == "possible":
                found.ways_out.append(WayOut(option))
        if found.ways_out:
            return
