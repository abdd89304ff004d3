"""A plan as rules see it: one kit version's sessions, with everything looked up afresh in the catalogue."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from planner.domain.catalogue import Movement, Scheme, Shape, Tier
from planner.domain.complexes import lifted
from planner.domain.gym import Day, Kit
from planner.domain.line import LinePiece, PlannedLine, line_facts, line_units
from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine, scheme_of_line
from planner.domain.running import day_facts, timed_line
from planner.domain.timing import turning_tenths, version_window, work_tenths, work_units
from planner.errors import DataError
from planner.prescribe.equipped import Equipped, equipped
from planner.prescribe.stock import Stock
from planner.prescribe.taking import takes_of
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
        for kit in problem.gym.kits:
            if kit.id not in session.versions:
                found.append(Misfit(session.day, f"There is no version for {kit.name}."))
                continue
            found += [Misfit(session.day, f"{kit.name}: {x}.") for x in _unloaded(problem, session, kit)]
            hangs = _as_many_lines if problem.by_hand(session.day) else _hangs_together
            found += hangs(problem, session, kit)
    return tuple(found)


def _as_many_lines(problem: Problem, session: SessionPlan, kit: Kit) -> Iterator[Misfit]:
    """All that is asked of a session by hand: a line for each of the gym floor's."""
    floor = problem.gym.kits[0].id
    if any(len(p.versions[kit.id]) != len(p.versions[floor]) for p in session.pieces):
        yield Misfit(session.day, f"{kit.name} does not have as many movements as the piece.")


def _hangs_together(problem: Problem, session: SessionPlan, kit: Kit) -> Iterator[Misfit]:
    version, floor = session.versions[kit.id], session.versions[problem.gym.kits[0].id]
    shape = problem.catalogue.shapes.get(session.shape)
    if session.own or shape is None:
        yield Misfit(session.day, f"{kit.name} has other pieces than a draft has, and the coach wrote none.")
        return
    if len(version.conditioning) != shape.movements or len(version.strength) != len(floor.strength):
        yield Misfit(session.day, f"{kit.name} does not have as many movements as the piece.")
    elif Counter(x.spot for x in version.conditioning) != shape.spots:
        yield Misfit(session.day, f"{kit.name} has movements elsewhere in the piece than it has places for.")
    if sum(not x.assistance for x in version.strength) != 1:
        yield Misfit(session.day, f"{kit.name} does not have one main lift.")
    ids = [x.movement for x in version.conditioning]
    if len(set(ids)) < len(ids):
        yield Misfit(session.day, f"{kit.name} has a movement twice in the conditioning.")
    tiers = {x.tier for x in version.conditioning if kit is problem.gym.kits[0]} - {"open"}
    if len(tiers) > 1:
        yield Misfit(session.day, "More than one load in the conditioning.")


def _unloaded(problem: Problem, session: SessionPlan, kit: Kit) -> list[str]:
    """Lines whose loads the bars and plates cannot make, or only a rack gives."""
    version, day = session.versions[kit.id], session.day
    found = []
    for x in version.strength:
        movement, scheme = _movement(problem, x.movement, day), _scheme(problem, x, day)
        piece: LinePiece = "assistance" if x.assistance else "main"
        found.append(_equipped(problem, movement, kit, piece, day, scheme.tier, scheme))
    for y in version.conditioning:
        movement = _movement(problem, y.movement, day)
        found.append(_equipped(problem, movement, kit, "conditioning", day, y.tier))
    return [x.lacks for x in found if x.lacks]


def _day(problem: Problem, session: SessionPlan, kit: str) -> AuditDay:
    if kit not in session.versions:
        raise DataError(f"{session.day}: there is no version for the kit {kit}")
    own = next(k for k in problem.gym.kits if k.id == kit)
    floor = own is problem.gym.kits[0]
    facts = day_facts(session, problem.catalogue, problem.gym)
    if session.shape and facts.shape is None:
        raise DataError(f"{session.day}: no conditioning shape is called {session.shape}")
    lines: list[PlannedLine] = []
    numbers = {True: 0, False: 0}
    for piece, shape in zip(session.pieces, facts.shapes, strict=True):
        for line in piece.versions[kit]:
            if isinstance(line, StrengthLine):
                made = _strength(problem, line, own, session.day, skill=piece.kind == "skill")
            elif shape is not None:
                made = _conditioning(problem, line, shape if floor else shape.alone, own, session.day)
            else:
                continue
            facts_of_line = replace(made.facts, piece_number=numbers[piece.lifts])
            lines.append(replace(made, facts=facts_of_line))
        numbers[piece.lifts] += 1
    window = version_window(facts.shape, floor=floor) if facts.shape else (0, 0)
    return AuditDay(
        day=session.day,
        lines=tuple(lines),
        shape=facts.shape,
        rating=facts.rating,
        clock_minutes=facts.minutes,
        window_tenths=window,
        turning_tenths=turning_tenths(facts.shape) if facts.shape else 0,
    )


def _strength(
    problem: Problem, line: StrengthLine, kit: Kit, day: Day, *, skill: bool = False
) -> PlannedLine:
    movement, scheme = _movement(problem, line.movement, day), _scheme(problem, line, day)
    movement = lifted(movement, scheme, problem.catalogue.movements)
    piece: LinePiece = "assistance" if line.assistance or skill else "main"
    needs = _equipped(problem, movement, kit, piece, day, scheme.tier, scheme).needs
    facts = line_facts(piece, movement, scheme.tier, scheme, needs, problem.catalogue.items, problem.gym)
    return PlannedLine(facts, scheme.reps, line_units(movement, scheme.total, 1), 0)


def _conditioning(problem: Problem, line: ConditioningLine, shape: Shape, kit: Kit, day: Day) -> PlannedLine:
    movement = _movement(problem, line.movement, day)
    needs = _equipped(problem, movement, kit, "conditioning", day, line.tier).needs
    items, gym = problem.catalogue.items, problem.gym
    on_floor = kit.id == gym.kits[0].id
    facts = line_facts("conditioning", movement, line.tier, None, needs, items, gym, floor=on_floor)
    timed = timed_line(line, movement)
    units = work_units(timed, shape) * shape.rounds
    if kit is problem.gym.kits[0]:
        stock = Stock(problem.gym, kit, problem.catalogue.items)
        facts = replace(facts, takes=takes_of(movement, needs, line.tier, stock))
    return PlannedLine(replace(facts, spot=line.spot), line.dose, units, work_tenths(timed, shape))


def _equipped(  # noqa: PLR0917
    problem: Problem,
    movement: Movement,
    kit: Kit,
    piece: LinePiece,
    day: Day,
    tier: Tier,
    scheme: Scheme | None = None,
) -> Equipped:
    found = equipped(movement, piece, tier, scheme, Stock(problem.gym, kit, problem.catalogue.items))
    if found.lacks and kit is problem.gym.kits[0] and problem.options.given.get(day):
        return Equipped(found.needs or movement.setups[0].needs)  # kept as written, and marked on the sheet
    if found.lacks and not found.needs:
        raise DataError(f"{day}: {movement.name} cannot be done with the equipment at hand: {found.lacks}")
    return found


def _movement(problem: Problem, name: str, day: Day) -> Movement:
    found = problem.catalogue.movements.get(name)
    if found is None:
        raise DataError(f"{day}: no movement is called {name}")
    return found


def _scheme(problem: Problem, line: StrengthLine, day: Day) -> Scheme:
    found = scheme_of_line(line, problem.catalogue)
    if found is None:
        raise DataError(f"{day}: no scheme is called {line.scheme}")
    return found
