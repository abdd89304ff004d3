"""Doses on the gym floor that are none of their movement's own: a note, since a coach may well differ."""

from __future__ import annotations

from planner.audit.days import Misfit
from planner.audit.faults import faults_result
from planner.domain.catalogue import Movement, Shape, Tier
from planner.domain.gym import DAY_NAMES
from planner.domain.plan import ConditioningLine, Plan
from planner.domain.week import RuleResult
from planner.problem.problem import Problem

DOSES = "doses"


def doses_result(problem: Problem, plan: Plan) -> RuleResult:
    """How many of the floor's conditioning doses the catalogue does not list; watched, never a must.

    The other kit versions keep the floor's number or one that takes as long, and are not looked at.
    """
    floor = problem.gym.kits[0].id
    return faults_result(
        DOSES,
        unusual_doses(problem, plan),
        level="watch",
        statement="Conditioning doses on the gym floor are numbers that the catalogue has for the movement.",
        because="an unusual number is a choice of the coach's, or a slip",
        unit="doses",
        checked=sum(len(s.versions[floor].conditioning) for s in plan.sessions if floor in s.versions),
        remedy="Write one of the movement's own numbers, or leave it if it is meant.",
    )


def unusual_doses(problem: Problem, plan: Plan) -> tuple[Misfit, ...]:
    """Each dose that is none of its movement's own, where movement and shape are known at all."""
    floor, found = problem.gym.kits[0].id, []
    for session in plan.sessions:
        shape = problem.catalogue.shapes.get(session.shape)
        version = session.versions.get(floor)
        if session.own:
            continue  # what the coach wrote is meant so
        for line in version.conditioning if version else ():
            m = problem.catalogue.movements.get(line.movement)
            if m is not None and shape is not None and not is_usual(m, line, shape):
                said = _usual_words(m, line.tier, shape)
                sentence = f"{DAY_NAMES[session.day]}: {line.dose} {m.unit} of {m.name}; {said}."
                found.append(Misfit(session.day, sentence))
    return tuple(found)


def is_usual(movement: Movement, line: ConditioningLine, shape: Shape) -> bool:
    """Whether a dose is the movement's own: a number of its list, or of what comes once twice the largest.

    In a ladder the movement has to be one that goes well in it, with rungs no larger than its largest number.
    """
    numbers = movement.doses.get(line.tier, ())
    if not numbers:
        return False
    if shape.ladder and line.spot == "turn":
        return numbers[0] == 1 < numbers[-1] and max(shape.ladder) <= numbers[-1]
    twice = min(2 * numbers[-1], movement.cap)
    return line.dose in numbers or (
        shape.part(line.spot).large and movement.unit == "reps" and line.dose == twice
    )


def _usual_words(m: Movement, tier: Tier, shape: Shape) -> str:
    numbers = m.doses.get(tier, ())
    if not numbers:
        return f"it is written with tier: {' or '.join(m.doses) or 'none'}"
    if shape.ladder:
        return "it is not written in such a ladder"
    return f"usual are {', '.join(str(n) for n in numbers)}"
