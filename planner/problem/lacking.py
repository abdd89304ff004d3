"""What a gym lacks for a rule: items, counts and the class, and the line in a file that would change it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from math import ceil

from planner.domain.clock import frame_of, strength_minutes
from planner.domain.gym import DAYS
from planner.domain.line import BARBELL, LineFacts
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.rules.limit import Limit
from planner.rules.where import Where

ANY_KG = 20
"""A mass in a line to paste, where nothing says which: the coach puts her own."""


@dataclass(frozen=True, slots=True)
class Short:
    """An item of which there is too little for a class.

    Attributes:
        item: id.
        wanted: so many serve the class.
        have: so many there are.
        kgs: masses that would do; none where the item is not counted by mass.
    """

    item: str
    wanted: int
    have: int
    kgs: tuple[float, ...]

    def as_written(self) -> str:
        """As it stands in gym.yaml: ``rack: 4``, ``barbell: {20: 2, 15: 2}``."""
        each = ceil(self.wanted / max(1, len(self.kgs)))
        masses = ", ".join(f"{kg:g}: {each}" for kg in self.kgs)
        return f"{self.item}: {f'{{{masses}}}' if masses else self.wanted}"


def not_in_this_gym(problem: Problem, rule: Rule) -> str:
    """Why a gym cannot keep a rule, and the lines that would change it, ready to be pasted."""
    why, line = _cause(problem, rule)
    own = f"or in rules.yaml, under rules: - {{id: {rule.id}, off: true}}"
    return f"{why}. In gym.yaml, {line}; {own}" if line else f"{why}. In rules.yaml, {own.partition(', ')[2]}"


def lacking_words(problem: Problem, where: Where) -> str:
    """What the line lacks that comes nearest to a selector, with counts; empty where nothing is known."""
    line, short = _nearest(problem, where)
    if line is None:
        return ""
    if not short:
        options, floor = problem.options, problem.gym.kits[0].id
        return options.equipped(line.piece, line.movement, line.tier, line.scheme, floor).lacks
    class_, items = problem.gym.class_, problem.catalogue.items
    needs = " and ".join(_count(x.wanted, items[x.item].name, items[x.item].plural) for x in short)
    has = " and ".join(_count(x.have, items[x.item].name, items[x.item].plural) for x in short)
    sharing = f", {class_.turns} to one" if line.piece != "conditioning" and class_.turns > 1 else ""
    people = "one person" if class_.size == 1 else f"a class of {class_.size}{sharing}"
    return f"{line.movement.name} needs {needs} for {people}, and the gym has {has}"


def _cause(problem: Problem, rule: Rule) -> tuple[str, str]:
    """Why the gym cannot keep it, and the line of gym.yaml that would change it, or nothing."""
    gym, days = problem.gym, len(problem.gym.days)
    week = f"{'one open day' if days == 1 else f'{days} open days'} of {gym.class_.minutes} minutes"
    room = f"with what the gym has and {week} there is no room for it beside the other musts"
    if not isinstance(rule, Limit) or not rule.at_least or rule.where.about_sessions:
        return room, ""
    if rule.count == "days" and rule.per == "week" and rule.at_least > days:
        return f"{rule.at_least} days are asked for, and the gym opens on {days}", _days(
            problem, rule.at_least
        )
    offered = [x for x in _offered(problem) if rule.where.matches(x)]
    if not offered:
        _, short = _nearest(problem, rule.where)
        held = ", ".join(x.as_written() for x in short)
        return lacking_words(problem, rule.where) or room, f"under inventory: {held}" if held else ""
    heavy = Where(piece=("main",), load=("heavy",))
    wanted = sum(
        r.at_least or 0 for r in problem.rules if isinstance(r, Limit) and r.must and _inside(r, heavy)
    )
    if days < wanted and _inside(rule, heavy):
        said = f"a day has one main lift, {wanted} heavy ones are asked for, and the gym opens on {days}"
        return said, _days(problem, wanted)
    return _too_long(problem, offered) or (room, "")


def _inside(rule: Limit, where: Where) -> bool:
    return (rule.where.piece, rule.where.load) == (where.piece, where.load)


def _days(problem: Problem, wanted: int) -> str:
    """The line of gym.yaml with so many open days."""
    own = problem.gym.days
    more = [d for d in DAYS if d not in own][: wanted - len(own)]
    return f"days: [{', '.join(d for d in DAYS if d in (*own, *more))}]"


def _too_long(problem: Problem, lines: list[LineFacts]) -> tuple[str, str] | None:
    """Where the shortest of these lifts, with the shortest piece after it, is too long for the class."""
    if any(x.scheme is None for x in lines):
        return None
    lift, whole = (
        min(strength_minutes(x.scheme, assistance=False, turns=x.turns) for x in lines),
        problem.gym.class_.minutes,
    )
    pieces = lift + min(shape.cap_minutes for shape in problem.catalogue.shapes.values())
    if pieces + frame_of(whole).minutes <= whole:
        return None
    enough = next(n for n in count(whole) if pieces + frame_of(n).minutes <= n)
    said = f"the shortest of it takes {lift} minutes, more than a class of {whole} has beside all else"
    return said, f"under class: minutes: {enough}"


def _nearest(problem: Problem, where: Where) -> tuple[LineFacts | None, tuple[Short, ...]]:
    """The line of the catalogue that lacks fewest items for the class, and those; the first of several."""
    skill = problem.gym.class_.skill
    found = [
        (x, tuple(_short(problem, x)))
        for x in problem.options.everything()
        if where.matches(x) and x.movement.skill <= skill and x.piece in x.movement.roles
    ]
    return min(found, key=lambda pair: len(pair[1]), default=(None, ()))


def _short(problem: Problem, line: LineFacts) -> Iterator[Short]:
    gym, items = problem.gym, problem.catalogue.items
    turns = 1 if line.piece == "conditioning" else ceil(gym.class_.size / gym.class_.turns)
    for item in line.needs:
        have = gym.count(item)
        if have < turns:
            masses = _masses(problem, line, item) if items[item].by_mass else ()
            yield Short(item, turns, have, masses)


def _masses(problem: Problem, line: LineFacts, item: str) -> tuple[float, ...]:
    if item == BARBELL:
        return tuple(dict.fromkeys(athlete.bar_kg for athlete in problem.gym.athletes))
    return tuple(dict.fromkeys(line.movement.kg.get(line.tier, (ANY_KG,))))


def _offered(problem: Problem) -> Iterator[LineFacts]:
    options = problem.options
    return (c.facts for c in (*options.main, *options.assistance, *options.conditioning))


def _count(n: int, one: str, many: str) -> str:
    return f"{n or 'no'} {one if n in (0, 1) else many}"
