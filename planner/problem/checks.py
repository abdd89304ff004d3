"""Checks by arithmetic: selectors that match nothing, and what a gym lacks for a must."""

from __future__ import annotations

from planner.domain.line import LineFacts
from planner.domain.requests import PIECES
from planner.errors import RuleError
from planner.problem.lacking import lacking_words
from planner.problem.problem import Problem
from planner.rules import Rule
from planner.rules.limit import Limit
from planner.rules.where import Where


def check_rules(problem: Problem) -> None:
    """Every selector matches something that the catalogue could ever offer.

    Raises:
        RuleError: a selector that matches no movement, scheme or shape at all.
    """
    lines, every = _floor_lines(problem), None
    for rule in problem.rules:
        for where in rule.selectors():
            if _matches_anything(problem, where, lines):
                continue
            every = every or problem.options.everything()
            if not _matches_anything(problem, where, every):
                raise RuleError(
                    f'rule "{rule.id}": {where.words()} matches nothing in the catalogue',
                    advice="Check the names in its selector, or switch the rule off.",
                )


def too_little(problem: Problem, rule: Rule) -> str:
    """What the gym lacks for a must that asks for more than it can give whatever else it does; or nothing."""
    if not isinstance(rule, Limit) or not rule.at_least:
        return ""
    lines = _floor_lines(problem)
    at_least, days = rule.at_least, len(problem.gym.days)
    if rule.count == "days" and rule.per == "week" and at_least > days:
        return f"{at_least} days are asked for, and the gym opens on {days}."
    if rule.where.about_sessions or rule.each:
        return ""
    found = sorted({x.movement.name for x in lines if rule.where.matches(x)})
    if not found:
        lacks = lacking_words(problem, rule.where)
        return f"The gym has no equipment for any of it{lacks and f': {lacks}'}."
    return _too_few(problem, rule, at_least, found)


def _too_few(problem: Problem, rule: Limit, at_least: int, found: list[str]) -> str:
    """Fewer movements than are needed, where each may come only so often a week."""
    if rule.per != "week" or rule.count not in ("days", "lines"):
        return ""
    pieces = [p for p in PIECES if not rule.where.piece or _touches(rule.where, p)]
    often = [_most_a_week(problem, piece) for piece in pieces]
    if not often or None in often:
        return ""
    most = len(found) * sum(n for n in often if n is not None)
    if most >= at_least:
        return ""
    listed = ", ".join(found)
    return (
        f"{at_least} are needed, and with what the gym has there are only {len(found)} movements "
        f"({listed}), each at most {sum(n for n in often if n is not None)} a week."
    )


def _touches(where: Where, piece: str) -> bool:
    own = {"strength": {"main", "assistance", "strength"}, "conditioning": {"conditioning"}}[piece]
    return bool(own & set(where.piece))


def _most_a_week(problem: Problem, piece: str) -> int | None:
    """How often a week one movement may come in a piece by a must; None where no rule says."""
    for r in problem.rules:
        if isinstance(r, Limit) and r.must and r.each == "movement" and r.per == "week" and r.count == "days":
            only_piece = r.where == Where(piece=(piece,))
            if only_piece and r.at_most is not None:
                return r.at_most
    return None


def _matches_anything(problem: Problem, where: Where, lines: list[LineFacts]) -> bool:
    if where.about_sessions:
        shapes = problem.catalogue.shapes.values()
        return any(where.matches_session(s, rating) for s in shapes for rating in range(11))
    return any(where.matches(x) for x in lines)


def _floor_lines(problem: Problem) -> list[LineFacts]:
    options = problem.options
    return [c.facts for c in (*options.main, *options.assistance, *options.conditioning)]
