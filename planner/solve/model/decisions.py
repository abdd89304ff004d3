"""The gym floor's week as decisions: which lines and which family of shapes, day by day.

Doses, and the member of the family, follow in ``planner.solve.model.versions`` once the lines are known.
"""

from __future__ import annotations

from typing import get_args

from ortools.sat.python import cp_model

from planner.domain.catalogue import Spot
from planner.domain.clock import frame_of
from planner.domain.gym import Day
from planner.problem.candidates import LineOption
from planner.problem.families import Family, Reach
from planner.problem.given import GivenDay
from planner.problem.problem import Problem
from planner.solve.model.view import DayVars, DoseVar, LinesView, LineVar, total, weighted


def lines_view(problem: Problem, model: cp_model.CpModel) -> LinesView:
    """Makes the decisions of every day and ties them together."""
    given = problem.options.given
    offered = {day: problem.options.conditioning_on(day) for day in problem.gym.days if day not in given}
    days = {
        day: _given(model, day, given[day]) if day in given else _day(problem, model, day, offered[day])
        for day in problem.gym.days
    }
    reaches = {day: {c.facts: reach for c, reach in pairs} for day, pairs in offered.items()}
    return LinesView(model, days, reaches, frame_of(problem.gym.class_.minutes))


def _given(model: cp_model.CpModel, day: Day, given: GivenDay) -> DayVars:
    """A day that the coach wrote: nothing is left to decide on the gym floor."""
    one = model.new_constant(1)
    lines = [LineVar(x.facts, one, (DoseVar(x.dose, one),)) for x in given.lines]
    if given.shape is None:
        return DayVars(day, lines, given=given)
    family = Family(given.shape, (given.shape,))
    return DayVars(day, lines, [(given.shape, one)], (family,), given)


def _day(
    problem: Problem, model: cp_model.CpModel, day: Day, conditioning_on: list[tuple[LineOption, Reach]]
) -> DayVars:
    options = problem.options
    families = [model.new_bool_var(f"{day}/{f.lead.id}") for f in options.families]
    model.add_exactly_one(families)

    def offered(candidates: tuple[LineOption, ...]) -> list[LineOption]:
        return [c for c in candidates if day in options.only_on.get(c.facts, (day,))]

    mains = [_strength_line(model, day, c) for c in offered(options.main)]
    model.add_exactly_one(x.literal for x in mains)
    beside = [_strength_line(model, day, c) for c in offered(options.assistance)]
    if beside:
        model.add_at_most_one(x.literal for x in beside)
    conditioning = [
        LineVar(c.facts, model.new_bool_var(f"{day}/{c.facts.movement.id}/{c.facts.tier}"), ())
        for c, _ in conditioning_on
    ]
    _families_suit(model, families, conditioning, tuple(reach for _, reach in conditioning_on))
    _tie_conditioning(model, day, families, options.families, conditioning)
    _spots_are_taken(model, families, options.families, conditioning, tuple(r for _, r in conditioning_on))
    shapes = [(f.lead, literal) for f, literal in zip(options.families, families, strict=True)]
    return DayVars(day, [*mains, *beside, *conditioning], shapes, options.families)


def _strength_line(model: cp_model.CpModel, day: Day, c: LineOption) -> LineVar:
    scheme = c.facts.scheme.id if c.facts.scheme else ""
    literal = model.new_bool_var(f"{day}/{c.facts.piece}/{c.facts.movement.id}/{scheme}")
    return LineVar(c.facts, literal, (DoseVar(c.doses[0], literal),))


def _families_suit(
    model: cp_model.CpModel, families: list[cp_model.IntVar], lines: list[LineVar], reaches: tuple[Reach, ...]
) -> None:
    """A line is only there with a family in which it has a dose; one literal for each set of families."""
    made: dict[tuple[int, ...], cp_model.IntVar] = {}
    for line, reach in zip(lines, reaches, strict=True):
        if len(reach.families) == len(families):
            continue
        if reach.families not in made:
            literal = model.new_bool_var("suits")
            model.add(total(families[i] for i in reach.families) == literal)
            made[reach.families] = literal
        model.add_implication(line.literal, made[reach.families])


def _spots_are_taken(
    model: cp_model.CpModel,
    literals: list[cp_model.IntVar],
    families: tuple[Family, ...],
    lines: list[LineVar],
    reaches: tuple[Reach, ...],
) -> None:
    """As many lines as come at a spot have doses for it; which comes where is decided with the doses."""
    for spot in get_args(Spot):
        wanted = [(x, f.lead.spots.get(spot, 0)) for x, f in zip(literals, families, strict=True)]
        if spot != "turn" and any(count for _, count in wanted):
            able = total(x.literal for x, r in zip(lines, reaches, strict=True) if spot in r.spots)
            model.add(able >= weighted(wanted))


def _tie_conditioning(
    model: cp_model.CpModel,
    day: Day,
    literals: list[cp_model.IntVar],
    families: tuple[Family, ...],
    lines: list[LineVar],
) -> None:
    """As many lines as the shape has movements, each movement once, one tier for all that is loaded."""
    wanted = weighted([(x, f.lead.movements) for x, f in zip(literals, families, strict=True)])
    model.add(total(x.literal for x in lines) == wanted)
    by_movement: dict[str, list[LineVar]] = {}
    by_tier: dict[str, list[LineVar]] = {}
    for x in lines:
        by_movement.setdefault(x.facts.movement.id, []).append(x)
        if x.facts.tier != "open":
            by_tier.setdefault(x.facts.tier, []).append(x)
    for same in by_movement.values():
        if len(same) > 1:
            model.add_at_most_one(x.literal for x in same)
    tiers = []
    for tier, loaded in by_tier.items():
        chosen = model.new_bool_var(f"{day}/tier/{tier}")
        for x in loaded:
            model.add_implication(x.literal, chosen)
        tiers.append(chosen)
    if tiers:
        model.add_at_most_one(tiers)
