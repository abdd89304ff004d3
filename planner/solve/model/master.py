"""The first stage as a model: lines on the gym floor, every requirement under its guard, layers to minimise.

In the words of logic-based Benders decomposition this is the master problem. It relaxes every requirement;
doses and kit versions are the subproblem (``planner.solve.model.versions``), whose answers come back as cuts.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.requests import PIECES
from planner.domain.week import LINES_LAYER, PIECES_LAYER, RULES_LAYER
from planner.problem.problem import Problem
from planner.problem.requirements import CAP, MOST_LINES_A_DAY, Requirement, requirements_of
from planner.rules.base import Expr
from planner.solve.model.decisions import lines_view
from planner.solve.model.fixed import (
    base_lines,
    fix_requests,
    movement_moves_here,
    piece_literals,
    wish_literals,
)
from planner.solve.model.rows import PricedTerm, write_rules
from planner.solve.model.view import LinesView, least_of, total, weighted

PREFERRED_DAY_POINTS, WISH_POINTS = 3, 10
THEME = frozenset({"theme", "wanted"})
"""Ceilings of a theme: what was reached, and what is asked at least."""
LIFTED = 2**40
"""Of a ceiling: more than any layer can be, so that it is no bound."""
ASIDE = "aside"
"""Guard of weeks set aside because the time did not suffice to fill them: cuts that prove nothing."""
LAYERS = {
    "pieces": PIECES_LAYER,
    "lines": LINES_LAYER,
    "rules": RULES_LAYER,
    "stand-ins": "Stand-ins in the kit versions",
    "wishes": "Wishes: this week's shortlist, hard and easy days",
    "theme": "What this week does best",
}


@dataclass(frozen=True, slots=True, eq=False)
class Raised:
    """A cut on what lines cost: with all of these literals, so many points of surplus in a place.

    Attributes:
        where: layer, and day or ``week``.
        points: at least.
        literals: the lines.
        there: 1 where all of them are.
    """

    where: tuple[str, str]
    points: int
    literals: tuple[cp_model.IntVar, ...]
    there: cp_model.IntVar


@dataclass(slots=True)
class Master:
    """The first stage.

    Attributes:
        problem: that it was made from.
        model: the model.
        view: its decisions.
        requirements: everything that can be switched, each with a guard.
        guards: by the requirement's id; all fixed on at first.
        priced: weighted rules' terms.
        layers: objectives in the order in which they count.
        measures: expressions that the proof reports; the layers, and those held at a ceiling instead.
        bounds: of measures that are not minimised again, from an earlier proof.
        ceilings: hold each layer at what it reached while the next one is solved; they are variables, so that
            they can be lifted again when a cut sends everything back to the first layer.
        surplus: what a layer costs beyond what the lines show, by layer and by day or ``week``: nought until
            a cut raises it.
        raised: the cuts that raise it.
        told: of days that fillings were asked about, by what they were: whether they fail by themselves, and
            whether it is said what they cost.
        kept: for a redraft: 1 where a piece of the base plan stays, by day and piece.
    """

    problem: Problem
    model: cp_model.CpModel
    view: LinesView
    requirements: tuple[Requirement, ...]
    guards: dict[str, cp_model.IntVar]
    priced: list[PricedTerm]
    layers: dict[str, Expr]
    ceilings: dict[str, cp_model.IntVar] = field(default_factory=dict)
    surplus: dict[tuple[str, str], cp_model.IntVar] = field(default_factory=dict)
    raised: list[Raised] = field(default_factory=list)
    told: dict[Hashable, bool] = field(default_factory=dict)
    kept: dict[tuple[Day, str], Expr] = field(default_factory=dict)
    measures: dict[str, Expr] = field(default_factory=dict)
    bounds: dict[str, int] = field(default_factory=dict)


def build_master(problem: Problem) -> Master:
    """Writes the problem down, every requirement on."""
    model = cp_model.CpModel()
    requirements = requirements_of(problem)
    guards = {r.id: model.new_bool_var(f"on/{r.id}") for r in requirements}
    guards[ASIDE] = model.new_bool_var("on/aside")
    view = lines_view(problem, model)
    priced = write_rules(model, view, problem.rules, problem, guards, stage_exact=False)
    fix_requests(problem, model, view, guards)
    master = Master(problem, model, view, requirements, guards, priced, {})
    if problem.stay_near and problem.base is not None:
        _stay_near(problem, master)
    master.surplus = _surplus(model, view)
    by_day = [(x, 1) for (name, _), x in master.surplus.items() if name == "stand-ins"]
    master.layers |= {
        "rules": weighted([*((t.slack, t.points) for t in priced), (master.surplus["rules", "week"], 1)]),
        "stand-ins": weighted([*_stand_in_points(problem, view), *by_day]),
        "wishes": _wishes(problem, view),
    }
    for name, objective in master.layers.items():
        add_ceiling(master, name, objective)
    master.measures = dict(master.layers)
    switch(master, guards)
    return master


def switch(master: Master, on: Iterable[str], model: cp_model.CpModel | None = None) -> None:
    """Fixes the guards: those named on, all others off."""
    named = set(on)
    for name, guard in master.guards.items():
        set_value(model or master.model, guard, int(name in named))


def add_ceiling(master: Master, name: str, objective: Expr) -> None:
    """A ceiling for a layer, lifted."""
    master.ceilings[name] = master.model.new_int_var(LIFTED, LIFTED, f"ceiling/{name}")
    master.model.add(objective <= master.ceilings[name])


def set_ceiling(master: Master, name: str, points: int | None, model: cp_model.CpModel | None = None) -> None:
    """Holds a layer at so many points; None lifts the ceiling."""
    set_value(model or master.model, master.ceilings[name], LIFTED if points is None else points)


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
    for name in sorted(THEME & master.ceilings.keys()):
        set_ceiling(master, name, None)
    for name in sorted(THEME):
        add_ceiling(master, name, theme)
    set_ceiling(master, "wanted", below - 1)
    master.layers = {"theme": theme}


def set_value(model: cp_model.CpModel, variable: cp_model.IntVar, value: int) -> None:
    """Fixes a variable."""
    set_range(model, variable, value, value)


def set_range(model: cp_model.CpModel, variable: cp_model.IntVar, least: int, most: int) -> None:
    """Gives a variable other bounds."""
    domain = model.proto.variables[variable.index].domain
    domain.clear()
    domain.extend([least, most])


# Layers -------------------------------------------------------------------------------------------------


def _stay_near(problem: Problem, master: Master) -> None:
    """Fewest pieces, then fewest lines of the base plan changed; the cap: not all on one day."""
    changed_pieces: list[Expr] = []
    changed_lines: list[Expr] = []
    for day, v in master.view.days.items():
        session = problem.base_session(day)
        if session is None or v.given is not None:
            continue
        missing: list[Expr] = []
        for piece in PIECES:
            lines, lost = base_lines(problem, v, session, piece)
            missing += [*(1 - x.literal for x in lines), *([1] * lost)]
            literals = piece_literals(problem, v, session, piece)
            if literals and movement_moves_here(problem, master.view, day, piece, literals):
                literals = None
            kept = master.view.all_of(literals, f"{day}/keeps/{piece}") if literals else 0
            master.kept[day, piece] = kept
            changed_pieces.append(1 - kept)
        changed_lines += missing
        most = max(MOST_LINES_A_DAY, sum(isinstance(x, int) for x in missing))
        if len(missing) > most:
            master.model.add(total(missing) <= most).only_enforce_if(master.guards[CAP])
    master.layers["pieces"] = total(changed_pieces)
    master.layers["lines"] = total(changed_lines)


def _surplus(model: cp_model.CpModel, view: LinesView) -> dict[tuple[str, str], cp_model.IntVar]:
    """Of stand-ins by day; of rules by day and over the week, which is no less than its days together."""
    places: list[tuple[str, str]] = [(name, day) for name in ("rules", "stand-ins") for day in view.days]
    made = {place: model.new_int_var(0, 0, "/".join(("surplus", *place))) for place in places}
    week = made["rules", "week"] = model.new_int_var(0, 0, "surplus/rules/week")
    model.add(week >= total(made["rules", day] for day in view.days))
    return made


def _stand_in_points(problem: Problem, view: LinesView) -> list[tuple[Expr, int]]:
    """The least that the versions can cost, over all kits: what each line's best stand-in costs."""
    kits = [kit.id for kit in problem.gym.kits[1:]]
    pairs = []
    for day, v in view.days.items():
        barred = problem.banned_on(day)
        for x in v.lines:
            points = sum(problem.options.least_points(kit, x.facts, barred) for kit in kits)
            pairs.append((x.literal, points))
    return pairs


def _wishes(problem: Problem, view: LinesView) -> Expr:
    pairs: list[tuple[Expr, int]] = []
    for day, v in view.days.items():
        pairs += [(x.literal, 1) for x in v.lines if x.facts.movement.id not in problem.shortlist]
        for hardness, days in (("hard", problem.gym.hard_days), ("easy", problem.gym.easy_days)):
            if day in days:
                pairs.append((1 - view.hard_or_easy(day, hardness), PREFERRED_DAY_POINTS))
    for wish in problem.requests.wishes:
        met = view.any_of(wish_literals(view, wish), f"wish/{wish.words()}")
        pairs.append((1 - met, WISH_POINTS))
    return weighted(pairs)


__all__ = [
    "ASIDE",
    "LAYERS",
    "Master",
    "add_ceiling",
    "build_master",
    "least_of",
    "seek",
    "set_ceiling",
    "set_range",
    "set_value",
    "switch",
]
