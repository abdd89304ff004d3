"""The layers of a first-stage model, one after another, each held at what it reached."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from planner.domain.progress import Progress
from planner.solve.encode import true_slack
from planner.solve.master import LAYERS, NO_CEILING, Master, set_ceiling
from planner.solve.search import Budget, LayerAnswer, Status, solve_layer
from planner.solve.versions import value_of
from planner.solve.view import Expr

FIRST_SHARE, FIRST_LEAST = 0.1, 10.0
"""A first week may take this share of the budget, and never less than so much."""
SHARES = {"pieces": 0.4, "lines": 0.2, "rules": 0.5, "stand-ins": 0.25, "wishes": 0.15, "theme": 1.0}
"""Share of the budget that each layer may use; what one leaves goes to the next."""
SEARCH_SHARE = 0.6
"""Of a layer's share, what is spent on finding good weeks before turning to the bound."""


@dataclass(slots=True)
class Climb:
    """Where the layers got to.

    Attributes:
        answers: by layer; the last one's values are the week in hand.
        values: the week in hand.
        seconds: wall clock by step, for the benchmark.
    """

    answers: dict[str, LayerAnswer]
    values: tuple[int, ...]
    seconds: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class NoWeek:
    """There is none, or none was found.

    Attributes:
        certain: whether the solver showed that there is none.
    """

    certain: bool


def climb(master: Master, seed: int, seconds: float, progress: Progress) -> Climb | NoWeek:
    """Every layer in order.

    Args:
        master: the model; its ceilings are lifted first, and left at what each layer reached.
        seed: of the search.
        seconds: budget of deterministic time, all layers together.
        progress: called with a label and a fraction done.
    """
    for name in master.layers:
        set_ceiling(master, name, NO_CEILING)
    left = seconds * FIRST_SHARE
    progress("A first week", 0.05)
    first = solve_layer(master.model, None, Budget(max(left, FIRST_LEAST), seed), master.hint)
    if not first.values:
        return NoWeek(first.status == "impossible")
    took = {"first": first.seconds}
    answers = {"first": first}
    left = max(0.0, left - first.deterministic)
    last, done = replace(first, values=tight(master, first.values)), 0.2
    for name, objective in master.layers.items():
        progress(LAYERS[name], done)
        left += seconds * SHARES[name]
        answer = _layer(master, objective, seed, replace(last, seconds=0.0, deterministic=0.0), left)
        left = max(0.0, left - answer.deterministic)
        took[name] = answer.seconds
        answers[name] = last = answer
        set_ceiling(master, name, answer.objective)
        done += SHARES[name] * 0.7
    return Climb(answers, last.values, took)


def _layer(master: Master, objective: Expr, seed: int, last: LayerAnswer, budget: float) -> LayerAnswer:
    """One layer: good weeks first, then the bound; never worse than the week in hand."""
    found = solve_layer(
        master.model, objective, Budget(budget * SEARCH_SHARE, seed), last.values, effort="search"
    )
    best = _better(master, objective, last, found)
    if best.status == "proved":
        return best
    rest = Budget(max(0.0, budget - found.deterministic), seed)
    return _better(master, objective, best, solve_layer(master.model, objective, rest, best.values))


def _better(master: Master, objective: Expr, last: LayerAnswer, new: LayerAnswer) -> LayerAnswer:
    """The new week, or the one in hand where a search came back with nothing or no better."""
    values = tight(master, new.values) if new.values else last.values
    if value_of(objective, values) > value_of(objective, last.values):
        values = last.values
    reached = value_of(objective, values)
    bound = min(reached, new.bound if new.values else 0)
    status: Status = "proved" if bound == reached else "not proved"
    seconds, work = last.seconds + new.seconds, last.deterministic + new.deterministic
    return LayerAnswer(status, reached, bound, values, seconds, 0.0, work)


def tight(master: Master, values: tuple[int, ...]) -> tuple[int, ...]:
    """The same week with every slack pressed down to the true measure."""
    out = list(values)
    for t in master.priced:
        out[t.slack.index] = true_slack(t, value_of(t.term.expr, values))
    return tuple(out)
