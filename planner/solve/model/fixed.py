"""What the coach fixed, as rows under guards: locks, bans, wishes insisted on.

A day that she wrote is what it is; nothing of this is asked of it.
"""

from __future__ import annotations

from collections.abc import Mapping

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.plan import SessionPlan, StrengthLine, scheme_of_line
from planner.domain.requests import Lock, Wish
from planner.problem.options import line_key
from planner.problem.problem import Problem
from planner.rules.base import Expr
from planner.rules.where import Where
from planner.solve.model.view import DayVars, LineVar, ModelView

Guards = Mapping[str, cp_model.IntVar]


def fix_requests(problem: Problem, model: cp_model.CpModel, view: ModelView, guards: Guards) -> None:
    """Every lock, ban and wish insisted on, each under its guard."""
    open_days = {day: v for day, v in view.days.items() if v.given is None}
    for day, v in open_days.items():
        for piece in sorted(problem.locked_pieces(day)):
            session, guard = problem.base_session(day), guards[f"{day}/{piece}"]
            literals = piece_literals(problem, v, session, piece) if session else None
            if literals is None:
                model.add(guard == 0)  # its lines cannot be had; that is for the coach to resolve
            else:
                model.add_bool_and(literals).only_enforce_if(guard)
    for lock in problem.requests.locks:
        meant = lock_literals(view, lock) if lock.day in open_days else None
        if meant is not None:
            model.add_bool_or([*meant, ~guards[lock.words()]])
    for ban in problem.requests.bans:
        for v in (v for day, v in open_days.items() if ban.day in (None, day)):
            gone = [~x.literal for x in v.lines if x.facts.movement.id == ban.movement]
            if gone:
                model.add_bool_and(gone).only_enforce_if(guards[ban.words()])
    for wish in problem.insisted:
        model.add_bool_or([*wish_literals(view, wish), ~guards[wish.words()]])


def lock_literals(view: ModelView, lock: Lock) -> list[Expr] | None:
    """Literals of which a lock asks for one; None for locks of whole pieces."""
    if lock.part == "movement" and lock.movement:
        piece = (lock.piece,) if lock.piece else ()
        return [x for _, x in view.matching(lock.day, Where(movement=(lock.movement,), piece=piece))]
    if lock.pattern:
        return [x for _, x in view.matching(lock.day, Where.kept_by_lock(lock.pattern))]
    if lock.domain:
        return [x for s, x in view.shapes(lock.day) if s.domain == lock.domain]
    if lock.hardness:
        return [view.hard_or_easy(lock.day, lock.hardness)]
    return None


def wish_literals(view: ModelView, wish: Wish) -> list[Expr]:
    """Literals of which a wish asks for one."""
    days = [d for d in view.days if wish.day in (None, d)]
    if wish.hardness:
        return [view.hard_or_easy(d, wish.hardness) for d in days]
    where = Where(movement=(wish.movement,)) if wish.movement else Where(pattern=(wish.pattern,))
    return [literal for d in days for _, literal in view.matching(d, where)]


def piece_literals(problem: Problem, v: DayVars, session: SessionPlan, piece: str) -> list[Expr] | None:
    """What has to be true for a piece of a session to be there as it is; None where it cannot be."""
    lines, lost = base_lines(problem, v, session, piece)
    if lost or session.own:
        return None
    literals: list[Expr] = [x.literal for x in lines]
    if piece == "strength":
        beside = any(x.facts.piece == "assistance" for x in lines)
        return [*literals, *([] if beside else [~x.literal for x in v.piece("assistance")])]
    shape = problem.catalogue.shapes.get(session.shape)
    family = next((f for f in problem.options.families if shape in f.members), None)
    run = [literal for s, literal in v.shapes if family is not None and s is family.lead]
    return [*literals, *run] if run else None


def base_lines(problem: Problem, v: DayVars, session: SessionPlan, piece: str) -> tuple[list[LineVar], int]:
    """The lines of a session's piece as decisions, and how many of them cannot be had."""
    floor = session.versions[problem.gym.kits[0].id]
    keys = {
        (
            "assistance" if x.assistance else "main",
            x.movement,
            x.scheme,
            _tier_of(problem, x),
        )
        for x in (floor.strength if piece == "strength" else ())
    }
    keys |= {("conditioning", x.movement, "", x.tier) for x in floor.conditioning if piece == "conditioning"}
    found = [x for x in v.lines if line_key(x.facts) in keys]
    return found, len(keys) - len(found)


def _tier_of(problem: Problem, line: StrengthLine) -> str:
    """How heavy a strength line counts as."""
    m, s = problem.catalogue.movements.get(line.movement), scheme_of_line(line, problem.catalogue)
    return s.tier if m is not None and s is not None and m.modality == "loaded" else "open"


def movement_moves_here(problem: Problem, view: ModelView, day: Day, piece: str, kept: list[Expr]) -> bool:
    """Whether a locked movement can only be in this piece, and is not in it as it was.

    The solver would find that out; said beforehand, it makes the first question a small one.
    """
    names = ("conditioning",) if piece == "conditioning" else ("main", "assistance")
    here = {x.literal.index for x in view.days[day].piece(*names)}
    there = {x.index for x in kept}
    for lock in problem.requests.locks:
        if lock.day == day and lock.part == "movement":
            meant = {x.index for x in lock_literals(view, lock) or ()}
            if meant and meant <= here and not meant & there:
                return True
    return False
