"""Why each line of a piece is there: the rules that would be worse without it. Plain Python, no solver."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from planner.audit.days import version_days
from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.gym import Day
from planner.domain.requests import PieceName
from planner.domain.week import Week
from planner.problem.problem import Problem
from planner.rules.base import AuditDay
from planner.weeks.keeping import asked_about
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store


class RuleReason(Value):
    """A rule that would be worse without the line.

    Attributes:
        rule: its id.
        statement: the rule.
        because: its reason.
        by: how much worse, in its own unit.
        unit: that unit.
        level: must or weight.
    """

    rule: str
    statement: str
    because: str
    by: int
    unit: str
    level: str


class Reason(Value):
    """The reasons for one line.

    Attributes:
        movement: its id.
        name: as said.
        rules: those that would be worse without it, musts first, then by points.
        also: other facts, such as being on the seed's shortlist.
    """

    movement: str
    name: str
    rules: tuple[RuleReason, ...]
    also: tuple[str, ...] = ()


def why(setting: Setting, week: Week, day: Day, piece: PieceName) -> tuple[Reason, ...]:
    """The reasons for each line of a piece on the gym floor: the rules that would be worse without it."""
    problem = setting.problem(seed=week.proof.seed)
    kit = problem.gym.kits[0].id
    days = version_days(problem, plan_of(week), kit)
    here = next(d for d in days if d.day == day)
    wanted = ("conditioning",) if piece == "conditioning" else ("main", "assistance")
    before = _measures(problem, days)
    out = []
    for line in here.lines:
        if line.facts.piece not in wanted:
            continue
        without = replace(here, lines=tuple(x for x in here.lines if x is not line))
        after = _measures(problem, tuple(without if d is here else d for d in days))
        worse = [
            RuleReason(
                rule=r.id, statement=r.statement(), because=r.because, by=after[r.id] - before[r.id],
                unit=r.unit_words(), level=r.level,
            )
            for r in problem.rules
            if r.level != "watch" and after[r.id] > before[r.id] and r.kind != "fit"
        ]  # fmt: skip
        weights = {r.id: r.weight for r in problem.rules}
        worse.sort(key=lambda x: (x.level != "must", -x.by * weights[x.rule], x.rule))
        out.append(
            Reason(
                movement=line.facts.movement.id,
                name=line.facts.movement.name,
                rules=tuple(worse),
                also=_also(problem, line.facts.movement.id, line.facts.movement.name),
            )
        )
    return tuple(out)


def why_kept(
    store: Store, setting: Setting, day: Day, piece: PieceName, *, candidate: str | None = None
) -> tuple[Reason, ...]:
    """The reasons for each line of a piece, for a candidate that is kept.

    Raises:
        DataError: there is no such candidate, or it has no session that day.
    """
    here, of = asked_about(store, setting, candidate, on=day)
    return why(here, of.week, day, piece)


def _measures(problem: Problem, week: tuple[AuditDay, ...]) -> dict[str, int]:
    return {rule.id: rule.audit(week, problem.facts).measure for rule in problem.rules}


def _also(problem: Problem, movement: str, name: str) -> tuple[str, ...]:
    said = []
    if movement in problem.shortlist:
        said.append(f"{name} is on this week's shortlist")
    used = {x.movement for p in problem.facts.past for x in p.lines}
    if problem.facts.past and movement not in used:
        said.append(f"{name} was not there in the last weeks")
    return tuple(said)
