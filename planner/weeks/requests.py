"""Changes what is asked of a week: locks, bans, wishes, overrules, sessions written by hand.

Each is a function of the week's state; callers give the store instead, and get the new state.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import wraps
from typing import Concatenate, ParamSpec

from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.domain.plan import SessionPlan
from planner.domain.record import WeekState
from planner.domain.requests import Ban, Lock, Overrule, Requests, Wish
from planner.errors import DataError
from planner.store.store import Change, Store
from planner.weeks.keeping import meant
from planner.weeks.names import rule_named
from planner.weeks.offered import refuse_never
from planner.weeks.setting import Setting

_PLACE = re.compile(rf"(?:(?:{'|'.join(DAYS)})(?:-(?:{'|'.join(DAYS)}))?|week)(?::.*)?")
_P = ParamSpec("_P")


def _kept(
    deed: Callable[Concatenate[WeekState, Setting, _P], Change],
) -> Callable[Concatenate[Store, Setting, _P], WeekState]:
    """A change of a state as a change of a store's week, made on the newest state."""

    @wraps(deed)
    def change(store: Store, setting: Setting, /, *args: _P.args, **more: _P.kwargs) -> WeekState:
        return store.change(setting.week, lambda state: deed(state, setting, *args, **more))

    return change


@_kept
def lock(state: WeekState, setting: Setting, wanted: Lock) -> Change:
    """Locks a day, a piece, a movement or a property.

    Raises:
        DataError: the gym is closed that day, there is nothing to lock yet, or it is locked already.
    """
    _open(setting, state, wanted.day)
    asked = state.requests
    refuse_never(setting, asked, wanted.movement, wanted.day, wanted.piece)
    if wanted in asked.locks:
        raise DataError(f"{wanted.words()} already")
    if wanted.of_pieces and not _by_hand(asked, wanted.day):
        source = meant(state)
        if all(s.day != wanted.day for s in source.week.sessions):
            raise DataError(f"{source.name} has no session on {DAY_NAMES[wanted.day]} to lock")
    return _changed(state, {"locks": (*asked.locks, wanted)}, wanted.words())


@_kept
def unlock(state: WeekState, _setting: Setting, wanted: Lock) -> Change:
    """Removes a lock. Unlocking a whole day removes all its locks and a session written by hand.

    If the whole day is locked and one piece is unlocked, the other piece stays locked.

    Raises:
        DataError: it is not locked.
    """
    asked, day = state.requests, wanted.day
    here = [x for x in asked.locks if x.day == day]
    update: dict[str, object]
    if wanted.part == "day":
        if not here and not _by_hand(asked, day):
            raise DataError(f"{DAY_NAMES[day]} has no lock")
        update = {
            "locks": tuple(x for x in asked.locks if x.day != day),
            "by_hand": tuple(s for s in asked.by_hand if s.day != day),
        }
        return _changed(state, update, f"unlocked {DAY_NAMES[day]}")
    if wanted.of_pieces and _by_hand(asked, day):
        raise DataError(
            f"{DAY_NAMES[day]} was written by hand, and is locked as a whole", advice="Unlock the whole day."
        )
    whole = Lock(day=day, part="day")
    if wanted in here:
        update = {"locks": tuple(x for x in asked.locks if x != wanted)}
    elif wanted.of_pieces and whole in here:
        other = Lock(day=day, part="conditioning" if wanted.part == "strength" else "strength")
        update = {"locks": tuple(dict.fromkeys(other if x == whole else x for x in asked.locks))}
    else:
        said = "; ".join(x.words() for x in here) or f"{DAY_NAMES[day]} has no lock"
        raise DataError(f"there is no such lock: {said}")
    return _changed(state, update, f"unlocked: {wanted.words()}")


@_kept
def ban(state: WeekState, setting: Setting, wanted: Ban) -> Change:
    """Rules a movement out, for a day or for the week.

    Raises:
        DataError: it is ruled out already, or the gym is closed that day.
    """
    if wanted.day:
        _open(setting, state, wanted.day)
    if wanted in state.requests.bans:
        raise DataError(f"it is so already: {wanted.words()}")
    return _changed(state, {"bans": (*state.requests.bans, wanted)}, wanted.words())


@_kept
def allow(state: WeekState, _setting: Setting, wanted: Ban) -> Change:
    """Removes a ban.

    Raises:
        DataError: there is no such ban.
    """
    bans = state.requests.bans
    if wanted not in bans:
        said = "; ".join(b.words() for b in bans) or "nothing is ruled out"
        raise DataError(f"there is no such ban in {state.week}: {said}")
    left = tuple(b for b in bans if b != wanted)
    return _changed(state, {"bans": left}, f"allowed again: {wanted.movement.replace('_', ' ')}")


@_kept
def ask(state: WeekState, setting: Setting, wanted: Wish) -> Change:
    """Asks for a movement, work of a pattern or a group, or a hard or easy day.

    Raises:
        DataError: it is asked for already, or the gym is closed that day.
    """
    if wanted.day:
        _open(setting, state, wanted.day)
    refuse_never(setting, state.requests, wanted.movement, wanted.day)
    if wanted in state.requests.wishes:
        raise DataError(f"it is asked for already: {wanted.words()}")
    update = {"wishes": (*state.requests.wishes, wanted)}
    return _changed(state, update, f"asked for {wanted.words()}")


@_kept
def overrule(state: WeekState, setting: Setting, rule: str, place: str, because: str) -> Change:
    """Makes one rule not count in one place, for this week only.

    Args:
        state: of the week; callers give the store.
        setting: with the rules.
        rule: its id.
        place: as in the rule report: ``thu``, ``mon-tue``, ``week``, ``thu: carry``. The day is enough if
            the report has only one place on that day.
        because: the reason; shown on the week.

    Raises:
        DataError: there is no such rule or place, or no reason is given.
    """
    if len(because.strip()) < 3:  # noqa: PLR2004  (as the value itself asks)
        raise DataError("say why in a few words: the reason is shown on the week")
    wanted = Overrule(
        rule=rule_named(setting, rule), place=_place(state, rule, place), reason=because.strip()
    )
    others = tuple(o for o in state.requests.overrules if (o.rule, o.place) != (wanted.rule, wanted.place))
    update = {"overrules": (*others, wanted)}
    return _changed(state, update, f"overruled {wanted.rule} at {wanted.place}: {wanted.reason}")


@_kept
def withdraw(state: WeekState, _setting: Setting, wanted: Wish | tuple[str, str]) -> Change:
    """Removes a wish, or an overrule given as rule and place.

    Raises:
        DataError: there is no such thing.
    """
    asked = state.requests
    if isinstance(wanted, Wish):
        if wanted not in asked.wishes:
            said = "; ".join(w.words() for w in asked.wishes) or "nothing is asked for"
            raise DataError(f"there is no such wish in {state.week}: {said}")
        left = tuple(w for w in asked.wishes if w != wanted)
        return _changed(state, {"wishes": left}, f"no longer asked for: {wanted.words()}")
    rule, place = wanted
    held = [o for o in asked.overrules if o.rule == rule and o.place in (place, _place(state, rule, place))]
    if not held:
        said = "; ".join(f"{o.rule} at {o.place}" for o in asked.overrules) or "nothing is overruled"
        raise DataError(f"there is no such overruling in {state.week}: {said}")
    left_over = tuple(o for o in asked.overrules if o not in held)
    return _changed(state, {"overrules": left_over}, f"{rule} counts again at {place}")


@_kept
def write(state: WeekState, setting: Setting, session: SessionPlan) -> Change:
    """Replaces the session of a day by one that the coach wrote, and locks it.

    Raises:
        DataError: the gym is closed that day.
    """
    _open(setting, state, session.day)
    others = tuple(s for s in state.requests.by_hand if s.day != session.day)
    # Locks of whole pieces speak of the session that this one replaces.
    locks = tuple(x for x in state.requests.locks if not (x.day == session.day and x.of_pieces))
    update = {"by_hand": (*others, session), "locks": locks}
    return _changed(state, update, f"{DAY_NAMES[session.day]} written by hand")


def _changed(state: WeekState, update: Mapping[str, object], verb: str) -> Change:
    return state.model_copy(update={"requests": state.requests.model_copy(update=dict(update))}), verb


def _by_hand(asked: Requests, day: Day) -> bool:
    return any(s.day == day for s in asked.by_hand)


def _open(setting: Setting, state: WeekState, day: Day) -> None:
    """Checks that the gym is open that day, or that some candidate has a session on it."""
    days = {*setting.gym.days, *(s.day for c in state.candidates for s in c.week.sessions)}
    if day not in days:
        said = ", ".join(DAY_NAMES[d] for d in DAYS if d in days)
        raise DataError(f"the gym is closed on {DAY_NAMES[day]}", advice=f"It opens on {said}.")


def _place(state: WeekState, rule: str, place: str) -> str:
    """The place as the rule report writes it."""
    wanted = " ".join(place.split())
    known = [p.place for c in state.candidates for r in c.week.rules if r.id == rule for p in r.places]
    if wanted in known:
        return wanted
    under = list(dict.fromkeys(p for p in known if p.startswith(f"{wanted}:")))
    if len(under) == 1:
        return under[0]
    if under:
        raise DataError(f"{rule} gives way there in several places", advice=f"One of: {'; '.join(under)}.")
    if not _PLACE.fullmatch(wanted):
        said = "; ".join(dict.fromkeys(known)) or "thu, mon-tue, week"
        raise DataError(f'"{place}" is no place', advice=f"Write it as the rule report has it: {said}.")
    return wanted
