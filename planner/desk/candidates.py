"""Candidates of a week: drafted, redrafted, merged, and each kept in the store; one of them chosen."""

from __future__ import annotations

from planner.audit.reading import plan_of
from planner.desk.setting import asked
from planner.domain.changes import GymChanges
from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.domain.plan import Plan
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate, WeekState
from planner.domain.requests import Requests
from planner.domain.week import Week
from planner.errors import DataError
from planner.load.yaml_file import nearest
from planner.pipeline import checked_problem, solved_week
from planner.setting import Setting
from planner.store.store import Change, Store
from planner.verbs import alternatives as many
from planner.verbs import merge as merging
from planner.verbs import redraft as again
from planner.verbs.alternatives import Alternative
from planner.verbs.redraft import Redrafted

LETTERS = 26


def states(store: Store) -> tuple[WeekState, ...]:
    """Every week of which something is kept, in order; those whose changes were all undone left out."""
    found = (store.state(week) for week in store.weeks())
    return tuple(s for s in found if s != WeekState(week=s.week))


def latest_week(store: Store) -> str:
    """The last week that has candidates.

    Raises:
        DataError: there is none.
    """
    for week in reversed(store.weeks()):
        if store.state(week).candidates:
            return week
    raise DataError("no week is kept of this gym yet", advice="Draft one first: planner draft GYM.")


def meant(state: WeekState, name: str | None = None) -> Candidate:
    """The candidate that is meant: the one named, else the chosen one, else the newest.

    Raises:
        DataError: there is no such candidate.
    """
    if not state.candidates:
        raise DataError(
            f"there is no candidate of {state.week} yet",
            advice=f"Draft one first: planner draft GYM --week {state.week}.",
        )
    wanted = name.strip().upper() if name else state.chosen
    if wanted is None:
        return state.candidates[-1]
    found = next((c for c in state.candidates if c.name == wanted), None)
    if found is None:
        names = [c.name for c in state.candidates]
        hint = nearest(wanted, names) or f" It has {', '.join(names)}."
        raise DataError(f'{state.week} has no candidate "{name}".{hint}')
    return found


def base_of(state: WeekState, requests: Requests | None = None) -> Plan | None:
    """The plan that locks of whole pieces speak of; None where there is no such lock."""
    locks = (requests or state.requests).locks
    if any(lock.of_pieces for lock in locks) and state.candidates:
        return plan_of(meant(state).week)
    return None


def draft(
    store: Store, setting: Setting, *, seed: int = 1, seconds: float = 10.0, progress: Progress = quiet
) -> Candidate:
    """A new week under the week's locks, bans, wishes and overrules, kept as its next candidate.

    Raises:
        DataError: a rule or a request that means nothing.
        NoPlanError: no week holds all musts and locks; nothing is kept.
    """
    state = store.state(setting.week)
    here = asked(setting, state.requests, base_of(state))
    week = solved_week(checked_problem(here.problem(seed=seed)), seconds, progress)
    (kept,) = keep(store, setting.week, [(f"drafted, seed {seed}", week)], "drafted")
    return kept


def alternatives(
    store: Store | None,
    setting: Setting,
    count: int,
    *,
    seed: int = 1,
    seconds: float = 10.0,
    progress: Progress = quiet,
) -> tuple[tuple[Candidate, Alternative], ...]:
    """Several weeks about as good as each other and truly unlike, best first, each kept with its label.

    Without a store they get their names and are not kept.

    Raises:
        NoPlanError: not even one week holds all musts and locks; nothing is kept.
    """
    state = store.state(setting.week) if store else WeekState(week=setting.week)
    here = asked(setting, state.requests, base_of(state))
    checked_problem(here.problem(seed=seed))
    found = many.alternatives(here, count, seed=seed, seconds=seconds, progress=progress)
    made = [(a.label, a.week) for a in found]
    kept = keep(store, setting.week, made, "drafted as alternatives") if store else named(state, made)
    return tuple(zip(kept, found, strict=True))


def redraft(
    store: Store,
    setting: Setting,
    *,
    changes: GymChanges | None = None,
    candidate: str | None = None,
    seconds: float = 8.0,
    progress: Progress = quiet,
) -> tuple[Candidate, Candidate, Redrafted]:
    """A candidate again with as little changed as can be, kept as the next one.

    Args:
        store: of the gym.
        setting: as it is without the changes.
        changes: to the gym.
        candidate: which; the chosen one, else the newest.
        seconds: deterministic budget.
        progress: called with a label and a fraction done.

    Returns:
        The old candidate, the new one, and what is known about the change.

    Raises:
        NoPlanError: locks, musts and what is left cannot all hold; says what clashes and the ways out;
            nothing is kept then.
    """
    state = store.state(setting.week)
    old = meant(state, candidate)
    made = again.redraft(
        setting,
        old.week,
        changes=changes,
        requests=state.requests,
        seed=old.week.proof.seed,
        seconds=seconds,
        progress=progress,
    )
    said = changes.words() if changes and changes != GymChanges() else ""
    how = f"redrafted from {old.name}{f', {said}' if said else ''}: {made.certificate}"
    (new,) = keep(store, setting.week, [(said or f"redrafted from {old.name}", made.week)], how)
    return old, new, made


def merge(
    store: Store,
    setting: Setting,
    taken: dict[Day, str],
    *,
    seconds: float = 10.0,
    progress: Progress = quiet,
) -> Candidate:
    """One week from several candidates: the days taken stay to the letter, the rest is solved; it is kept.

    Args:
        store: of the gym.
        setting: gym, catalogue, rules, past.
        taken: by day, the name of the candidate it is taken from.
        seconds: deterministic budget.
        progress: called with a label and a fraction done.

    Raises:
        DataError: a candidate that is not there, or has no such day.
        NoPlanError: the days cannot stand in one week; nothing is kept.
    """
    state = store.state(setting.week)
    weeks: dict[Day, Week] = {}
    for day in sorted(taken, key=DAYS.index):
        source = meant(state, taken[day])
        if day not in setting.gym.days or all(s.day != day for s in source.week.sessions):
            raise DataError(f"{source.name} has no session on {DAY_NAMES[day]}, or the gym is closed then")
        weeks[day] = source.week
    requests = _without_pieces(state, weeks)
    week = merging.merge(setting, weeks, requests=requests, seconds=seconds, progress=progress)
    label = take_words({day: taken[day] for day in weeks})
    (kept,) = keep(store, setting.week, [(label, week)], f"merged, {label}")
    return kept


def take_from(words: tuple[str, ...]) -> dict[str, str]:
    """Days and the candidate that each is taken from, as written: ``mon,thu=A``; days as they were written.

    Raises:
        DataError: what is wrong, and what would be right.
    """
    taken: dict[str, str] = {}
    for word in words:
        days, equals, name = word.partition("=")
        parts = [d.strip() for d in days.split(",") if d.strip()]
        if not equals or not name.strip() or not parts:
            raise DataError(f'"{word}" takes nothing', advice="Write days=candidate, like mon,thu=A.")
        for day in parts:
            if day in taken:
                raise DataError(f"{day} is taken twice")
            taken[day] = name.strip().upper()
    return taken


def take_words(taken: dict[Day, str]) -> str:
    """``Monday and Thursday from A, Tuesday from B``."""
    names = dict.fromkeys(taken.values())
    said = []
    for name in names:
        days = [DAY_NAMES[day] for day, source in taken.items() if source == name]
        said.append(f"{' and '.join(days)} from {name}")
    return ", ".join(said)


def choose(store: Store, week: str, name: str) -> WeekState:
    """Makes a candidate the one that is published, and that later weeks look back to.

    Raises:
        DataError: there is no such candidate.
    """

    def chosen(state: WeekState) -> Change:
        wanted = meant(state, name)
        return state.model_copy(update={"chosen": wanted.name}), f"chose {wanted.name}"

    return store.change(week, chosen)


def keep(store: Store, week: str, made: list[tuple[str, Week]], how: str) -> tuple[Candidate, ...]:
    """Adds candidates to whatever the week is by now, in one change.

    Args:
        store: of the gym.
        week: ISO week.
        made: label and week of each.
        how: they came about; goes into the week's history behind their names.
    """

    def grown(state: WeekState) -> Change:
        kept = named(state, made)
        new = state.model_copy(update={"candidates": (*state.candidates, *kept)})
        return new, f"{', '.join(c.name for c in kept)}: {how}"

    return store.change(week, grown).candidates[-len(made) :]


def named(state: WeekState, made: list[tuple[str, Week]]) -> tuple[Candidate, ...]:
    """Solved weeks as candidates, with the next names."""
    first = len(state.candidates)
    return tuple(
        Candidate(name=next_name(first + i), label=label, week=solved)
        for i, (label, solved) in enumerate(made)
    )


def next_name(number: int) -> str:
    """A, B, ..., Z, AA, AB, ...; counted from nought. Candidates are only ever added, so none comes twice."""
    name = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, LETTERS)
        name = chr(ord("A") + letter) + name
    return name


def _without_pieces(state: WeekState, taken: dict[Day, Week]) -> Requests:
    """The week's requests, less what speaks of days that are taken whole.

    Raises:
        DataError: a lock of a day or a piece that no candidate is named for.
    """
    asked_for = state.requests
    base = base_of(state)
    for lock in asked_for.locks:
        if lock.of_pieces and lock.day not in taken and base is not None:
            raise DataError(
                f"{lock.words()}, and no candidate is named to take it from",
                advice=f"Take {DAY_NAMES[lock.day]} from one of them with --take, or unlock it first.",
            )
    return asked_for.model_copy(
        update={
            "locks": tuple(x for x in asked_for.locks if x.day not in taken),
            "by_hand": tuple(s for s in asked_for.by_hand if s.day not in taken),
        }
    )
