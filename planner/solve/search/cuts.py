"""What a filling teaches the first stage: cuts, in the sense of logic-based Benders decomposition.

A feasibility cut forbids lines that have no doses or versions. It carries the guards of all requirements
that it was proved under, so that it says nothing where one of them is given up. An optimality cut says what
lines cost at least beyond what the first stage can see. Both are proved; only ``set_aside`` is not, and has
a guard of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.domain.requests import Ban
from planner.problem.problem import Problem
from planner.problem.requirements import NEAR
from planner.rules import Rule
from planner.solve.model.master import ASIDE, Master, Raised, set_range
from planner.solve.model.rows import true_slack
from planner.solve.model.versions import FloorDay
from planner.solve.model.view import value_of
from planner.solve.search.crowding import cut_crowded
from planner.solve.search.fewest import fewest
from planner.solve.search.fill import Filled, Infeasible, fill

Floor = Mapping[Day, FloorDay]


def cut(master: Master, problem: Problem, floor: Floor, *, thorough: bool = False) -> list[Day]:
    """Forbids lines for which it is proved that there is no filling: as few of them as explain it.

    Args:
        master: gets the cuts.
        problem: with the requirements that count, under which ``floor`` was proved infeasible.
        floor: the lines of every day.
        thorough: whether it is found out which of many bans are needed: worth its time where they may fall.

    Returns:
        Days that cannot be filled by themselves; all that are needed, where it takes several.
    """
    alone = [day for day, f in floor.items() if _fails(master, problem, day, f)]
    if not alone:
        together = _fewest_days(problem, floor)
        bare = {day: _conditioning(floor[day]) for day in together}
        whatever = _infeasible(
            _with_rules(problem, lambda r: _tells_conditioning_alone(r) or _blind(problem, r)), bare
        )
        struck = bare if whatever else {day: floor[day] for day in together}
        bans = _bans_needed(problem, struck, thorough=thorough)
        _forbid(master, problem, struck, _waiting(problem), bans)
        return together
    for day in alone:
        _cut_day(master, problem, day, floor[day], thorough=thorough)
    return alone


def _cut_day(master: Master, problem: Problem, day: Day, f: FloorDay, *, thorough: bool) -> None:
    """One day: its conditioning alone if that is enough, and on every day where the same holds."""
    cut_crowded(master, problem, day, f)
    conditioning = _conditioning(f)
    whatever = _infeasible(_with_rules(problem, _tells_conditioning_alone), {day: conditioning})
    struck = conditioning if whatever else f
    anywhere = _infeasible(_with_rules(problem, _by_day), {day: struck})
    telling = _with_rules(problem, _by_day if anywhere else _tells_alone)
    needed = {b.movement for b in _bans_needed(telling, {day: struck}, thorough=thorough)}
    for other in master.view.days if anywhere and not f.stays else (day,):
        if other == day or _same_there(master, problem, day, other, struck):
            bans = [b for b in problem.requests.bans if b.day in (None, other) and b.movement in needed]
            _forbid(master, problem, {other: struck}, _waiting(telling), bans)


def _bans_needed(problem: Problem, struck: Floor, *, thorough: bool) -> tuple[Ban, ...]:
    """Bans without which the lines could be filled; unless thorough, all that could be among them."""
    stand_ins = {day: _stand_ins(problem, f) for day, f in struck.items()}
    bans = tuple(
        b
        for b in problem.requests.bans
        if any(b.movement in names for day, names in stand_ins.items() if b.day in (None, day))
    )

    def clash(some: Sequence[Ban]) -> bool:
        requests = problem.requests.model_copy(update={"bans": tuple(some)})
        return _infeasible(replace(problem, requests=requests), struck)

    if not bans or clash(()):
        return ()
    return tuple(fewest(clash, bans)) if thorough else bans


def _stand_ins(problem: Problem, f: FloorDay) -> frozenset[str]:
    """Movements that could stand in for any of the lines with any kit, were nothing banned."""
    nearest, kits = problem.options.nearest, problem.gym.kits[1:]
    lines = [(kit.id, x.piece, x.movement.id) for kit in kits for x in f.lines]
    return frozenset(m.id for line in lines for m, _, _ in nearest(*line, frozenset()))


def _same_there(master: Master, problem: Problem, day: Day, other: Day, struck: FloorDay) -> bool:
    """Whether what was proved of a day's lines holds on another: they can be had, and the rest is the same.

    That is their doses, what is banned of their stand-ins, and that no rule is overruled.
    """
    relaxed = {rule for rule, place in problem.overruled if place.partition(":")[0] == other}
    there = {x.facts for x in master.view.days[other].lines}
    own = problem.options.own_doses.get(other, {})
    banned = problem.banned_on(day) ^ problem.banned_on(other)
    return (
        not relaxed
        and not banned & _stand_ins(problem, struck)
        and all(x in there and x not in own for x in struck.lines)
    )


def _conditioning(f: FloorDay) -> FloorDay:
    return replace(
        f, lines=tuple(x for x in f.lines if x.piece == "conditioning"), stays=f.stays - {"strength"}
    )


def _fewest_days(problem: Problem, floor: Floor) -> list[Day]:
    """Days that cannot be filled together, none of them to spare; all, where only the whole week tells."""
    kept = list(floor)
    forbidding = _with_rules(problem, _tells_alone)
    if not _infeasible(forbidding, dict(floor)):
        return kept
    for day in floor:
        fewer = [d for d in kept if d != day]
        if fewer and _infeasible(forbidding, {d: floor[d] for d in fewer}):
            kept = fewer
    return kept


def set_aside(master: Master, floor: Floor) -> None:
    """Passes over lines that could not be filled in the time; nothing that follows from it is proved."""
    literals = [x for day, f in floor.items() for x in day_literals(master, day, f)]
    master.model.add_bool_or([*(~x for x in literals), ~master.guards[ASIDE]])


def _forbid(
    master: Master, problem: Problem, struck: Floor, rules: Iterable[Rule], bans: Iterable[Ban]
) -> None:
    """The clause: not all of these lines, as long as the requirements hold that this was proved under."""
    literals = [x for day, f in struck.items() for x in day_literals(master, day, f)]
    under = [NEAR, *(r.id for r in rules if r.must), *(b.words() for b in bans)]
    under += [f"{day}/{piece}" for day, f in struck.items() for piece in f.stays]
    guards = [master.guards[name] for name in under if name in master.guards and name not in problem.given_up]
    master.model.add_bool_or([*(~x for x in literals), *(~x for x in guards)])


def day_literals(master: Master, day: Day, f: FloorDay) -> list[cp_model.IntVar]:
    """The decisions that make lines of a day what they are, with the family of shapes."""
    v, wanted = master.view.days[day], set(f.lines)
    lines = [x.literal for x in v.lines if x.facts in wanted]
    stays = [
        kept
        for (d, p), kept in master.kept.items()
        if d == day and p in f.stays and not isinstance(kept, int)
    ]
    return [*lines, *(literal for s, literal in v.shapes if f.family and s is f.family.lead), *stays]


def _fails(master: Master, problem: Problem, day: Day, f: FloorDay) -> bool:
    """Whether a day cannot be filled by itself; most are as they were when last asked."""
    key = "fails", *_known_as(problem, day, f)
    if key not in master.told:
        master.told[key] = _infeasible(_with_rules(problem, _tells_alone), {day: f})
    return master.told[key]


def _known_as(problem: Problem, day: Day, f: FloorDay) -> tuple[Hashable, ...]:
    family = f.family.lead.id if f.family else ""
    return day, family, f.lines, f.stays, problem.given_up, problem.requests.bans


def _infeasible(problem: Problem, floor: Floor) -> bool:
    return isinstance(fill(problem, dict(floor)), Infeasible)


def _with_rules(problem: Problem, keep: Callable[[Rule], bool]) -> Problem:
    return replace(problem, rules=tuple(r for r in problem.rules if keep(r)))


def _blind(problem: Problem, rule: Rule) -> bool:
    """Whether a rule measures the same whatever the strength pieces are."""
    strength = (*problem.options.main, *problem.options.assistance)
    selectors = rule.selectors()
    return (
        bool(selectors)
        and rule.versions == "floor"
        and not any(where.matches(c.facts) for where in selectors for c in strength)
    )


def _waiting(problem: Problem) -> Iterator[Rule]:
    """Rules that a filling is measured by."""
    return (r for r in problem.rules if r.stage == "doses" or r.versions == "all")


def _tells_alone(rule: Rule) -> bool:
    """Whether some days break a rule whatever the others have."""
    return rule.forbids or rule.day_by_day


def _by_day(rule: Rule) -> bool:
    return rule.day_by_day


def _tells_conditioning_alone(rule: Rule) -> bool:
    """Whether the conditioning breaks a rule whatever the strength piece has."""
    return rule.on_conditioning or (rule.forbids and _tells_alone(rule))


# Optimality cuts ------------------------------------------------------------------------------------------
#
# For a set of rules R and lines L, no week with L costs less in R than the filling that is best for R. The
# first stage counts some of that already; the rest is surplus. Of rules, what single days cost adds up, and
# the surplus over the week is no less than that sum, nor than what is found for the whole: never both.


def price_lines(
    master: Master, problem: Problem, floor: Floor, values: tuple[int, ...], filled: Filled
) -> bool:
    """Says what lines cost at least beyond what the first stage counts; whether there was anything to say."""
    said = [_price_day(master, problem, day, f, values) for day, f in floor.items()]
    seen = _Seen(master, values)
    beyond = filled.breach_points - seen.points(lambda _rule, _place: True)
    said.append(filled.proved and _raise(master, ("rules", "week"), beyond, floor))
    # The same whatever the strength pieces are, as far as rules do not look at them.
    weightless = _with_rules(
        problem, lambda r: _tells_conditioning_alone(r) if r.must else _priced_without(problem, r)
    )
    bare = {day: _conditioning(f) for day, f in floor.items()}
    found = fill(weightless, bare)
    if isinstance(found, Filled) and found.proved:
        counted = seen.points(lambda rule, _place: _priced_without(problem, rule))
        said.append(_raise(master, ("rules", "week"), found.breach_points - counted, bare))
    return any(said)


def _price_day(master: Master, problem: Problem, day: Day, f: FloorDay, values: tuple[int, ...]) -> bool:
    """What one day costs by itself, under the rules that measure single days; said once."""
    key = "costs", *_known_as(problem, day, f)
    if key in master.told:
        return False
    master.told[key] = True
    alone = fill(_with_rules(problem, _by_day), {day: f})
    musts = fill(_with_rules(problem, lambda r: r.day_by_day and r.must), {day: f})
    said = []
    if isinstance(alone, Filled) and alone.proved:
        seen = _Seen(master, values).points(lambda rule, place: rule.day_by_day and place == day)
        said.append(_raise(master, ("rules", day), alone.breach_points - seen, {day: f}))
    if isinstance(musts, Filled) and musts.proved:
        barred, kits = problem.banned_on(day), problem.gym.kits[1:]
        counted = sum(problem.options.least_points(kit.id, x, barred) for kit in kits for x in f.lines)
        said.append(_raise(master, ("stand-ins", day), musts.stand_in_points - counted, {day: f}))
    return any(said)


def _priced_without(problem: Problem, rule: Rule) -> bool:
    """Whether a weighted rule costs no less with the strength pieces than without, and is counted alike."""
    return _blind(problem, rule) or (rule.versions == "all" and rule.stage == "lines" and rule.forbids)


class _Seen:
    """What the first stage counts already for rules that wait for doses, in a solution."""

    def __init__(self, master: Master, values: tuple[int, ...]) -> None:
        rules = {r.id: r for r in master.problem.rules}
        self._terms = [
            (
                rules[t.rule],
                t.term.place.partition(":")[0],
                true_slack(t, value_of(t.term.expr, values)) * t.points,
            )
            for t in master.priced
            if not t.exact
        ]

    def points(self, meant: Callable[[Rule, str], bool]) -> int:
        """Points of some rules in some places."""
        return sum(points for rule, place, points in self._terms if meant(rule, place))


def _raise(master: Master, where: tuple[str, str], points: int, floor: Floor) -> bool:
    """With all of these decisions, a layer costs so many points more in a place; whether that is any."""
    if points <= 0:
        return False
    surplus = master.surplus[where]
    for variable in (surplus, master.surplus["rules", "week"]):
        most = list(master.model.proto.variables[variable.index].domain)[-1]
        more = points if variable is surplus else points * len(master.view.days)
        set_range(master.model, variable, 0, max(more, most))
    there = master.model.new_bool_var("there")
    literals = tuple(x for day, f in floor.items() for x in day_literals(master, day, f))
    master.raised.append(Raised(where, points, literals, there))
    master.model.add_bool_or([there, *(~x for x in literals)])
    master.model.add(surplus >= points).only_enforce_if(there)
    return True
