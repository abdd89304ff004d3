"""A plan as rules see it: one kit version's sessions, with everything looked up afresh in the catalogue."""

from __future__ import annotations

from dataclasses import dataclass

from planner.domain import clock
from planner.domain.catalogue import Movement, Scheme, Shape, Tier
from planner.domain.gym import Kit
from planner.domain.line import LinePiece, PlannedLine, line_facts, line_units
from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine
from planner.domain.timing import line_tenths, session_rating, version_window
from planner.errors import DataError
from planner.prescribe.equipped import Equipped, equipped
from planner.prescribe.stock import Stock
from planner.problem.problem import Problem
from planner.rules.base import AuditDay


@dataclass(frozen=True, slots=True)
class Misfit:
    """Something about a plan that no rule can speak of, because it cannot be done at all."""

    place: str
    sentence: str


def version_days(problem: Problem, plan: Plan, kit: str) -> tuple[AuditDay, ...]:
    """One kit version of a plan.

    Raises:
        DataError: the plan names what the catalogue does not have, or what the kit cannot do.
    """
    return tuple(_day(problem, session, kit) for session in plan.sessions)


def misfits(problem: Problem, plan: Plan) -> tuple[Misfit, ...]:
    """What hangs together by nature and does not: days, number of movements, one main lift, ladders."""
    found = []
    days = tuple(s.day for s in plan.sessions)
    if days != problem.gym.days:
        found.append(
            Misfit("week", f"The week has {', '.join(days)}; the gym opens {', '.join(problem.gym.days)}.")
        )
    for session in plan.sessions:
        shape = _shape(problem, session)
        for kit in problem.gym.kits:
            version = session.versions.get(kit.id)
            if version is None:
                found.append(Misfit(session.day, f"There is no version for {kit.name}."))
                continue
            floor = session.versions[problem.gym.kits[0].id]
            if len(version.conditioning) != shape.movements or len(version.strength) != len(floor.strength):
                found.append(Misfit(session.day, f"{kit.name} does not have as many movements as the piece."))
            if sum(not x.assistance for x in version.strength) != 1:
                found.append(Misfit(session.day, f"{kit.name} does not have one main lift."))
            ids = [x.movement for x in version.conditioning]
            if len(set(ids)) < len(ids):
                found.append(Misfit(session.day, f"{kit.name} has a movement twice in the conditioning."))
            tiers = {x.tier for x in version.conditioning if kit is problem.gym.kits[0]} - {"open"}
            if len(tiers) > 1:
                found.append(Misfit(session.day, "More than one load in the conditioning."))
            found += [Misfit(session.day, f"{kit.name}: {x}.") for x in _unloaded(problem, session, kit)]
    return tuple(found)


def _unloaded(problem: Problem, session: SessionPlan, kit: Kit) -> list[str]:
    """Lines whose loads the bars and plates cannot make, or only a rack gives."""
    version, day = session.versions[kit.id], session.day
    found = []
    for x in version.strength:
        movement, scheme = _movement(problem, x.movement, day), _scheme(problem, x.scheme, day)
        piece: LinePiece = "assistance" if x.assistance else "main"
        found.append(_equipped(problem, movement, kit, piece, day, scheme.tier, scheme))
    for y in version.conditioning:
        movement = _movement(problem, y.movement, day)
        found.append(_equipped(problem, movement, kit, "conditioning", day, y.tier))
    return [x.lacks for x in found if x.lacks]


def _day(problem: Problem, session: SessionPlan, kit: str) -> AuditDay:
    version = session.versions.get(kit)
    if version is None:
        raise DataError(f"{session.day}: there is no version for the kit {kit}")
    shape = _shape(problem, session)
    own = next(k for k in problem.gym.kits if k.id == kit)
    strength = [_strength(problem, x, own, session.day) for x in version.strength]
    lines = [*strength, *(_conditioning(problem, x, shape, own, session.day) for x in version.conditioning)]
    main = next((x.facts.scheme for x in strength if x.facts.piece == "main"), None)
    beside = any(x.facts.piece == "assistance" for x in strength)
    return AuditDay(
        day=session.day,
        lines=tuple(lines),
        shape=shape,
        rating=session_rating(main, shape),
        clock_minutes=clock.session_minutes(main, beside, shape, clock.frame_of(problem.gym.class_.minutes)),
        window_tenths=version_window(shape, floor=own is problem.gym.kits[0]),
    )


def _shape(problem: Problem, session: SessionPlan) -> Shape:
    shape = problem.catalogue.shapes.get(session.shape)
    if shape is None:
        raise DataError(f"{session.day}: no conditioning shape is called {session.shape}")
    return shape


def _strength(problem: Problem, line: StrengthLine, kit: Kit, day: str) -> PlannedLine:
    movement, scheme = _movement(problem, line.movement, day), _scheme(problem, line.scheme, day)
    piece: LinePiece = "assistance" if line.assistance else "main"
    needs = _equipped(problem, movement, kit, piece, day, scheme.tier, scheme).needs
    facts = line_facts(piece, movement, scheme.tier, scheme, needs, problem.catalogue.items, problem.gym)
    return PlannedLine(facts, scheme.reps, line_units(movement, scheme.reps, scheme.sets), 0)


def _conditioning(problem: Problem, line: ConditioningLine, shape: Shape, kit: Kit, day: str) -> PlannedLine:
    movement = _movement(problem, line.movement, day)
    needs = _equipped(problem, movement, kit, "conditioning", day, line.tier).needs
    facts = line_facts("conditioning", movement, line.tier, None, needs, problem.catalogue.items, problem.gym)
    units = line_units(movement, line.dose, shape.rounds)
    return PlannedLine(facts, line.dose, units, line_tenths(movement, line.dose, line.tier, shape.ladder))


def _equipped(  # noqa: PLR0917
    problem: Problem,
    movement: Movement,
    kit: Kit,
    piece: LinePiece,
    day: str,
    tier: Tier,
    scheme: Scheme | None = None,
) -> Equipped:
    found = equipped(movement, piece, tier, scheme, Stock(problem.gym, kit, problem.catalogue.items))
    if found.lacks and not found.needs:
        raise DataError(f"{day}: {movement.name} cannot be done with the equipment at hand: {found.lacks}")
    return found


def _movement(problem: Problem, name: str, day: str) -> Movement:
    found = problem.catalogue.movements.get(name)
    if found is None:
        raise DataError(f"{day}: no movement is called {name}")
    return found


def _scheme(problem: Problem, name: str, day: str) -> Scheme:
    found = problem.catalogue.schemes.get(name)
    if found is None:
        raise DataError(f"{day}: no scheme is called {name}")
    return found
