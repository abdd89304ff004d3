"""What can be asked about a candidate, and how its sessions went; nothing is kept but the log."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.audit.reading import plan_of
from planner.desk.candidates import meant
from planner.desk.setting import AskedSetting, asked
from planner.domain.at_hand import items_for, usable_setup
from planner.domain.gym import DAY_NAMES, Day
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate, LogEntry, WeekState
from planner.domain.requests import PieceName
from planner.errors import DataError
from planner.setting import Setting
from planner.store.log import LoadTable, logged, planned_against_rated
from planner.store.store import Store
from planner.verbs import resilience as losing
from planner.verbs import whys
from planner.verbs.reasons import Reason
from planner.verbs.resilience import Loss
from planner.verbs.whys import Price, WhyNot

if TYPE_CHECKING:
    from planner.domain.comparison import Comparison


def why(
    store: Store, setting: Setting, day: Day, piece: PieceName, *, candidate: str | None = None
) -> tuple[Reason, ...]:
    """What speaks for each line of a piece.

    Raises:
        DataError: there is no such candidate, or it has no session that day.
    """
    state, of = _of(store, setting, candidate)
    _has(of, day)
    return whys.why(_asked(setting, state, of), of.week, day, piece)


def why_not(
    store: Store,
    setting: Setting,
    day: Day,
    movement: str,
    *,
    piece: PieceName | None = None,
    candidate: str | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> tuple[Candidate, WhyNot]:
    """What it would take to have a movement on a day; nothing is kept.

    Returns:
        The candidate that was asked about, and the answer.
    """
    state, of = _of(store, setting, candidate)
    _has(of, day)
    never = _never_offered(setting, state, movement, piece)
    if never:
        return of, WhyNot(possible=False, clashes=((never,),))
    return of, whys.why_not(
        setting,
        of.week,
        day,
        movement,
        piece=piece,
        requests=state.requests,
        seconds=seconds,
        progress=progress,
    )


def price(
    store: Store,
    setting: Setting,
    *,
    candidate: str | None = None,
    seconds: float = 4.0,
    progress: Progress = quiet,
) -> tuple[Price, ...]:
    """The rules that bind, and what relaxing each by one unit buys, the dearest first."""
    state, of = _of(store, setting, candidate)
    return whys.price(_asked(setting, state, of), of.week, seconds=seconds, progress=progress)


def resilience(
    store: Store,
    setting: Setting,
    *,
    candidate: str | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> tuple[Loss, ...]:
    """What losing one, or all, of each item would do to a candidate, the most painful loss first."""
    state, of = _of(store, setting, candidate)
    # A session by hand that the candidate does not have yet would change it whatever is lost.
    plan = plan_of(of.week)
    floor = setting.gym.kits[0].id
    there = {(s.day, s.shape, s.versions.get(floor)) for s in plan.sessions}
    written = tuple(s for s in state.requests.by_hand if (s.day, s.shape, s.versions.get(floor)) in there)
    here = asked(setting, state.requests.model_copy(update={"by_hand": written}), plan)
    return losing.resilience(here, of.week, seconds=seconds, progress=progress)


def compare(store: Store, setting: Setting, a: str, b: str) -> Comparison:
    """Two candidates of a week, side by side.

    Raises:
        DataError: there is no such candidate.
    """
    from planner.verbs import compare as comparing

    state = store.state(setting.week)
    one, other = meant(state, a), meant(state, b)
    return comparing.compare(one.week, other.week, (one.name, other.name), setting.history)


def log(store: Store, week: str, day: Day, entry: LogEntry) -> LoadTable:
    """Writes down how a session of the chosen week went.

    Returns:
        The week's planned load beside the rated one.

    Raises:
        DataError: nothing is chosen yet, or the week has no session that day.
    """
    verb = f"{DAY_NAMES[day]} {entry.status}"
    return planned_against_rated(store.change(week, lambda state: (logged(state, day, entry), verb)))


def _never_offered(setting: Setting, state: WeekState, movement: str, piece: PieceName | None) -> str:
    """Why a movement cannot come on the gym floor on any day; empty where it can."""
    m, gym = setting.catalogue.movements[movement], setting.gym
    if any(b.movement == movement and b.day is None for b in state.requests.bans):
        return f"{m.name} is ruled out this week"
    if m.skill > gym.class_.skill:
        return f"{m.name} asks for skill {m.skill}, and the class has {gym.class_.skill}"
    wanted = {"strength": ("main", "assistance"), "conditioning": ("conditioning",), None: m.roles}[piece]
    roles = [role for role in m.roles if role in wanted]
    if not roles:
        where = f"in the {piece}" if piece else "on the gym floor"
        return f"{m.name} is not programmed {where}; the catalogue has it only as a stand-in"
    if any(usable_setup(m, items_for(gym, gym.kits[0], role), role) for role in roles):
        return ""
    items = setting.catalogue.items
    needs = " or ".join(" and ".join(items[i].name for i in s.needs) for s in m.setups)
    return f"{m.name} needs {needs}, more than the gym has for a class"


def _of(store: Store, setting: Setting, candidate: str | None) -> tuple[WeekState, Candidate]:
    state = store.state(setting.week)
    return state, meant(state, candidate)


def _asked(setting: Setting, state: WeekState, of: Candidate) -> AskedSetting:
    return asked(setting, state.requests, plan_of(of.week))


def _has(of: Candidate, day: Day) -> None:
    days = [s.day for s in of.week.sessions]
    if day not in days:
        said = ", ".join(DAY_NAMES[d] for d in days)
        raise DataError(f"{of.name} has no session on {DAY_NAMES[day]}", advice=f"It has: {said}.")
