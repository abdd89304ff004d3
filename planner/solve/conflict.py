"""Where no week can be: which musts, locks and bans clash, and the cheapest ways out, each verified.

One model, with a switch for every must, lock and ban; what clashes is found by leaving switches out, with
ordinary solves. The solver's own core under assumptions says where to look first, and no more than that: it
need not be smallest, so it is believed only as far as the same solves confirm it.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from typing import Literal

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.plan import SessionPlan
from planner.errors import NoPlanError
from planner.problem.options import Options
from planner.problem.problem import Problem
from planner.solve.encode import is_number
from planner.solve.floor import floor_view
from planner.solve.master import lock_literals, piece_literals, set_value
from planner.solve.search import Budget, at_once, core_of, solve_layer
from planner.solve.unfilled import unfilled_words

PROBE = 4.0
"""Deterministic budget of one solve."""
MOST_CLASHES = 10
FEW = 6
"""So few suspects are asked about one by one, in the hope that they are a smallest set already."""
COSTS = {"ban": 1, "lock": 2, "rule": 5}
"""What giving one up costs in the ranking of ways out: a ban least, a must most; a design choice."""

Verdict = Literal["possible", "impossible", "undecided"]


@dataclass(frozen=True, slots=True)
class Switch:
    """Something that can be left out.

    Attributes:
        kind: rule, lock or ban.
        name: the rule's id, or the lock or ban in words; unique.
        words: as a coach reads it in a list of what clashes.
        give_up: what giving it up means; empty for what the question itself asks.
    """

    kind: str
    name: str
    words: str
    give_up: str


@dataclass(frozen=True, slots=True)
class Clash:
    """Switches that cannot all hold, though any one less can."""

    switches: tuple[Switch, ...]


@dataclass(frozen=True, slots=True)
class WayOut:
    """Switches that it is enough to give up; verified by a solve."""

    switches: tuple[Switch, ...]
    cost: int


@dataclass(slots=True)
class Clashes:
    """What was found.

    Attributes:
        clashes: smallest sets, each verified: impossible together, possible without any one of its members.
        ways_out: verified, the cheapest first.
        complete: whether the time sufficed to look for every clash.
        solves: how many models were solved.
        hopeless: whether there is no week even with everything left out: the equipment is too little.
    """

    clashes: list[Clash] = field(default_factory=list)
    ways_out: list[WayOut] = field(default_factory=list)
    complete: bool = True
    solves: int = 0
    hopeless: bool = False


class Switchboard:
    """The first stage with a switch for every must, lock and ban."""

    def __init__(self, problem: Problem) -> None:
        """Builds the model once; each question solves a copy with some switches off."""
        self.problem = problem = _with_all_lines(problem)
        self.model = cp_model.CpModel()
        self._view = floor_view(problem, self.model)
        self._guards: dict[Switch, cp_model.IntVar] = {}
        self._known: dict[frozenset[Switch], Verdict] = {}
        self.solves = 0
        self._rules()
        self._locked_pieces()
        self._other_locks()

    @property
    def switches(self) -> tuple[Switch, ...]:
        """All of them: rules first, then locks and bans."""
        return tuple(self._guards)

    def ask(self, on: Iterable[Switch]) -> Verdict:
        """Whether a week is possible with these switches on and all others off."""
        key = frozenset(on)
        if key not in self._known:
            self._known[key] = self._solve(key, seed=1)
        return self._known[key]

    def ask_each(self, several: Iterable[Iterable[Switch]]) -> list[Verdict]:
        """The same of several sets, some at once."""
        return list(at_once(self.ask, several))

    def confirm(self, on: Iterable[Switch]) -> bool:
        """Whether a second configuration of the solver also finds that no week is possible."""
        return self._solve(frozenset(on), seed=7, presolve=False) == "impossible"

    def suspects(self, on: Sequence[Switch]) -> list[Switch]:
        """Of switches that cannot all be on, fewer that cannot either, as far as that is quick to tell."""
        by_index = {self._guards[s].index: s for s in on}
        core = {by_index[i] for i in core_of(self.model, [self._guards[s] for s in on], Budget(PROBE, 1))}
        few = [s for s in on if s in core]
        return few if few and self.ask(few) == "impossible" else list(on)

    def _solve(self, on: frozenset[Switch], seed: int, *, presolve: bool = True) -> Verdict:
        model = self.model.clone()
        for switch, guard in self._guards.items():
            set_value(model, guard, int(switch in on))
        self.solves += 1
        status = solve_layer(model, None, Budget(PROBE, seed), presolve=presolve).status
        if status == "impossible":
            return "impossible"
        return "undecided" if status == "undecided" else "possible"

    def _add(self, kind: str, name: str, words: str, give_up: str) -> cp_model.IntVar:
        guard = self.model.new_bool_var(f"on/{name}")
        self._guards[Switch(kind, name, words, give_up)] = guard
        return guard

    def _rules(self) -> None:
        overruled = {(o.rule, o.place) for o in self.problem.requests.overrules}
        for rule in self.problem.rules:
            if not rule.must or rule.stage == "doses":
                continue
            guard = self._add(
                "rule",
                rule.id,
                f"{rule.id}: {rule.statement()} ({rule.because})",
                f"soften the rule {rule.id}",
            )
            for term in rule.encode(self._view, self.problem.facts):
                if (rule.id, term.place) in overruled:
                    continue
                if is_number(term.expr):
                    if term.expr > term.limit:
                        self.model.add(guard == 0)
                else:
                    self.model.add(term.expr <= term.limit).only_enforce_if(guard)

    def _locked_pieces(self) -> None:
        problem = self.problem
        for day, v in self._view.days.items():
            for piece in sorted(problem.locked_pieces(day)):
                session = problem.base_session(day)
                literals = piece_literals(problem, v, session, piece) if session else None
                lock = problem.lock_of(day, piece)
                words = lock.words()
                if literals is None and session:
                    words += f", and cannot be done: {missing_words(problem, session, piece)}"
                guard = self._add("lock", f"{day}/{piece}", words, lock.give_up())
                if literals is None:
                    self.model.add(guard == 0)
                else:
                    for literal in literals:
                        self.model.add_implication(guard, literal)

    def _other_locks(self) -> None:
        """Locked movements and properties, and what is banned."""
        problem, view = self.problem, self._view
        for lock in problem.requests.locks:
            literals = lock_literals(view, lock) if lock.day in view.days else None
            if literals is not None:
                guard = self._add("lock", lock.words(), lock.words(), lock.give_up())
                self.model.add_bool_or([*literals, ~guard])
        for ban in problem.requests.bans:
            days_meant = [d for d in view.days if ban.day in (None, d)]
            if days_meant:
                guard = self._add("ban", ban.words(), ban.words(), f"allow {ban.movement.replace('_', ' ')}")
                for x in (x for d in days_meant for x in view.days[d].lines):
                    if x.facts.movement.id == ban.movement:
                        self.model.add_implication(guard, ~x.literal)


def _with_all_lines(problem: Problem) -> Problem:
    """The problem with what is banned all week on offer again, so that such a ban can be left out as well."""
    if all(ban.day for ban in problem.requests.bans):
        return problem
    written = (*problem.requests.by_hand, *(problem.base.sessions if problem.base else ()))
    return replace(problem, options=Options(problem.catalogue, problem.gym, written=written))


def missing_words(problem: Problem, session: SessionPlan, piece: str) -> str:
    """Which movements of a piece cannot be done with what the gym has, and what they need."""
    said = [problem.options.lacking(x) for x in getattr(session.versions[problem.gym.kits[0].id], piece)]
    return "; ".join(x for x in said if x) or "its lines are not offered with these rules"


def find_clashes(problem: Problem, seconds: float = 10.0) -> Clashes:
    """Smallest sets that clash, up to ten, and the cheapest ways out.

    Args:
        problem: for which no week is possible.
        seconds: wall clock; what is found by then is returned.
    """
    stop = time.perf_counter() + seconds
    board = Switchboard(problem)
    found = Clashes()
    if board.ask(board.switches) != "impossible":
        return found
    if board.ask(()) == "impossible":
        found.hopeless = True
        return found
    _enumerate(board, found, stop)
    _ways_out(board, found, stop)
    found.solves = board.solves
    return found


def _enumerate(board: Switchboard, found: Clashes, stop: float) -> None:
    """Every clash: one, then what clashes without one of its members, and so on."""
    waiting: list[frozenset[Switch]] = [frozenset()]
    seen: set[frozenset[Switch]] = set()
    while waiting:
        if time.perf_counter() > stop or len(found.clashes) >= MOST_CLASHES:
            found.complete = False
            return
        without = waiting.pop(0)
        if without in seen:
            continue
        seen.add(without)
        known = next((c for c in found.clashes if not without & set(c.switches)), None)
        if known is None:
            rest = [s for s in board.switches if s not in without]
            if board.ask(rest) != "impossible":
                continue
            known = Clash(tuple(_smallest(board, rest)))
            if not board.confirm(known.switches):
                found.complete = False
                continue
            found.clashes.append(known)
            board.ask_each([s for s in rest if s is not member] for member in known.switches)
        waiting += [without | {s} for s in known.switches]


def _smallest(board: Switchboard, clashing: list[Switch]) -> list[Switch]:
    """A smallest set that clashes, of one that does."""
    few = board.suspects(clashing)
    if len(few) <= FEW:
        less = board.ask_each([s for s in few if s is not member] for member in few)
        if all(verdict == "possible" for verdict in less):
            return few
    return _shrink(board, [], few)


def _shrink(board: Switchboard, fixed: list[Switch], open_: list[Switch]) -> list[Switch]:
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


def _ways_out(board: Switchboard, found: Clashes, stop: float) -> None:
    """Smallest sets that touch every clash, the cheapest first, each verified to leave a week."""
    members = {s for c in found.clashes for s in c.switches if s.give_up}
    ranked = sorted(members, key=lambda s: (COSTS[s.kind], s.name))
    for size in (1, 2, 3):
        options = sorted(combinations(ranked, size), key=lambda o: sum(COSTS[s.kind] for s in o))
        for option in options:
            if time.perf_counter() > stop and found.ways_out:
                return
            if any(set(w.switches) <= set(option) for w in found.ways_out):
                continue
            if not all(set(option) & set(c.switches) for c in found.clashes):
                continue
            if board.ask([s for s in board.switches if s not in option]) == "possible":
                found.ways_out.append(WayOut(option, sum(COSTS[s.kind] for s in option)))
        if found.ways_out:
            return


def explain_no_week(
    problem: Problem,
    *,
    certain: bool,
    unfilled: Mapping[Day, tuple[str, ...]] | None = None,
    seconds: float = 10.0,
) -> NoPlanError:
    """What to tell the coach: what clashes and the ways out, or that the time was too short.

    Args:
        problem: for which there is no week.
        certain: whether that was shown.
        unfilled: locked days for which no doses were found, with the kits in question.
        seconds: wall clock for the search for clashes.
    """
    if not certain:
        return NoPlanError(
            "No week was found in the time given, and none was ruled out.",
            remedies=("Give it more time with --seconds.", "Soften a must, or open another day."),
        )
    found = find_clashes(problem, seconds)
    if found.hopeless:
        return NoPlanError(
            "With this equipment there is no week at all, whatever the rules.",
            remedies=("Give the gym more equipment, or another kit version more to work with.",),
        )
    if not found.clashes and unfilled:
        return NoPlanError("No week can keep what is locked:", *unfilled_words(problem, unfilled))
    if not found.clashes:
        return NoPlanError(
            "No week can hold every must.", remedies=("Soften a must, open another day, or unlock a piece.",)
        )
    ways = (" and ".join(dict.fromkeys(s.give_up for s in w.switches)) for w in found.ways_out)
    return NoPlanError(
        "No week can hold all of this together:",
        tuple(tuple(s.words for s in clash.switches) for clash in found.clashes),
        tuple(dict.fromkeys(ways)),
    )
