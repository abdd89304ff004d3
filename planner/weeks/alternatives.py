"""Several weeks that are almost equally good and clearly different: each is best at something."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from planner.audit.days import version_days
from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.plan import Plan, SessionPlan
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate, WeekState
from planner.domain.requests import PIECES
from planner.domain.week import Week
from planner.problem.problem import Problem
from planner.rules.base import AuditDay
from planner.rules.where import Where
from planner.weeks.keeping import base_of, keep, named
from planner.weeks.setting import Setting
from planner.weeks.written import checked_problem, solved_and_written, written_week

if TYPE_CHECKING:
    from planner.rules.base import Expr
    from planner.solve.model.master import Master
    from planner.store.store import Store

PIECES_A_DAY = 2
UNLIKE_SHARE = 3
"""At least one piece in so many differs between every two."""
WISH_MARGIN = 6
"""Points of wishes that an alternative may lose besides: they count least of all."""
HELD = ("rules", "stand-ins", "wishes")
"""Layers in which an alternative may be worse by the margin only."""
THEME_LEAST = 1.2
"""Deterministic seconds for an alternative at least."""
THEME_SHARE = 0.15
"""Of the budget, what the search for each alternative may take; most of what there is comes early."""


class Alternative(Value):
    """One of several weeks.

    Attributes:
        label: what it is best at.
        week: the week.
        points: price of its weighted rules.
        figures: each theme's figure by its label; lower is better.
    """

    label: str
    week: Week
    points: int
    figures: dict[str, int]


@dataclass(frozen=True, slots=True)
class Theme:
    """Something that a week can do best.

    Attributes:
        label: for the coach.
        where: lines that count.
        sign: 1 where few of them are wanted, -1 where many.
        items: whether distinct items of equipment a day are counted instead of lines.
    """

    label: str
    where: Where
    sign: int = 1
    items: bool = False

    def figure(self, week: tuple[AuditDay, ...]) -> int:
        """The theme's figure of a week's gym floor; lower is better."""
        if self.items:
            return sum(len({i for x in d.lines for i in x.facts.needs}) for d in week)
        return self.sign * sum(self.where.matches(x.facts) for d in week for x in d.lines)


THEMES = (
    Theme("least set-up", Where(), items=True),
    Theme("most carrying", Where(pattern=("carry",)), -1),
    Theme("fewest landings", Where(contacts=True)),
    Theme("most barbell work", Where(item=("barbell",)), -1),
    Theme("least asked of skill", Where(skill_at_least=2)),
    Theme("most body weight", Where(modality=("bodyweight",)), -1),
)
BEST = "fewest points"


def alternatives(
    setting: Setting,
    count: int,
    *,
    seed: int = 1,
    seconds: float = 10.0,
    margin_percent: int = 5,
    progress: Progress = quiet,
) -> tuple[Alternative, ...]:
    """Weeks that cost at most ``margin_percent`` more than the best and differ in a third of the pieces.

    Args:
        setting: gym, catalogue, rules, past.
        count: how many to look for, at most seven; fewer are returned if there are no more.
        seed: of the search.
        seconds: deterministic budget for the first; each of the others takes up to a seventh of it.
        margin_percent: in percent of the best week's points, rounded down to whole points.
        progress: called with a label and a fraction done.

    Returns:
        The best first, then one for each theme. Each is better at its theme than all before it, so that no
        week is worse than another in everything.

    Raises:
        NoPlanError: there is no week at all.
    """
    problem = setting.problem(seed=seed)
    progress(f"Week 1 of {count}", 0.0)
    problem, best = solved_and_written(problem, seconds)
    search = _Search(problem, best, margin_percent)
    labels = [BEST]
    for theme in THEMES:
        if len(labels) == count:
            break
        progress(f"Week {len(labels) + 1} of {count}: {theme.label}", len(labels) / count)
        if search.another(theme, max(THEME_LEAST, seconds * THEME_SHARE)):
            labels.append(theme.label)
    return tuple(
        Alternative(label=label, week=w, points=w.points, figures=_figures(problem, w))
        for label, w in zip(labels, search.weeks, strict=True)
    )


def alternatives_kept(
    store: Store | None,
    setting: Setting,
    count: int,
    *,
    seed: int = 1,
    seconds: float = 10.0,
    progress: Progress = quiet,
) -> tuple[tuple[Candidate, Alternative], ...]:
    """Drafts several weeks, best first, and keeps each with its label.

    Without a store they are named and not kept.

    Raises:
        NoPlanError: no week meets all musts and locks; nothing is kept.
    """
    state = store.state(setting.week) if store else WeekState(week=setting.week)
    here = setting.asking(state.requests, base_of(state))
    checked_problem(here.problem(seed=seed))
    found = alternatives(here, count, seed=seed, seconds=seconds, progress=progress)
    made = [(a.label, a.week) for a in found]
    kept = keep(store, setting.week, made, "drafted as alternatives") if store else named(state, made)
    return tuple(zip(kept, found, strict=True))


class _Search:
    """The weeks found so far, and one model in which every further week must differ from them."""

    def __init__(self, problem: Problem, best: Week, margin_percent: int) -> None:
        from planner.solve.model.master import LAYERS, build_master

        self.problem, self.weeks = problem, [best]
        self._master = build_master(problem)
        tiers = {t.name: t for t in best.proof.tiers}
        self._held = {n: _with_margin(tiers[LAYERS[n]].objective, margin_percent) for n in HELD}
        self._held["wishes"] += WISH_MARGIN
        self._master.bounds = {n: tiers[LAYERS[n]].bound for n in HELD}
        _unlike(problem, self._master, plan_of(best))

    def another(self, theme: Theme, seconds: float) -> bool:
        """Looks for a week that differs from all others and beats them at a theme, and adds it."""
        from planner.solve.model.master import seek
        from planner.solve.search.draft import finish

        kit = self.problem.gym.kits[0].id
        known = [theme.figure(version_days(self.problem, plan_of(w), kit)) for w in self.weeks]
        seek(self._master, _expression(self._master, theme), min(known), self._held)
        drafted = finish(self._master, seconds)
        if drafted.plan is None or drafted.proof is None:
            return False
        self.weeks.append(written_week(self.problem, drafted.plan, drafted.proof, seconds))
        _unlike(self.problem, self._master, drafted.plan)
        return True


def least_apart(days: int) -> int:
    """The least number of pieces that must differ between two weeks."""
    return ceil(PIECES_A_DAY * days / UNLIKE_SHARE)


def _unlike(problem: Problem, master: Master, plan: Plan) -> None:
    """At least a third of the pieces are not those of a plan."""
    from planner.solve.model.fixed import piece_literals

    same = []
    for session in plan.sessions:
        v = master.view.days[session.day]
        for piece in PIECES:
            literals = piece_literals(problem, v, session, piece)
            if literals and piece == "conditioning":
                literals = _whatever_load(problem, master, session)
            if literals:
                same.append(master.view.all_of(literals, f"{session.day}/same/{piece}"))
    total_pieces = PIECES_A_DAY * len(plan.sessions)
    master.model.add(sum(same) <= total_pieces - least_apart(len(plan.sessions)))


def _whatever_load(problem: Problem, master: Master, session: SessionPlan) -> list[Expr]:
    """Literals that say: the same conditioning format and movements as in this session, at any load."""
    day, shape = session.day, session.shape
    leads = [f.lead for f in problem.options.families if shape in {s.id for s in f.members}]
    run = [literal for s, literal in master.view.days[day].shapes if s in leads]
    movements = [x.movement for x in session.versions[problem.gym.kits[0].id].conditioning]
    wheres = [Where(movement=(m,), piece=("conditioning",)) for m in movements]
    return [*run, *(master.view.literal(day, where) for where in wheres)]


def _expression(master: Master, theme: Theme) -> Expr:
    """The theme's figure as an expression of the model."""
    terms: list[Expr] = []
    for day, v in master.view.days.items():
        if not theme.items:
            terms += [theme.sign * x for _, x in master.view.matching(day, theme.where)]
            continue
        by_item: dict[str, list[Expr]] = {}
        for x in v.lines:
            for item in x.facts.needs:
                by_item.setdefault(item, []).append(x.literal)
        terms += [master.view.any_of(literals, f"{day}/uses/{item}") for item, literals in by_item.items()]
    return sum(terms)


def _with_margin(points: int, margin_percent: int) -> int:
    return points + points * margin_percent // 100


def _figures(problem: Problem, week: Week) -> dict[str, int]:
    days = version_days(problem, plan_of(week), problem.gym.kits[0].id)
    return {theme.label: theme.figure(days) for theme in THEMES}
