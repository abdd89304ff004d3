"""Audits a plan: every rule in every kit version that it speaks of."""

from __future__ import annotations

from planner.audit.days import misfits, version_days
from planner.audit.doses import doses_result
from planner.audit.faults import faults_result
from planner.domain.plan import Plan
from planner.domain.week import RulePlace, RuleResult, Side
from planner.problem.problem import Problem
from planner.rules.base import Rule

STRUCTURE = "structure"


def audit_plan(problem: Problem, plan: Plan) -> tuple[RuleResult, ...]:
    """Every rule's result; the structure of the week first, a note on its doses last.

    Raises:
        DataError: the plan names what does not exist, or cannot be done with a kit.
    """
    floor = problem.gym.kits[0]
    weeks = {kit.id: version_days(problem, plan, kit.id) for kit in problem.gym.kits}
    results = [_structure(problem, plan)]
    for rule in problem.rules:
        checked, measure, places = 0, 0, []
        sides: tuple[Side, ...] = ()
        for kit in problem.gym.kits if rule.versions == "all" else (floor,):
            found = rule.audit(weeks[kit.id], problem.facts)
            checked += found.checked
            measure += found.measure
            prefix = "" if kit is floor else f"{kit.name}, "
            if kit is floor:
                sides = found.sides
            for b in found.breaches:
                sentence, over = rule.sentence(b.place, b.measure), problem.overruled.get((rule.id, b.place))
                excused = b.measure if over and (over.most is None or b.measure <= over.most) else 0
                measure -= excused
                places.append(
                    RulePlace(
                        place=prefix + b.place,
                        measure=b.measure - excused,
                        sentence=prefix + sentence,
                        overruled=over.reason if over and excused else "",
                        excused=excused,
                    )
                )
        results.append(_result(rule, checked, measure, tuple(places), sides))
    return (*results, doses_result(problem, plan))


def broken_musts(results: tuple[RuleResult, ...]) -> tuple[RuleResult, ...]:
    """Musts that do not hold."""
    return tuple(r for r in results if r.level == "must" and r.measure > 0)


def total_cost(results: tuple[RuleResult, ...]) -> int:
    """Points of all weighted rules."""
    return sum(r.cost for r in results)


def _result(
    rule: Rule, checked: int, measure: int, places: tuple[RulePlace, ...], sides: tuple[Side, ...]
) -> RuleResult:
    return RuleResult(
        id=rule.id,
        kind=rule.kind,
        level=rule.level,
        weight=rule.weight,
        statement=rule.statement(),
        because=rule.because,
        source=rule.source,
        unit=rule.unit_words(),
        checked=checked,
        measure=measure,
        cost=measure * rule.weight,
        places=places,
        remedy=rule.remedy() if measure else "",
        sides=sides,
    )


def _structure(problem: Problem, plan: Plan) -> RuleResult:
    return faults_result(
        STRUCTURE,
        misfits(problem, plan),
        level="must",
        statement="Every open day has one main lift, and every version as many movements as the piece.",
        because="a version that lacks a part is another session",
        unit="faults",
        checked=len(plan.sessions) * len(problem.gym.kits),
        remedy="Write the missing part.",
    )
