"""Rules into rows: musts under their guard, weighted rules as slack with a price."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ortools.sat.python import cp_model

from planner.problem.problem import Problem
from planner.rules.base import Expr, Facts, Rule, Term
from planner.solve.model.view import ModelView, total


@dataclass(frozen=True, slots=True, eq=False)
class PricedTerm:
    """A weighted rule's term in the model.

    Attributes:
        rule: id.
        term: the measurement.
        slack: steps beyond the limit; nothing presses it down but its price.
        points: price of a step.
        exact: whether the measurement is the audit's; otherwise it is a bound from below.
    """

    rule: str
    term: Term
    slack: cp_model.IntVar
    points: int
    exact: bool = True


def write_rule(  # noqa: PLR0917
    model: cp_model.CpModel,
    view: ModelView,
    rule: Rule,
    problem: Problem,
    facts: Facts,
    guard: cp_model.IntVar | None = None,
    *,
    exact: bool = True,
) -> tuple[list[PricedTerm], list[cp_model.IntVar]]:
    """Adds a rule, but where the coach overruled it.

    Args:
        model: gets the rows.
        view: one kit version, or the first stage's lines.
        rule: a must or a weighted rule.
        problem: says where rules are overruled, and which musts are loosened.
        facts: what rules may ask about gym and past.
        guard: the rows hold only where it does; always, where it is None.
        exact: whether the view knows what the rule measures exactly.

    Returns:
        The priced terms; and literals of places in which a loosened must is broken by one unit.
    """
    priced, loose = [], []
    excused: dict[str, list[Expr]] = {}
    for term in rule.encode(view, facts):
        over = problem.overruled.get((rule.id, term.place))
        if over is not None:
            if over.most is not None:
                excused.setdefault(term.place, []).append(_excused(model, term))
        elif not rule.must:
            if (steps := most_steps(term)) > 0:
                slack = model.new_int_var(0, steps, f"{rule.id}/{term.place}")
                model.add(term.expr - term.divide * slack <= term.limit)
                priced.append(PricedTerm(rule.id, term, slack, rule.weight * term.scale, exact))
        elif is_number(term.expr):
            if term.expr > term.limit:  # nothing that could be chosen has anything to do with it
                model.add_bool_or([] if guard is None else [~guard]).with_name(f"{rule.id}/{term.place}")
        else:
            left = term.expr
            if rule.id in problem.loosened and term.scale == 1:
                loose.append(model.new_bool_var(f"{rule.id}/{term.place}/loose"))
                left -= term.divide * loose[-1]
            _guarded(model.add(left <= term.limit).with_name(f"{rule.id}/{term.place}"), guard)
    for place, units in excused.items():
        _guarded(model.add(total(units) <= (problem.overruled[rule.id, place].most or 0)), guard)
    return priced, loose


def _guarded(row: cp_model.Constraint, guard: cp_model.IntVar | None) -> None:
    if guard is not None:
        row.only_enforce_if(guard)


def _excused(model: cp_model.CpModel, term: Term) -> Expr:
    """Units of breach in a place where so many are let be."""
    steps = max(0, most_steps(term))
    slack = model.new_int_var(0, steps, f"excused/{term.place}")
    model.add(term.expr - term.divide * slack <= term.limit)
    return term.scale * slack


def write_rules(
    model: cp_model.CpModel,
    view: ModelView,
    rules: tuple[Rule, ...],
    problem: Problem,
    guards: Mapping[str, cp_model.IntVar] | None = None,
    *,
    stage_exact: bool = True,
) -> list[PricedTerm]:
    """Adds every rule that is not only watched; each loosened one may be broken in one place.

    Args:
        model: gets the rows.
        view: one kit version, or the first stage's lines.
        rules: which.
        problem: what rules need to know.
        guards: by the rule's id.
        stage_exact: False where doses are still open.
    """
    priced: list[PricedTerm] = []
    for rule in rules:
        if rule.level == "watch":
            continue
        exact = stage_exact or rule.stage == "lines"
        guard = guards[rule.id] if guards else None
        terms, loose = write_rule(model, view, rule, problem, problem.facts, guard, exact=exact)
        priced += terms
        if loose:
            model.add_at_most_one(loose)
    return priced


def most_steps(term: Term) -> int:
    """The most steps of breach that a term can have."""
    return -(-(term.upper - term.limit) // term.divide)


def is_number(expr: Expr) -> bool:
    """Whether an expression has no decision in it: nothing at all matched the selector."""
    return isinstance(expr, int)


def true_slack(priced: PricedTerm, value: int) -> int:
    """Steps beyond the limit for a value of the term's expression; a slack by itself may lie above that."""
    term = priced.term
    return max(0, -(-(value - term.limit) // term.divide))
