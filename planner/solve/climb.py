"""The layers of a first-stage model, one after another, each held at what it reached.

Most weeks can have several layers at their least at once, and to ask for just that, without minimising, is by
far the quickest question (measured on the demo gym: all layers in a tenth of the time). So that is tried
first; a layer is only minimised where it is not to be had.
"""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from ortools.sat.python import cp_model

from planner.domain.progress import Progress
from planner.rules.base import Expr
from planner.solve.model.master import LAYERS, Master, set_ceiling, set_range, set_value
from planner.solve.model.rows import true_slack
from planner.solve.model.view import least_of, value_of
from planner.solve.search import Budget, LayerAnswer, Status, at_once, solve_layer

FIRST_LEAST = 10.0
"""A first week, where none came by itself, may take so much; not where a theme is sought: that can wait."""
SHARES = {"pieces": 0.3, "lines": 0.15, "rules": 0.6, "stand-ins": 0.2, "wishes": 0.1, "theme": 1.0}
"""How layers share what is left of the budget."""
SEARCH_SHARE = 0.6
"""Of a layer's share, what is spent on finding good weeks before turning to the bound."""
TOGETHER = (("pieces", "lines"), ("rules", "stand-ins", "wishes"))
"""Layers for which it is tried to have them at their least all at once."""
TOGETHER_SHARE, TOGETHER_LEAST = 0.25, 1.5
"""Each such try may take this share of the budget, and never less than so much."""


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


def climb(
    master: Master,
    seed: int,
    seconds: float,
    progress: Progress,
    known: Mapping[str, LayerAnswer] | None = None,
) -> Climb | NoWeek:
    """Every layer in order.

    Args:
        master: the model; its ceilings are lifted first, and left at what each layer reached.
        seed: of the search.
        seconds: budget of deterministic time, all layers together.
        progress: called with a label and a fraction done.
        known: what an earlier climb of the same model reached, when it had fewer rows; its bounds hold on.
    """
    for name in master.layers:
        set_ceiling(master, name, None)
    for kept in _open_pieces(master):
        set_range(master.model, kept, 0, 1)
    way, todo = _Way(master, seed, seconds, known or {}), list(master.layers)
    while todo:
        progress(LAYERS[todo[0]], 0.9 * (1 - len(todo) / len(master.layers)))
        group = next((g for g in TOGETHER if todo[0] in g), ())
        names = [name for name in todo if name in group]
        reached, ruled_out = way.together(names)
        if ruled_out and todo[0] == "pieces" and not reached and way.one_more_piece():
            todo.pop(0)
            continue
        todo = todo[reached:]
        if reached < len(names) or not names:
            if not way.found.values:
                first = way.first_week()
                if not first.values:
                    return NoWeek(first.status == "impossible")
            way.minimise(todo.pop(0), todo, ruled_out=ruled_out)
    return way.found


class _Way:
    """A climb on its way: what is found, and what is left of the budget."""

    def __init__(self, master: Master, seed: int, seconds: float, known: Mapping[str, LayerAnswer]) -> None:
        self.known = dict(known)
        self.master, self.seed, self.seconds, self.left = master, seed, seconds, seconds
        self.found = Climb({}, ())
        self._start = time.perf_counter()

    def together(self, names: Sequence[str]) -> tuple[int, bool]:
        """Tries to have layers at their least: all at once, then all but the last, and so on.

        Returns:
            How many are there, from the first on; and whether it is ruled out that the next one is as well.
        """
        layers = self.master.layers
        for k, name in enumerate(names):
            if self._bound(name) > least_of(self.master.model, layers[name]):
                reached, ruled_out = self.together(names[:k]) if k else (0, True)
                return reached, ruled_out or reached == k
        ruled_out = False
        for k in range(len(names), 0, -1):
            answer = self._all_at_least(names[:k])
            if answer.values:
                for i, name in enumerate(names[:k]):
                    reached = value_of(self.master.layers[name], answer.values)
                    work = answer if i == 0 else replace(answer, seconds=0.0, deterministic=0.0)
                    self._note(name, replace(work, status="proved", objective=reached, bound=reached))
                return k, ruled_out
            ruled_out = answer.status == "impossible"
        return 0, ruled_out

    def _all_at_least(self, names: Sequence[str]) -> LayerAnswer:
        """A week with these layers at their least; the one in hand, if it is such a week."""
        layers, values = self.master.layers, self.found.values
        least = {name: least_of(self.master.model, layers[name]) for name in names}
        if values and all(value_of(layers[name], values) == least[name] for name in names):
            return LayerAnswer("proved", 0, 0, values, 0.0, 0.0)
        for name in names:
            set_ceiling(self.master, name, least[name])
        budget = max(TOGETHER_LEAST, self.seconds * TOGETHER_SHARE)
        answer = solve_layer(self.master.model, None, Budget(budget, self.seed))
        self.left -= answer.deterministic
        for name in names:
            set_ceiling(self.master, name, None)
        return replace(answer, values=tight(self.master, answer.values)) if answer.values else answer

    def first_week(self) -> LayerAnswer:
        """Any week."""
        budget = self.left if "theme" in self.master.layers else FIRST_LEAST
        answer = solve_layer(self.master.model, None, Budget(budget, self.seed))
        self.left -= answer.deterministic
        if answer.values:
            values = tight(self.master, answer.values)
            self._note("first", replace(answer, values=values))
        return answer

    def minimise(self, name: str, later: Sequence[str], *, ruled_out: bool) -> None:
        """One layer: good weeks first, then the bound; never worse than the week in hand.

        Args:
            name: of the layer.
            later: layers that are still to come, and share what is left of the budget.
            ruled_out: whether its least is known to be out of reach.
        """
        objective = self.master.layers[name]
        floor = max(least_of(self.master.model, objective) + ruled_out, self._bound(name))
        share = SHARES[name] / sum(SHARES[x] for x in (name, *later))
        budget = max(0.0, self.left) * share
        in_hand = LayerAnswer("not proved", 0, floor, self.found.values, 0.0, 0.0)
        # Nobody asks how good a theme could be at best.
        searching = budget if name == "theme" else budget * SEARCH_SHARE
        best = self._better(objective, in_hand, searching, proof=False)
        if best.status != "proved" and budget > searching:
            best = self._better(objective, best, budget - best.deterministic, proof=True)
        self.left -= best.deterministic
        self._note(name, best)

    def one_more_piece(self) -> bool:
        """Whether it is enough to change one piece more than those that cannot stay, which alone are too few.

        Which it can be is asked piece by piece, each a small question. All pieces that cannot be it are then
        held, and that makes all later questions small.
        """
        every = _open_pieces(self.master)

        def ask(kept: cp_model.IntVar) -> LayerAnswer:
            model = self.master.model.clone()
            for other in every:
                if other is not kept:
                    set_value(model, other, 1)
            return solve_layer(model, None, Budget(TOGETHER_LEAST, self.seed))

        answers = dict(zip((kept.index for kept in every), at_once(ask, every), strict=True))
        work = sum(a.deterministic for a in answers.values())
        self.left -= work
        found = next((a for a in answers.values() if a.values), None)
        if found is None:
            return False
        for kept in every:
            if answers[kept.index].status == "impossible":
                set_value(self.master.model, kept, 1)
        pieces = value_of(self.master.layers["pieces"], found.values)
        values = tight(self.master, found.values)
        seconds = sum(a.seconds for a in answers.values())
        self._note("pieces", LayerAnswer("proved", pieces, pieces, values, seconds, work))
        return True

    def _better(self, objective: Expr, last: LayerAnswer, budget: float, *, proof: bool) -> LayerAnswer:
        """The new week, or the one in hand where a search came back with nothing or no better."""
        new = solve_layer(
            self.master.model,
            objective,
            Budget(max(0.0, budget), self.seed),
            last.values,
            effort="proof" if proof else "search",
        )
        values = tight(self.master, new.values) if new.values else last.values
        if value_of(objective, values) > value_of(objective, last.values):
            values = last.values
        reached = value_of(objective, values)
        bound = min(reached, max(last.bound, new.bound) if new.values else last.bound)
        status: Status = "proved" if bound == reached else "not proved"
        seconds, work = last.seconds + new.seconds, last.deterministic + new.deterministic
        return LayerAnswer(status, reached, bound, values, seconds, work)

    def _bound(self, name: str) -> int:
        """What is known of a layer from an earlier climb."""
        return self.known[name].bound if name in self.known else -(10**18)

    def _note(self, name: str, answer: LayerAnswer) -> None:
        """What a layer reached is the week in hand, and no later layer makes it worse."""
        if not self.found.values:
            self.found.seconds["first"] = time.perf_counter() - self._start
        self.found.answers[name], self.found.values = answer, answer.values
        self.found.seconds[name] = answer.seconds
        if name in self.known and answer.objective > self.known[name].objective:
            self.known = {}  # bounds of later layers were proved where this one was better
        if name in self.master.layers:
            set_ceiling(self.master, name, answer.objective)


def _open_pieces(master: Master) -> list[cp_model.IntVar]:
    """Of the base plan's pieces, those that may stay or change."""
    return [kept for kept in master.kept.values() if not isinstance(kept, int)]


def tight(master: Master, values: tuple[int, ...]) -> tuple[int, ...]:
    """The same week with every slack pressed down to the true measure."""
    out = list(values)
    for t in master.priced:
        out[t.slack.index] = true_slack(t, value_of(t.term.expr, values))
    return tuple(out)
