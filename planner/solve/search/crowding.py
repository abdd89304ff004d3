"""A cut that many lines share: with some kit fewer movements can stand in than there are lines to replace.

No movement stands in twice in a piece. So of all lines that nothing but the movements of one set can stand in
for, a piece holds no more than the set has: pigeonholes. Where a day fails for that, a cut of its lines alone
would leave the next lines like them, one after another, to fail for the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from planner.domain.gym import Day
from planner.domain.line import LineFacts
from planner.domain.substitution import for_strength
from planner.problem.problem import Problem
from planner.solve.model.master import Master
from planner.solve.model.versions import FloorDay
from planner.solve.model.view import total


def cut_crowded(master: Master, problem: Problem, day: Day, f: FloorDay) -> None:
    """On every day, no more lines than have stand-ins, of such as were too many on one.

    Args:
        master: gets the cuts.
        problem: with the requirements that count.
        day: that cannot be filled by itself.
        f: its lines.
    """
    if problem.by_hand(day) is not None:
        return  # what she wrote may come twice, and is no choice
    lines = [x for x in f.lines if x.piece == "conditioning"]
    for kit in problem.gym.kits[1:]:
        crowd = _crowd([_pool(problem, kit.id, day, x) for x in lines])
        if crowd is not None:
            for other in master.view.days:
                if problem.by_hand(other) is None:
                    _hold(master, problem, kit.id, other, crowd)


def _crowd(pools: Sequence[frozenset[str]]) -> frozenset[str] | None:
    """The fewest movements that more lines have to share than there are of them."""
    for size in range(1, len(pools) + 1):
        for some in combinations(pools, size):
            shared = frozenset[str]().union(*some)
            if len(shared) < size:
                return shared
    return None


def _hold(master: Master, problem: Problem, kit: str, day: Day, crowd: frozenset[str]) -> None:
    """The cut on one day, under all bans there of what could stand in."""
    lines = [
        x for x in master.view.days[day].piece("conditioning") if _pool(problem, kit, day, x.facts) <= crowd
    ]
    if len(lines) <= len(crowd):
        return
    x = lines[0].facts
    line = kit, x.piece, x.movement.id, for_strength(x.scheme)
    could = {m.id for m, _, _ in problem.options.nearest(*line, frozenset())}
    bans = [b.words() for b in problem.requests.bans if b.day in (None, day) and b.movement in could - crowd]
    guards = [master.guards[name] for name in bans if name not in problem.given_up]
    master.model.add(total(x.literal for x in lines) <= len(crowd)).only_enforce_if(guards)


def _pool(problem: Problem, kit: str, day: Day, facts: LineFacts) -> frozenset[str]:
    """Movements that could stand in for a line on a day, whatever the family, near or not."""
    own = problem.options.own_doses.get(day, {}).get(facts, [])
    doses = (*problem.options.candidate(facts).doses, *(o.dose for o in own))
    banned = problem.banned_on(day)
    found = {s.facts.movement.id for s in problem.options.stand_ins(kit, facts, doses, banned, near=False)}
    base = problem.base_session(day)
    if base is not None and kit in base.versions:
        floor, mine = (base.versions[k].conditioning for k in (problem.gym.kits[0].id, kit))
        pairs = zip(floor, mine, strict=False)
        found |= {there.movement for here, there in pairs if here.movement == facts.movement.id} - banned
    return frozenset(found)
