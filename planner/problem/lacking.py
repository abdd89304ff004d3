"""What a gym lacks for a rule: items, counts and the class, and the line in a file that would change it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from planner.domain.gym import DAYS
from planner.domain.line import LineFacts
from planner.prescribe.stock import BARBELL
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
        kg: a mass that would do; 0 where the item is not counted by mass.
    """

    item: str
    wanted: int
    have: int
    kg: float


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
    room = (
        f"with what the gym has and {'one open day' if days == 1 else f'{days} open days'} there is no room"
    )
    if not isinstance(rule, Limit) or not rule.at_least:
        return room, ""
    if rule.count == "days" and rule.per == "week" and rule.at_least > days:
        more = [d for d in DAYS if d not in gym.days][: rule.at_least - days]
        open_ = ", ".join(d for d in DAYS if d in (*gym.days, *more))
        return f"{rule.at_least} days are asked for, and the gym opens on {days}", f"days: [{open_}]"
    if not rule.where.about_sessions and not any(rule.where.matches(x) for x in _offered(problem)):
        said = lacking_words(problem, rule.where)
        _, short = _nearest(problem, rule.where)
        held = ", ".join(
            f"{x.item}: {{{x.kg:g}: {x.wanted}}}" if x.kg else f"{x.item}: {x.wanted}" for x in short
        )
        return said or room, f"under inventory: {held}" if held else ""
    return f"{room} for more of it beside all that counts for more", ""


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
            usual = line.movement.kg.get(line.tier)
            kg = gym.athletes[0].bar_kg if item == BARBELL else usual[0] if usual else ANY_KG
            yield Short(item, turns, have, kg if items[item].by_mass else 0)


def _offered(problem: Problem) -> Iterator[LineFacts]:
    options = problem.options
    return (c.facts for c in (*options.main, *options.assistance, *options.conditioning))


def _count(n: int, one: str, many: str) -> str:
    return f"{n or 'no'} {one if n in (0, 1) else many}"
