"""The gym floor's week as decisions: which lines and which family of shapes, day by day.

Doses, and the member of the family, follow in ``planner.solve.versions`` once the lines are known; the rows
here on tenths of a second are what those doses can reach at least and at most, so nothing is promised that
no dose could keep, and every bound proved here holds for the whole.
"""

from __future__ import annotations

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.problem.candidates import LineOption
from planner.problem.families import NEVER, Family, Reach
from planner.problem.problem import Problem
from planner.rules.fit import Fit
from planner.solve.view import DayVars, DoseVar, LineVar, ModelView, total, weighted


def floor_view(problem: Problem, model: cp_model.CpModel) -> ModelView:
    """Makes the decisions of every day and ties them together."""
    return ModelView(model, {day: _day(problem, model, day) for day in problem.gym.days})


def _day(problem: Problem, model: cp_model.CpModel, day: Day) -> DayVars:
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
    pairs = [
        (c, reach)
        for c, reach in zip(options.conditioning, options.reaches, strict=True)
        if day in options.only_on.get(c.facts, (day,))
    ]
    conditioning = [
        LineVar(c.facts, model.new_bool_var(f"{day}/{c.facts.movement.id}/{c.facts.tier}"), ())
        for c, _ in pairs
    ]
    reaches = tuple(reach for _, reach in pairs)
    _families_suit(model, families, conditioning, reaches)
    if any(isinstance(r, Fit) and r.what == "domain" and r.must for r in problem.rules):
        _time_can_be_met(model, families, options.families, conditioning, reaches)
    _tie_conditioning(model, day, families, options.families, conditioning)
    shapes = [(f.lead, literal) for f, literal in zip(options.families, families, strict=True)]
    return DayVars(day, [*mains, *beside, *conditioning], shapes)


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


def _time_can_be_met(
    model: cp_model.CpModel,
    literals: list[cp_model.IntVar],
    families: tuple[Family, ...],
    lines: list[LineVar],
    reaches: tuple[Reach, ...],
) -> None:
    """The smallest doses together are not too long, nor the largest together too short."""
    for kind in dict.fromkeys(f.kind for f in families):
        spans = [r.tenths.get(kind, (0, 0)) for r in reaches]
        least = weighted([(x.literal, low) for x, (low, _) in zip(lines, spans, strict=True)])
        most = weighted([(x.literal, high) for x, (_, high) in zip(lines, spans, strict=True)])
        high = [
            (x, f.work_tenths[1] if f.kind == kind else 6 * NEVER)
            for x, f in zip(literals, families, strict=True)
        ]
        low = [
            (x, f.work_tenths[0] if f.kind == kind else 0) for x, f in zip(literals, families, strict=True)
        ]
        model.add(least <= weighted(high))
        model.add(most >= weighted(low))


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
