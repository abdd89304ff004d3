"""The first stage as a model: lines on the gym floor, rules, what the coach fixed, layers to minimise."""

from __future__ import annotations

from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.plan import SessionPlan
from planner.domain.requests import PIECES, Lock
from planner.domain.week import RULES_LAYER
from planner.problem.options import line_key
from planner.problem.problem import Problem
from planner.rules.base import Expr
from planner.rules.where import Where
from planner.solve.encode import PricedTerm, encode
from planner.solve.floor import floor_view
from planner.solve.view import DayVars, LineVar, ModelView, total, weighted

NO_CEILING = 1_000_000
"""More points than any week can have."""
PREFERRED_DAY_POINTS, WISH_POINTS = 3, 10
THEME = frozenset({"theme", "wanted"})
"""Ceilings of a theme: what was reached, and what is asked at least."""
MOST_LINES_A_DAY = 4
"""A redraft changes at most so many lines of one day, unless more than that cannot stay: a total of changes
alone would pile them on one day."""
LAYERS = {
    "pieces": "Pieces changed",
    "lines": "Lines changed",
    "rules": RULES_LAYER,
    "stand-ins": "Stand-ins in the kit versions",
    "wishes": "Wishes: this week's shortlist, hard and easy days",
    "theme": "What this week does best",
}


@dataclass(slots=True)
class Master:
    """The first stage.

    Attributes:
        model: the model.
        view: its decisions.
        priced: weighted rules' terms.
        layers: objectives in the order in which they count.
        measures: expressions that the proof reports; the layers, and those held at a ceiling instead.
        bounds: of measures that are not minimised again, from an earlier proof.
        ceilings: hold each layer at what it reached while the next one is solved; they are variables, so that
            they can be lifted again when a cut sends everything back to the first layer.
        kept: for a redraft: 1 where a piece of the base plan stays, by day and piece.
    """

    model: cp_model.CpModel
    view: ModelView
    priced: list[PricedTerm]
    layers: dict[str, Expr]
    ceilings: dict[str, cp_model.IntVar] = field(default_factory=dict)
    kept: dict[tuple[Day, str], Expr] = field(default_factory=dict)
    measures: dict[str, Expr] = field(default_factory=dict)
    bounds: dict[str, int] = field(default_factory=dict)


def build_master(problem: Problem, loosened: str = "") -> Master:
    """Writes the problem down.

    Args:
        problem: the week to be planned.
        loosened: id of a must that may be broken in one place by one unit, to see what that buys.
    """
    model = cp_model.CpModel()
    view = floor_view(problem, model)
    early = tuple(r for r in problem.rules if r.stage != "doses")
    overruled = frozenset((o.rule, o.place) for o in problem.requests.overrules)
    priced = encode(model, view, early, problem.facts, overruled, loosened=loosened)
    fix_locks(problem, model, view)
    master = Master(model, view, priced, {})
    if problem.stay_near and problem.base is not None:
        _stay_near(problem, master)
    master.layers |= {
        "rules": weighted([(t.slack, t.points) for t in priced]),
        "stand-ins": _stand_in_points(problem, view),
        "wishes": _wishes(problem, view),
    }
    for name, objective in master.layers.items():
        add_ceiling(master, name, objective)
    master.measures = dict(master.layers)
    return master


def add_ceiling(master: Master, name: str, objective: Expr) -> None:
    """A ceiling for a layer, lifted."""
    master.ceilings[name] = master.model.new_int_var(NO_CEILING, NO_CEILING, f"ceiling/{name}")
    master.model.add(objective <= master.ceilings[name])


def seek(master: Master, theme: Expr, below: int, held: dict[str, int]) -> None:
    """Minimises a theme instead of the layers, which are held at so many points.

    Args:
        master: the model; what was asked of an earlier theme is lifted.
        theme: the expression.
        below: only weeks with less than this of it are wanted.
        held: points by layer.
    """
    for name, points in held.items():
        set_ceiling(master, name, points)
    for name in THEME & master.ceilings.keys():
        set_ceiling(master, name, NO_CEILING)
    for name in sorted(THEME):
        add_ceiling(master, name, theme)
    set_ceiling(master, "wanted", below - 1)
    master.layers = {"theme": theme}


def set_ceiling(master: Master, name: str, points: int) -> None:
    """Holds a layer at so many points; ``NO_CEILING`` lifts it."""
    set_value(master.model, master.ceilings[name], points)


def set_value(model: cp_model.CpModel, variable: cp_model.IntVar, value: int) -> None:
    """Fixes a variable."""
    set_range(model, variable, value, value)


def set_range(model: cp_model.CpModel, variable: cp_model.IntVar, least: int, most: int) -> None:
    """Gives a variable other bounds."""
    domain = model.proto.variables[variable.index].domain
    domain.clear()
    domain.extend([least, most])


# What the coach fixed ---------------------------------------------------------------------------------


def fix_locks(problem: Problem, model: cp_model.CpModel, view: ModelView) -> None:
    """Every lock, ban for a day, and session by hand, as rows."""
    for day, v in view.days.items():
        for piece in sorted(problem.locked_pieces(day)):
            session = problem.base_session(day)
            literals = piece_literals(problem, v, session, piece) if session else None
            # A locked piece whose lines cannot be had leaves no week; that is for the coach to resolve.
            model.add_bool_and(literals) if literals is not None else model.add_bool_or([])
    for lock in problem.requests.locks:
        if lock.day in view.days:
            fix_lock(model, view, lock)
    for ban in problem.requests.bans:
        if ban.day in view.days:
            model.add_bool_and(
                ~x.literal for x in view.days[ban.day].lines if x.facts.movement.id == ban.movement
            )


def fix_lock(model: cp_model.CpModel, view: ModelView, lock: Lock) -> None:
    """A locked movement or property of a day."""
    meant = lock_literals(view, lock)
    if meant is not None:
        model.add_bool_or(meant)


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


def piece_literals(problem: Problem, v: DayVars, session: SessionPlan, piece: str) -> list[Expr] | None:
    """What has to be true for a piece of a session to be there as it is; None where it cannot be."""
    floor = session.versions[problem.gym.kits[0].id]
    catalogue = problem.catalogue
    if piece == "strength":
        wanted = {
            (
                "assistance" if x.assistance else "main",
                x.movement,
                x.scheme,
                tier_of(problem, x.movement, x.scheme),
            )
            for x in floor.strength
        }
        found = [x.literal for x in v.piece("main", "assistance") if line_key(x.facts) in wanted]
        spare = (
            [] if any(x.assistance for x in floor.strength) else [~x.literal for x in v.piece("assistance")]
        )
        return [*found, *spare] if len(found) == len(wanted) else None
    shape = catalogue.shapes.get(session.shape)
    family = next((f for f in problem.options.families if shape in f.members), None)
    run = [literal for s, literal in v.shapes if family is not None and s is family.lead]
    keys = {("conditioning", x.movement, "", x.tier) for x in floor.conditioning}
    found = [x.literal for x in v.piece("conditioning") if line_key(x.facts) in keys]
    return [*found, *run] if run and len(found) == len(keys) else None


def tier_of(problem: Problem, movement: str, scheme: str) -> str:
    """How heavy a strength line counts as."""
    m, s = problem.catalogue.movements.get(movement), problem.catalogue.schemes.get(scheme)
    return s.tier if m is not None and s is not None and m.modality == "loaded" else "open"


# Layers -------------------------------------------------------------------------------------------------


def _stay_near(problem: Problem, master: Master) -> None:
    """Fewest pieces, then fewest lines of the base plan changed, and not all on one day."""
    changed_pieces: list[Expr] = []
    changed_lines: list[Expr] = []
    for day, v in master.view.days.items():
        session = problem.base_session(day)
        if session is None:
            continue
        lines, lost = _base_lines(problem, v, session)
        missing = [1 - x.literal for x in lines]
        changed_lines += [*missing, *([1] * lost)]
        if len(lines) + lost > MOST_LINES_A_DAY > lost:
            master.model.add(total(missing) <= MOST_LINES_A_DAY - lost)
        for piece in PIECES:
            literals = piece_literals(problem, v, session, piece)
            if literals and _lock_needs_other(problem, master.view, day, piece, literals):
                literals = None
            kept = master.view.all_of(literals, f"{day}/keeps/{piece}") if literals else 0
            master.kept[day, piece] = kept
            changed_pieces.append(1 - kept)
    master.layers["pieces"] = total(changed_pieces)
    master.layers["lines"] = total(changed_lines)


def _lock_needs_other(problem: Problem, view: ModelView, day: Day, piece: str, literals: list[Expr]) -> bool:
    """Whether a locked movement can only be in this piece, and is not in it as it was.

    The solver would find that out; said beforehand, it makes the first question a small one.
    """
    names = ("conditioning",) if piece == "conditioning" else ("main", "assistance")
    here = {x.literal.index for x in view.days[day].piece(*names)}
    there = {x.index for x in literals}
    for lock in problem.requests.locks:
        meant = {x.index for x in lock_literals(view, lock) or ()} if _is_movement(lock, day) else set()
        if meant and meant <= here and not meant & there:
            return True
    return False


def _is_movement(lock: Lock, day: Day) -> bool:
    return lock.day == day and lock.part == "movement"


def _base_lines(problem: Problem, v: DayVars, session: SessionPlan) -> tuple[list[LineVar], int]:
    """The base session's lines as decisions, and how many of them cannot be had any more."""
    floor = session.versions[problem.gym.kits[0].id]
    keys = [
        (
            "assistance" if x.assistance else "main",
            x.movement,
            x.scheme,
            tier_of(problem, x.movement, x.scheme),
        )
        for x in floor.strength
    ]
    keys += [("conditioning", x.movement, "", x.tier) for x in floor.conditioning]
    by_key = {line_key(x.facts): x for x in v.lines}
    found = [by_key[k] for k in keys if k in by_key]
    return found, len(keys) - len(found)


def _stand_in_points(problem: Problem, view: ModelView) -> Expr:
    """The least that the versions can cost, over all kits: what each line's best stand-in costs."""
    kits = [kit.id for kit in problem.gym.kits[1:]]
    pairs = []
    for day in view.days.values():
        for x in day.lines:
            points = sum(problem.options.least_points(kit, x.facts) for kit in kits)
            pairs.append((x.literal, points))
    return weighted(pairs)


def _wishes(problem: Problem, view: ModelView) -> Expr:
    pairs: list[tuple[Expr, int]] = []
    for day, v in view.days.items():
        pairs += [(x.literal, 1) for x in v.lines if x.facts.movement.id not in problem.shortlist]
        for hardness, days in (("hard", problem.gym.hard_days), ("easy", problem.gym.easy_days)):
            if day in days:
                pairs.append((1 - view.hard_or_easy(day, hardness), PREFERRED_DAY_POINTS))
    for wish in problem.requests.wishes:
        days_meant = [d for d in view.days if wish.day in (None, d)]
        if wish.hardness:
            there = [view.hard_or_easy(d, wish.hardness) for d in days_meant]
        else:
            where = Where(movement=(wish.movement,)) if wish.movement else Where(pattern=(wish.pattern,))
            there = [lit for d in days_meant for _, lit in view.matching(d, where)]
        met = view.any_of(there, f"wish/{wish.movement or wish.pattern or wish.hardness}")
        pairs.append((1 - met, WISH_POINTS))
    return weighted(pairs)
