"""Where a gym cannot keep a must that came with the program, the week comes without it, and it is said."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.audit.audit import audit_plan
from planner.domain.progress import Progress, quiet
from planner.domain.requests import Overrule
from planner.domain.week import Week
from planner.problem.lacking import not_in_this_gym
from planner.problem.problem import Problem
from planner.problem.requirements import overruling
from planner.rules import Rule

if TYPE_CHECKING:
    from planner.solve.search.draft import Drafted
    from planner.solve.search.not_here import NotHere

HERE = "not in this gym"
"""How the reason of such an overrule begins."""


def solved(problem: Problem, seconds: float, progress: Progress = quiet) -> tuple[Problem, Drafted]:
    """Solves a week; where no week is possible, without what the gym cannot keep of the musts as shipped.

    Returns:
        The problem that was solved, with an overrule for each place where the gym cannot keep a must; and
        what solving gave.
    """
    from planner.solve.search.draft import draft_plan

    drafted = draft_plan(problem, seconds, progress)
    if drafted.impossible:
        here = heeding_gym(problem, seconds, progress)
        if here is not problem:
            return here, draft_plan(here, seconds, progress)
    return problem, drafted


def heeding_gym(problem: Problem, seconds: float, progress: Progress = quiet) -> Problem:
    """The problem with an overrule wherever the gym cannot keep a must as shipped; itself where it can."""
    from planner.solve.search.not_here import not_here

    progress("What this gym cannot keep", 0.0)
    found = not_here(problem, seconds)
    if found is None and any(rule.must and not rule.shipped for rule in problem.rules):
        others = tuple(rule for rule in problem.rules if not rule.must or rule.shipped)
        found = not_here(replace(problem, rules=others), seconds)
    return problem if found is None else overruling(problem, _overrules(problem, found))


def kept_so(week: Week, rules: Iterable[Rule]) -> tuple[Overrule, ...]:
    """What a week's file says that its gym cannot keep, of musts that are as they were shipped."""
    musts = {rule.id for rule in rules if rule.must and rule.shipped}
    kits = {f"{kit.name}, " for kit in week.kits[1:]}
    found: dict[tuple[str, str], Overrule] = {}
    for rule in week.rules:
        for at in rule.places if rule.id in musts else ():
            if at.overruled.startswith(HERE):
                place = next((at.place.removeprefix(k) for k in kits if at.place.startswith(k)), at.place)
                most = max(at.excused, found[rule.id, place].most or 0 if (rule.id, place) in found else 0)
                found[rule.id, place] = Overrule(rule=rule.id, place=place, reason=at.overruled, most=most)
    return tuple(found.values())


def _overrules(problem: Problem, found: NotHere) -> list[Overrule]:
    """One for each place where the plan breaks one of these musts, for as much as it does."""
    bare = replace(problem, requests=problem.requests.model_copy(update={"overrules": ()}))
    open_ = "" if found.fewest else " (whether it could be kept instead of another was not settled)"
    by_id = {rule.id: rule for rule in problem.rules}
    kits = [f"{kit.name}, " for kit in problem.gym.kits[1:]]
    most: dict[tuple[str, str], int] = {}
    for result in audit_plan(bare, found.plan):
        for at in result.places if result.id in found.rules and result.level == "must" else ():
            place = next((at.place.removeprefix(k) for k in kits if at.place.startswith(k)), at.place)
            most[result.id, place] = max(at.measure, most.get((result.id, place), 0))

    def because(rule: Rule) -> str:
        if problem.options.given:
            return f"{HERE} beside what was written by hand{open_}"
        return f"{HERE}{open_}: {not_in_this_gym(problem, rule)}"

    return [
        Overrule(rule=rule, place=place, most=n, reason=because(by_id[rule]))
        for (rule, place), n in most.items()
    ]
