"""Brute force: every week that a tiny problem allows, and the best of them, with the audit as only judge.

Nothing of the solver is imported here. What a week may hold (which lines, doses and stand-ins there are to
choose from) is read from the problem; whether it is any good is measured by the rules' audits.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations, islice, product

from planner.audit.days import version_days
from planner.domain.catalogue import Shape
from planner.domain.gym import Day
from planner.domain.line import LineFacts, PlannedLine, line_units
from planner.domain.plan import ConditioningLine, Plan, SessionPlan, StrengthLine, VersionPlan
from planner.domain.timing import session_rating
from planner.problem.candidates import DoseChoice, dose_suits
from planner.problem.families import Family
from planner.problem.given import GivenLine
from planner.problem.problem import Problem
from planner.rules.base import AuditDay
from tests.plans import session_minutes

KEPT = 16
"""Problems of which the sessions are remembered."""


@dataclass(frozen=True, slots=True, eq=False)
class FloorLines:
    """A day of the gym floor without doses: what the first stage of solving decides."""

    family: Family
    lines: tuple[LineFacts, ...]

    def as_audited(self, day: Day) -> AuditDay:
        """As an audit sees it; conditioning has no dose yet."""
        lift = next(f for f in self.lines if f.piece == "main")
        main = lift.scheme
        beside = any(f.piece == "assistance" for f in self.lines)
        lead = self.family.lead
        return AuditDay(
            day=day,
            lines=tuple(_planned(f) for f in self.lines),
            shape=lead,
            rating=session_rating(main, lead),
            clock_minutes=session_minutes(main, beside, lead, lift.turns),
            window_tenths=lead.window_tenths,
        )


@dataclass(frozen=True, slots=True, eq=False)
class Written:
    """A whole session: its plan, its days as audited by kit, and what its stand-ins cost."""

    plan: SessionPlan
    audited: dict[str, AuditDay]
    stand_in_points: int


def floor_lines(problem: Problem) -> list[FloorLines]:
    """Every day of the gym floor, before doses: a main lift, perhaps assistance, and a piece's movements."""
    options = problem.options
    out = []
    beside: list[tuple[LineFacts, ...]] = [(), *((c.facts,) for c in options.assistance)]
    for family in options.families:
        for picked in combinations(options.conditioning, family.lead.movements):
            movements = [c.facts.movement.id for c in picked]
            tiers = {c.facts.tier for c in picked} - {"open"}
            if len(set(movements)) < len(movements) or len(tiers) > 1:
                continue
            facts = tuple(c.facts for c in picked)
            out += [FloorLines(family, (m.facts, *b, *facts)) for m in options.main for b in beside]
    return out


def sessions(problem: Problem, day: Day) -> list[Written]:
    """Every session of a day, with all doses and all kit versions; but for its name each day is like any."""
    return [
        Written(
            w.plan.model_copy(update={"day": day}),
            {kit: replace(audited, day=day) for kit, audited in w.audited.items()},
            w.stand_in_points,
        )
        for w in _of_one_day(problem)
    ]


@lru_cache(maxsize=KEPT)
def _of_one_day(problem: Problem) -> tuple[Written, ...]:
    return tuple(_each_session(problem))


def more_sessions_than(problem: Problem, most: int) -> bool:
    """Whether a day has more sessions than that; no more of them are written down than it takes to see."""
    return next(islice(_each_session(problem), most, None), None) is not None


def _each_session(problem: Problem) -> Iterator[Written]:
    day = next(d for d in problem.gym.days if d not in problem.options.given)
    for f in floor_lines(problem):
        for shape in f.family.members:
            yield from _written(problem, day, f, shape)


def versions_of(problem: Problem, session: SessionPlan) -> list[Written]:
    """Every way to write a session by hand out for the other kits, its own numbers kept."""
    written = problem.options.given[session.day].lines
    lines = [(x.facts, x.dose) for x in written]
    given = {x.facts: x for x in written}
    shape = problem.catalogue.shapes[session.shape]
    barred = problem.banned_on(session.day)
    by_kit = [_kit_versions(problem, kit.id, lines, shape, given, barred) for kit in problem.gym.kits[1:]]
    out = []
    for versions in product(*by_kit):
        named = dict(session.versions)
        named |= {k.id: v for k, (v, _) in zip(problem.gym.kits[1:], versions, strict=True)}
        plan = SessionPlan(day=session.day, shape=session.shape, versions=named)
        out.append(Written(plan, audited_by_kit(problem, plan), sum(points for _, points in versions)))
    return out


def _written(problem: Problem, day: Day, f: FloorLines, shape: Shape) -> Iterator[Written]:
    doses = [
        [d for d in problem.options.candidate(x).doses if x.scheme or dose_suits(d, x.movement, shape)]
        for x in f.lines
    ]
    floor = problem.gym.kits[0].id
    for chosen in product(*doses):
        lines = list(zip(f.lines, chosen, strict=True))
        by_kit = [_kit_versions(problem, kit.id, lines, shape) for kit in problem.gym.kits[1:]]
        for versions in product(*by_kit):
            named = {floor: _version(lines)}
            named |= {k.id: v for k, (v, _) in zip(problem.gym.kits[1:], versions, strict=True)}
            plan = SessionPlan(day=day, shape=shape.id, versions=named)
            yield Written(plan, audited_by_kit(problem, plan), sum(points for _, points in versions))


def _kit_versions(  # noqa: PLR0917
    problem: Problem,
    kit: str,
    lines: list[tuple[LineFacts, DoseChoice]],
    shape: Shape,
    given: Mapping[LineFacts, GivenLine] | None = None,
    barred: frozenset[str] = frozenset(),
) -> list[tuple[VersionPlan, int]]:
    """Every way to write a session for a kit, with its points."""
    offered = []
    for facts, dose in lines:
        mine = [
            (stand_in, made)
            for stand_in in problem.options.stand_ins(
                kit, facts, (dose,), barred, given=given[facts] if given else None
            )
            for made, _ in stand_in.doses
            if facts.scheme or given or dose_suits(made, stand_in.facts.movement, shape)
        ]
        offered.append(mine)
    out = []
    for picked in product(*offered):
        for strength in (True, False):
            ids = [s.facts.movement.id for s, _ in picked if (s.facts.scheme is not None) == strength]
            if len(set(ids)) < len(ids):
                break
        else:
            version = _version([(s.facts, d) for s, d in picked])
            out.append((version, sum(s.points for s, _ in picked)))
    return out


def _version(lines: list[tuple[LineFacts, DoseChoice]]) -> VersionPlan:
    return VersionPlan(
        strength=tuple(
            StrengthLine(movement=f.movement.id, scheme=f.scheme.id, assistance=f.piece == "assistance")
            for f, _ in lines
            if f.scheme
        ),
        conditioning=tuple(
            ConditioningLine(movement=f.movement.id, dose=d.dose, tier=f.tier)
            for f, d in lines
            if not f.scheme
        ),
    )


def audited_by_kit(problem: Problem, session: SessionPlan) -> dict[str, AuditDay]:
    """A session as the audit sees it, in each kit version."""
    plan = Plan(week=problem.week, sessions=(session,))
    return {kit.id: version_days(problem, plan, kit.id)[0] for kit in problem.gym.kits}


def _planned(f: LineFacts) -> PlannedLine:
    if f.scheme is None:
        return PlannedLine(f, 0, 0, 0)
    return PlannedLine(f, f.scheme.reps, line_units(f.movement, f.scheme.reps, f.scheme.sets), 0)


# The best week ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Best:
    """What no week can beat.

    Attributes:
        weeks: how many there are, good or bad.
        allowed: how many of them break no must.
        rules: fewest points of weighted rules.
        stand_ins: fewest points of stand-ins among those.
        floor_rules: fewest points of the rules that the lines of the gym floor decide.
    """

    weeks: int
    allowed: int
    rules: int
    stand_ins: int
    floor_rules: int


def best_week(problem: Problem) -> Best | None:
    """The best of all weeks, rules first and stand-ins second; None where the musts leave none."""
    found = [(cost, sum(w.stand_in_points for w in week)) for week, cost in allowed_weeks(problem)]
    if not found:
        return None
    rules, stand_ins = min((rules, points) for (rules, _), points in found)
    weeks = len(_of_one_day(problem)) ** len(problem.gym.days)
    return Best(weeks, len(found), rules, stand_ins, min(floor_rules for (_, floor_rules), _ in found))


def allowed_weeks(problem: Problem) -> Iterator[tuple[tuple[Written, ...], tuple[int, int]]]:
    """Every week that breaks no must, with its price; days that break one by themselves are not tried."""
    musts = tuple(r for r in problem.rules if r.must and r.day_by_day)
    days = []
    for day in problem.gym.days:
        alone = replace(problem, rules=musts, facts=replace(problem.facts, days=(day,)))
        days.append([w for w in sessions(problem, day) if price(alone, (w,)) is not None])
    for week in product(*days):
        cost = price(problem, week)
        if cost is not None:
            yield week, cost


def price(problem: Problem, week: tuple[Written, ...]) -> tuple[int, int] | None:
    """Points of all weighted rules, and of those that lines decide; None where a must is broken."""
    total, floor_total = 0, 0
    floor = problem.gym.kits[0].id
    for rule in problem.rules:
        for kit in problem.gym.kits:
            if kit.id != floor and rule.versions == "floor":
                continue
            found = rule.audit(tuple(w.audited[kit.id] for w in week), problem.facts).measure
            if found and rule.must:
                return None
            total += found * rule.weight
            if kit.id == floor and rule.stage == "lines":
                floor_total += found * rule.weight
    return total, floor_total


__all__ = ["Best", "FloorLines", "Written", "allowed_weeks", "best_week", "floor_lines", "price", "sessions"]
