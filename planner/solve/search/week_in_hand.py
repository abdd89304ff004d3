"""The week in hand: what the search has found, made exact, and as a start for the next search."""

from __future__ import annotations

from collections.abc import Collection

from ortools.sat.python import cp_model

from planner.domain.gym import Day
from planner.solve.model.master import Master, set_value
from planner.solve.model.rows import true_slack
from planner.solve.model.view import value_of


def tight(master: Master, values: tuple[int, ...]) -> tuple[int, ...]:
    """The same week with every slack and surplus pressed down to the true measure."""
    out = list(values)
    for t in master.priced:
        out[t.slack.index] = true_slack(t, value_of(t.term.expr, values))
    surplus = dict.fromkeys(master.surplus, 0)
    for raised in master.raised:
        there = all(values[x.index] for x in raised.literals)
        out[raised.there.index] = int(there)
        surplus[raised.where] = max(surplus[raised.where], there * raised.points)
    days = sum(points for (name, place), points in surplus.items() if name == "rules" and place != "week")
    surplus["rules", "week"] = max(surplus["rules", "week"], days)
    for where, points in surplus.items():
        out[master.surplus[where].index] = points
    return tuple(out)


def as_hint(master: Master, values: tuple[int, ...]) -> tuple[int, ...]:
    """The week in hand as a solution of the model as it is now, ceilings included.

    A hint has to be one: to a model without a solution it can make OR-Tools 9.15 abort the process; and a
    week under the ceilings of another layer is no solution, so the search would not start from it.
    """
    out = list(values)
    for ceiling in master.ceilings.values():
        out[ceiling.index] = master.model.proto.variables[ceiling.index].domain[0]
    return tuple(out)


def hold_other_days(
    model: cp_model.CpModel, master: Master, values: tuple[int, ...], days: Collection[Day]
) -> None:
    """Fixes the lines and families of all days but some at what they are in the week in hand."""
    for day, v in master.view.days.items():
        if day not in days:
            for literal in [*(x.literal for x in v.lines), *(x for _, x in v.shapes)]:
                set_value(model, literal, values[literal.index])
