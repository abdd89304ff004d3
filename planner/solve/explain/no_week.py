"""What to tell the coach where there is no week: what clashes and what would help, or that time was short."""

from __future__ import annotations

from dataclasses import replace

from planner.domain.gym import DAY_NAMES, Day, Kit
from planner.domain.plan import SessionPlan
from planner.domain.requests import PIECES, Ban
from planner.domain.words import listed, spoken
from planner.errors import NoPlanError
from planner.problem.checks import too_little
from planner.problem.problem import Problem
from planner.problem.requirements import Requirement, without
from planner.solve.explain.clashes import Clash, find_clashes
from planner.solve.model.fixed import base_lines, piece_literals
from planner.solve.model.master import Master
from planner.solve.model.versions import FloorDay
from planner.solve.search.draft import Drafted
from planner.solve.search.fill import Infeasible, fill

MOST_BANS, NAMED_BANS = 6, 3
"""More bans than that are said as one; so many of them by name."""
UNDECIDED = "No week was found in the time given, and none was ruled out."


def explain_no_week(problem: Problem, drafted: Drafted) -> NoPlanError:
    """Why a draft came to nothing.

    Args:
        problem: for which there is no week.
        drafted: what solving gave.
    """
    if not drafted.impossible or drafted.master is None:
        return _undecided()
    found = find_clashes(problem, drafted.master)
    if found.hopeless:
        return NoPlanError(
            "With this equipment there is no week at all, whatever the rules.",
            remedies=("Give the gym more equipment, or another kit version more to work with.",),
        )
    if not found.clashes:
        return _undecided()
    ways = (listed(dict.fromkeys(r.give_up for r in w.members)) for w in found.ways_out)
    return NoPlanError(
        "No week can hold all of this together:",
        tuple(clash_words(problem, clash, drafted.master) for clash in found.clashes),
        tuple(dict.fromkeys(ways)),
    )


def _undecided() -> NoPlanError:
    return NoPlanError(
        UNDECIDED,
        remedies=("Give it more time with --seconds.", "Soften a must, or open another day."),
        certain=False,
    )


def clash_words(problem: Problem, clash: Clash, master: Master) -> tuple[str, ...]:
    """The members of a clash, each with what is missing for it, or with which kit it fails.

    Of many bans of a day only the first are named: which they are matters less than how many.
    """
    meant: dict[str, Ban] = {b.words(): b for b in problem.requests.bans}
    alike: dict[Day | None, list[Ban]] = {}
    for r in clash.members:
        if r.kind == "ban":
            alike.setdefault(meant[r.id].day, []).append(meant[r.id])
    said = [r.words + _more(problem, clash, r, master) for r in clash.members if r.kind != "ban"]
    for bans in alike.values():
        said += [_many(bans)] if len(bans) > MOST_BANS else [b.words() for b in bans]
    return tuple(said)


def _many(bans: list[Ban]) -> str:
    first = ", ".join(spoken(b.movement) for b in bans[:NAMED_BANS])
    when = f"on {DAY_NAMES[bans[0].day]}" if bans[0].day else "this week"
    return f"no {first} or any of {len(bans) - NAMED_BANS} more {when}: {len(bans)} bans"


def _more(problem: Problem, clash: Clash, r: Requirement, master: Master) -> str:
    if r.kind == "rule":
        said = too_little(problem, next(x for x in problem.rules if x.id == r.id))
        return f" {said}" if said else ""
    place = next(((d, p) for d in problem.gym.days for p in PIECES if r.id == f"{d}/{p}"), None)
    session = problem.base_session(place[0]) if place else None
    if place is None or session is None:
        return ""
    day, piece = place
    if piece_literals(problem, master.view.days[day], session, piece) is None:
        return f", and cannot be done: {missing_words(problem, session, piece)}"
    kits = _failing_kits(problem, clash, session, master)
    return f", and for {kits} no doses or stand-ins suit in the time that it has" if kits else ""


def _failing_kits(problem: Problem, clash: Clash, session: SessionPlan, master: Master) -> str:
    """Kits in which a locked session cannot be written out under the clash's own members."""
    day, kept = session.day, {r.id for r in clash.members}
    stays = frozenset(p for p in PIECES if f"{day}/{p}" in kept)
    here = without(problem, {r.id for r in master.requirements} - kept)
    v, shape = master.view.days[day], problem.catalogue.shapes.get(session.shape)
    facts = tuple(x.facts for p in PIECES if p in stays for x in base_lines(problem, v, session, p)[0])
    family = next(f for f in problem.options.families if shape in f.members)
    floor = {day: FloorDay(family, facts, session, stays)}

    def fails(*some: Kit) -> bool:
        gym = here.gym.model_copy(update={"kits": some})
        return isinstance(fill(replace(here, gym=gym), floor), Infeasible)

    first, *others = problem.gym.kits
    if fails(first):
        return first.name
    return " and ".join(kit.name for kit in others if fails(first, kit))


def missing_words(problem: Problem, session: SessionPlan, piece: str) -> str:
    """Which movements of a piece cannot be done with what the gym has, and what they need."""
    said = [problem.options.lacking(x) for x in getattr(session.versions[problem.gym.kits[0].id], piece)]
    return "; ".join(x for x in said if x) or f"its lines are not offered on {DAY_NAMES[session.day]}"
