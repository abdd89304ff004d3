"""Whether a change, made on a newer state than the caller saw, contradicts what came meanwhile.

A state is read as its single statements ("A is chosen", "no burpee this week"), each with what it rests on:
the session that a lock keeps or a log speaks of, and the requests that stand against it. Two changes agree
where both still say and rest on the same once both are made.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from planner.domain.gym import DAY_NAMES, DAYS, Day
from planner.domain.plan import SessionPlan
from planner.domain.record import WeekState
from planner.domain.requests import Ban, Lock, Requests, Wish
from planner.domain.week import Week
from planner.domain.words import spoken

Slot = tuple[object, ...]
Claim = tuple[object, Day | None]
"""A movement, or a property of a day; and the day, or None for some time in the week."""


@dataclass(frozen=True)
class Meaning:
    """One statement.

    Attributes:
        words: for the coach; not compared.
        value: that the coach gave.
        on: what it speaks of, such as the session that a lock keeps.
        against: other statements of the same state that cannot hold with it, in words.
    """

    words: str = field(compare=False)
    value: object
    on: object = None
    against: frozenset[str] = frozenset()


def contradictions(
    base: WeekState, wanted: WeekState | None, now: WeekState, made: WeekState
) -> tuple[str, ...]:
    """What stands now against a change, in words; nothing where they agree.

    Args:
        base: that the caller saw.
        wanted: the change made on it; None where it could not have been.
        now: as it has become meanwhile.
        made: the change made on that.
    """
    if _only_adds_candidates(now, made):
        return ()  # a solved week is kept beside whatever there is
    before, after, stands, done = (_meanings(s) if s else {} for s in (base, wanted, now, made))
    theirs = [k for k in _changed(before, stands) if not _holds(stands.get(k), done.get(k))]
    mine = [k for k in _changed(before, after) if not _holds(after.get(k), done.get(k))] if wanted else []
    said = []
    for slot in (*theirs, *(k for k in mine if k[0] != "candidate")):
        if slot in stands and stands[slot] != after.get(slot):
            said.append(stands[slot].words)
        elif slot in done:
            said += sorted(done[slot].against) or [done[slot].words]
        else:
            said.append(f"no longer: {(before.get(slot) or after[slot]).words}")
    return tuple(dict.fromkeys(said))


def _changed(before: dict[Slot, Meaning], after: dict[Slot, Meaning]) -> list[Slot]:
    """Slots that were given another value, not those that only rest on something else now."""

    def value(meaning: Meaning | None) -> object:
        return meaning and meaning.value

    return [slot for slot in {**before, **after} if value(before.get(slot)) != value(after.get(slot))]


def _holds(meant: Meaning | None, done: Meaning | None) -> bool:
    """Whether a statement is there as it was meant, and nothing more stands against it."""
    if meant is None or done is None:
        return meant is done
    return (meant.value, meant.on) == (done.value, done.on) and done.against <= meant.against


def _only_adds_candidates(now: WeekState, made: WeekState) -> bool:
    there = len(now.candidates)
    same = made.model_copy(update={"candidates": now.candidates}) == now
    return same and len(made.candidates) > there and made.candidates[:there] == now.candidates


def _meanings(state: WeekState) -> dict[Slot, Meaning]:
    asked = state.requests
    weeks = {c.name: c.week for c in state.candidates}
    # A lock speaks of the chosen candidate, else of the newest.
    meant = state.chosen or next(reversed(weeks), "")
    found: dict[Slot, Meaning] = {
        ("candidate", name): Meaning(f"candidate {name}", week) for name, week in weeks.items()
    }
    if state.chosen:
        found["chosen",] = Meaning(f"{state.chosen} is chosen", state.chosen, weeks.get(state.chosen))
    for day, entry in state.log.items():
        words = f"{DAY_NAMES[day]} of {state.chosen} is logged as {entry.status}"
        found["log", day] = Meaning(words, entry, _kept(weeks.get(state.chosen or ""), day))
    for o in asked.overrules:
        found["overrule", o.rule, o.place] = Meaning(f"{o.rule} is overruled at {o.place}: {o.reason}", o)
    claimed: dict[Claim, dict[object, set[str]]] = defaultdict(lambda: defaultdict(set))
    for request in _requests(asked):
        for claim, value in _claims(request):
            claimed[claim][value].add(_words(request))
    for request in _requests(asked):
        words = _words(request)
        on: object = None
        if isinstance(request, Lock) and request.of_pieces:
            by_hand = next((s for s in asked.by_hand if s.day == request.day), None)
            on = by_hand or _kept(weeks.get(meant), request.day, request.part)
            words += " as it was written by hand" if by_hand else f" as in {meant or 'no candidate'}"
        against = (claimed[claim][v] for claim, own in _claims(request) for v in claimed[claim] if v != own)
        slot = ("by hand", request.day) if isinstance(request, SessionPlan) else (request,)
        found[slot] = Meaning(words, request, on, frozenset().union(*against))
    return found


Request = Lock | Ban | Wish | SessionPlan


def _requests(asked: Requests) -> tuple[Request, ...]:
    return (*asked.locks, *asked.bans, *asked.wishes, *asked.by_hand)


def _words(request: Request) -> str:
    if isinstance(request, SessionPlan):
        movements = ", ".join(spoken(m) for m in _movements(request))
        return f"{DAY_NAMES[request.day]} is written by hand, with {movements}"
    return f"{request.words()} is asked for" if isinstance(request, Wish) else request.words()


def _claims(request: Request) -> Iterator[tuple[Claim, object]]:
    """What a request says of a movement or of a day: another value for the same cannot hold with it."""
    if isinstance(request, Ban):
        for day in (request.day,) if request.day else (*DAYS, None):
            yield (request.movement, day), False
    elif isinstance(request, SessionPlan):
        for movement in _movements(request):
            yield (movement, request.day), True
    else:
        if request.movement:
            yield (request.movement, request.day), True
        if request.hardness:
            yield ("hardness", request.day), request.hardness
        if isinstance(request, Lock) and request.domain:
            yield ("domain", request.day), request.domain


def _movements(session: SessionPlan) -> tuple[str, ...]:
    """Of the gym floor."""
    floor = next(iter(session.versions.values()))
    return (*(line.movement for line in floor.strength), *(line.movement for line in floor.conditioning))


def _kept(week: Week | None, day: Day, part: str = "day") -> object:
    """What a lock keeps of a week; None where there is nothing."""
    session = next((s for s in week.sessions if s.day == day), None) if week else None
    if session is None or part == "day":
        return session
    return tuple(piece for piece in session.pieces if piece.kind == part)
