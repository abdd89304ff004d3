"""Rules into the model: musts as rows, weighted rules as slack with a price."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from planner.rules.base import Expr, Facts, Rule, Term
from planner.solve.view import ModelView


@dataclass(frozen=True, slots=True, eq=False)
class PricedTerm:
    """A weighted rule's term in the model.

    Attributes:
        rule: id.
        term: the measurement.
        slack: steps beyond the limit; nothing presses it down but its price.
        points: price of a step.
    """

    rule: str
    term: Term
    slack: cp_model.IntVar
    points: int


def encode(
    model: cp_model.CpModel,
    view: ModelView,
    rules: tuple[Rule, ...],
    facts: Facts,
    overruled: frozenset[tuple[str, str]] = frozenset(),
    *,
    loosened: str = "",
) -> list[PricedTerm]:
    """Adds every rule; returns the priced terms.

    Rules that are only watched add nothing, nor does a rule in a place where the coach overruled it. A must
    that is ``loosened`` may be broken in one place, by one unit.
    """
    priced, loose = [], []
    for rule in rules:
        if rule.level == "watch":
            continue
        for term in rule.encode(view, facts):
            if (rule.id, term.place) in overruled:
                continue
            if rule.must and rule.id == loosened and term.scale == 1 and not is_number(term.expr):
                loose.append(model.new_bool_var(f"{rule.id}/{term.place}/loose"))
                model.add(term.expr - term.divide * loose[-1] <= term.limit)
            elif rule.must:
                forbid(model, rule, term)
            elif (steps := most_steps(term)) > 0:
                slack = model.new_int_var(0, steps, f"{rule.id}/{term.place}")
                model.add(term.expr - term.divide * slack <= term.limit)
                priced.append(PricedTerm(rule.id, term, slack, rule.weight * term.scale))
    model.add_at_most_one(loose)
    return priced


def forbid(model: cp_model.CpModel, rule: Rule, term: Term) -> None:
    """A must: the measure is nought. A row without decisions is either idle or impossible."""
    if is_number(term.expr):
        if term.expr > term.limit:
            model.add_bool_or([]).with_name(f"{rule.id}/{term.place}")
        return
    model.add(term.expr <= term.limit).with_name(f"{rule.id}/{term.place}")


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
