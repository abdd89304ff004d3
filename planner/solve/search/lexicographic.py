"""The layers of a first-stage model, one after another, each held at what it reached.

Many weeks can have several layers at their least at once, and to ask for just that, without minimising, is by
far the quickest question (measured on the demo gym: all layers in a tenth of the time). So that is asked
first, briefly. What is not had that way is minimised layer by layer, each from the week that the layer
before reached, and with all the time but a little that is kept for later ones.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from ortools.sat.python import cp_model

from planner.domain.progress import Progress
from planner.errors import SolverFault
from planner.rules.base import Expr
from planner.solve.model.master import LAYERS, Master, set_ceiling, set_range, set_value
from planner.solve.model.view import least_of, value_of
from planner.solve.search.solver import NO_END, Budget, Effort, LayerAnswer, at_once, solve_layer, verdict
from planner.solve.search.week_in_hand import as_hint, hold_other_days, tight

FIRST_WEEK_WORK = 10.0
"""Any week, where a layer's search came back without one, may take so much beyond the budget."""
LATER_SHARE = 0.1
"""Of the whole budget, what is kept back for each layer that is still to come."""
FIRST_SHARE = 0.45
"""Of the whole budget, what a layer's first search may take. Then it starts afresh from the week it found: by
a good week and a bound, presolve makes the model smaller, and the proof is often near."""
DAYS_SHARE, DAYS_WORK, FEW_DAYS = 0.2, 0.3, (2, 3)
"""Of the budget, what a layer may take to try a few days at a time; the work of each try; how many days."""
TOGETHER = (("pieces", "lines"), ("rules", "stand-ins", "wishes"))
"""Layers for which it is tried to have them at their least all at once."""
TOGETHER_WORK = 2.0
"""All tries of a group together may take so much: where more is needed, minimising is quicker."""
PIECE_WORK = 1.5
"""Each question whether one piece more is enough may take so much."""


@dataclass(slots=True)
class Reached:
    """Where the layers got to.

    Attributes:
        answers: by layer; the last one's values are the week in hand.
        values: the week in hand.
        walled: whether any search ran into the wall-clock stop, so that another run may end elsewhere.
        work: deterministic seconds that all searches took.
    """

    answers: dict[str, LayerAnswer]
    values: tuple[int, ...]
    walled: bool = False
    work: float = 0.0


@dataclass(frozen=True, slots=True)
class NoWeek:
    """There is none, or none was found.

    Attributes:
        certain: whether the solver showed that there is none.
        walled: whether a search for one ran into the wall-clock stop.
        work: deterministic seconds that all searches took.
    """

    certain: bool
    walled: bool = False
    work: float = 0.0


def solve_layers(
    master: Master,
    seed: int,
    seconds: float,
    progress: Progress,
    known: Mapping[str, LayerAnswer] | None = None,
) -> Reached | NoWeek:
    """Every layer in order.

    Args:
        master: the model; its ceilings are lifted first, and left at what each layer reached.
        seed: of the search.
        seconds: budget of deterministic time, all layers together.
        progress: called with a label and a fraction done.
        known: what an earlier search of the same model reached, when it had fewer rows; its bounds hold on.
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
        for name in names[reached:] or todo[:1] * (not names):
            progress(LAYERS[name], 0.9 * (1 - len(todo) / len(master.layers)))
            todo.remove(name)
            answer = way.minimise(name, len(todo), ruled_out=ruled_out and name == names[reached])
            if not answer.values:
                return NoWeek(answer.status == "impossible", way.found.walled, seconds - way.left)
    way.found.work = seconds - way.left
    return way.found


def bounds_that_hold(answers: Mapping[str, LayerAnswer], reached: Mapping[str, int]) -> dict[str, int]:
    """Bounds, by layer, that hold for a week that reached so much.

    The bound of a layer was proved among weeks at least as good in all layers before it. Where one is worse
    in one of them, those before and that one itself keep their bounds, and the later ones are void.
    """
    out: dict[str, int] = {}
    for name, answer in answers.items():
        if name not in reached:
            continue
        out[name] = answer.bound
        if reached[name] > answer.objective:
            break
    return out


class _Way:
    """A search on its way: what is found, and what is left of the budget."""

    def __init__(self, master: Master, seed: int, seconds: float, known: Mapping[str, LayerAnswer]) -> None:
        self.known = dict(known)
        self.master, self.seed, self.seconds, self.left = master, seed, seconds, seconds
        self.found = Reached({}, ())

    def together(self, names: Sequence[str]) -> tuple[int, bool]:
        """Tries to have layers at their least: all at once, then all but the last, and so on.

        It goes on only while the answers are plain: an open one has cost what all tries may cost.

        Returns:
            How many are there, from the first on; and whether it is ruled out that the next one is as well.
        """
        layers, ruled_out = self.master.layers, False
        left = min(TOGETHER_WORK, self.left)
        for k in range(len(names), 0, -1):
            if any(self._bound(x) > least_of(self.master.model, layers[x]) for x in names[:k]):
                ruled_out = True
                continue
            answer = self._all_at_least(names[:k], left)
            left -= answer.deterministic
            if answer.values:
                for i, name in enumerate(names[:k]):
                    reached = value_of(layers[name], answer.values)
                    work = answer if i == 0 else replace(answer, seconds=0.0, deterministic=0.0)
                    self._note(name, replace(work, status="proved", objective=reached, bound=reached))
                return k, ruled_out
            ruled_out = answer.status == "impossible"
            if not ruled_out:
                break
        return 0, ruled_out

    def _all_at_least(self, names: Sequence[str], work: float) -> LayerAnswer:
        """A week with these layers at their least; the one in hand, if it is such a week."""
        layers, values = self.master.layers, self.found.values
        least = {name: least_of(self.master.model, layers[name]) for name in names}
        if values and all(value_of(layers[name], values) == least[name] for name in names):
            return LayerAnswer("proved", 0, 0, values, 0.0, 0.0)
        for name in names:
            set_ceiling(self.master, name, least[name])
        answer = self._solve(None, work)
        for name in names:
            set_ceiling(self.master, name, None)
        return replace(answer, values=tight(self.master, answer.values)) if answer.values else answer

    def minimise(self, name: str, later: int, *, ruled_out: bool) -> LayerAnswer:
        """One layer, from the week in hand and never worse than that; without one, any week will do.

        Only what an earlier layer reached is a start worth giving: from just any week the solver's search
        takes longer than from none (measured on drawn gyms).

        Args:
            name: of the layer.
            later: so many layers are still to come.
            ruled_out: whether its least is known to be out of reach.

        Returns:
            What it reached; without a week only where there is none, or none was found.
        """
        objective, in_hand = self.master.layers[name], self.found.values
        floor = max(least_of(self.master.model, objective) + ruled_out, self._bound(name))
        best = LayerAnswer("undecided", NO_END, floor, in_hand, 0.0, 0.0)
        if in_hand:
            reached = value_of(objective, in_hand)
            best = replace(best, status=verdict(reached, floor), objective=reached)
        end = self.left - later * LATER_SHARE * self.seconds
        if name == "theme":  # so tightly held, a week is found on the way to its bound sooner than by chance
            best = self._better(objective, best, end, "proof")
            return self._note(name, best) if best.values else best
        if best.status != "proved":
            best = self._better(objective, best, min(end, FIRST_SHARE * self.seconds), "both")
        if best.status == "undecided":
            best = self._merged(objective, best, replace(self._solve(None, FIRST_WEEK_WORK), bound=floor))
        if not best.values:
            return best
        if best.status == "not proved":
            best = self._by_days(objective, best, min(end - best.deterministic, DAYS_SHARE * self.seconds))
        if best.status != "proved" and end > best.deterministic:
            best = self._better(objective, best, end - best.deterministic, "both")
        return self._note(name, best)

    def _better(self, objective: Expr, best: LayerAnswer, work: float, effort: Effort) -> LayerAnswer:
        """A search from the best week so far, and never worse than that."""
        hint = as_hint(self.master, best.values) if best.values else ()
        told = best.bound if best.bound > least_of(self.master.model, objective) else None
        new = self._solve(objective, work, hint, effort, bound=told)
        if best.values and new.status == "impossible":
            raise SolverFault("The solver denies a week that it has found itself; please report this.")
        return self._merged(objective, best, new)

    def _by_days(self, objective: Expr, best: LayerAnswer, work: float) -> LayerAnswer:
        """Two days anew, then three, all others as they are, as long as that makes the layer better."""
        view, end = self.master.view, best.deterministic + work
        for size in FEW_DAYS:
            waiting = deque(combinations(view.days, size))
            stuck = 0
            while waiting and stuck < len(waiting) and best.status != "proved" and best.deterministic < end:
                days = waiting.popleft()
                waiting.append(days)
                model = self.master.model.clone()
                hold_other_days(model, self.master, best.values, days)
                budget = Budget(DAYS_WORK, self.seed)
                new = solve_layer(model, objective, budget, as_hint(self.master, best.values), "search")
                self.left -= new.deterministic
                better = bool(new.values) and new.objective < best.objective
                stuck = 0 if better else stuck + 1
                best = self._merged(objective, best, replace(new, bound=best.bound))
        return best

    def _merged(self, objective: Expr, best: LayerAnswer, new: LayerAnswer) -> LayerAnswer:
        """The better of two weeks under the better of two bounds, with the work of both."""
        best = replace(
            best,
            seconds=best.seconds + new.seconds,
            deterministic=best.deterministic + new.deterministic,
            walled=best.walled or new.walled,
        )
        if not (new.values or best.values):
            return replace(best, status=new.status)
        weeks = [tight(self.master, new.values)] if new.values else []
        values = min((*weeks, *([best.values] if best.values else [])), key=lambda x: value_of(objective, x))
        reached, bound = value_of(objective, values), max(best.bound, new.bound) if weeks else best.bound
        return replace(best, status=verdict(reached, bound), objective=reached, bound=bound, values=values)

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
            return solve_layer(model, None, Budget(PIECE_WORK, self.seed))

        answers = dict(zip((kept.index for kept in every), at_once(ask, every), strict=True))
        work = sum(a.deterministic for a in answers.values())
        self.left -= work
        self.found.walled |= any(a.walled for a in answers.values())
        found = next((a for a in answers.values() if a.values), None)
        if found is None:
            return False
        objective, values = self.master.layers["pieces"], tight(self.master, found.values)
        pieces, bound = value_of(objective, values), least_of(self.master.model, objective) + 1
        for kept in every:
            if answers[kept.index].status == "impossible":
                set_value(self.master.model, kept, 1)
        seconds = sum(a.seconds for a in answers.values())
        self._note("pieces", LayerAnswer(verdict(pieces, bound), pieces, bound, values, seconds, work))
        return True

    def _solve(self, objective: Expr | None, work: float, *hint_and_effort: Any, **more: Any) -> LayerAnswer:
        """A solve on account of the budget."""
        budget = Budget(max(0.0, work), self.seed)
        answer = solve_layer(self.master.model, objective, budget, *hint_and_effort, **more)
        self.left -= answer.deterministic
        self.found.walled |= answer.walled
        return answer

    def _bound(self, name: str) -> int:
        """What is known of a layer from an earlier search."""
        return self.known[name].bound if name in self.known else -NO_END

    def _note(self, name: str, answer: LayerAnswer) -> LayerAnswer:
        """What a layer reached is the week in hand, and no later layer makes it worse."""
        self.found.answers[name], self.found.values = answer, answer.values
        if name in self.known and answer.objective > self.known[name].objective:
            self.known = {}  # bounds of later layers were proved where this one was better
        if name in self.master.layers:
            set_ceiling(self.master, name, answer.objective)
        return answer


def _open_pieces(master: Master) -> list[cp_model.IntVar]:
    """Of the base plan's pieces, those that may stay or change."""
    return [kept for kept in master.kept.values() if not isinstance(kept, int)]
