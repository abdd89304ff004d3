"""How a conditioning piece runs: a catalogue's shape, or what follows from a coach's own composition."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile
from math import ceil
from typing import Any

from planner.domain.at_hand import items_for, usable_setup
from planner.domain.catalogue import Catalogue, Clock, Format, Mark, Movement, Scheme, Shape, TimeDomain
from planner.domain.clock import ALONE, Turns, blocks_of, frame_of, lifts_minutes
from planner.domain.complexes import lifted
from planner.domain.gym import Gym
from planner.domain.line import LinePiece, turns_at
from planner.domain.plan import ConditioningLine, PiecePlan, SessionPlan, StrengthLine, scheme_of_line
from planner.domain.timing import (
    SLOW_PERCENT,
    TimedLine,
    dose_tenths,
    piece_seconds,
    round_tenths,
    session_rating,
)
from planner.domain.words import clock, spelt
from planner.domain.written import Composition

NEAR_PERCENT = (67, 150)
"""A kit version keeps the numbers as long as its time is within so much of the floor's; common practice."""
AS_LONG_S = 1200
"""What a piece without an end is taken to last at most, seconds; our choice."""
MOST_RUNGS, MINUTE_S = 60, 60
USUAL_EFFORT = 4
"""Of a piece of which the catalogue does not say how hard it is."""
PEOPLE = {1: "", 2: "in pairs", 3: "in threes"}


def timed_line(line: ConditioningLine, movement: Movement) -> TimedLine:
    """A line with its movement."""
    return TimedLine(movement, line.dose, line.tier, line.spot, line.numbers)


def timed_lines(lines: Sequence[ConditioningLine], catalogue: Catalogue) -> list[TimedLine]:
    """Lines with their movements looked up; those that the catalogue does not have are left out."""
    known = catalogue.movements
    return [timed_line(x, known[x.movement]) for x in lines if x.movement in known]


def near(taken: int) -> tuple[int, int]:
    """The least and the most that is near a time, both in its unit."""
    low, high = NEAR_PERCENT
    return taken * low // 100, -(-taken * high // 100)


def shape_of(piece: PiecePlan, catalogue: Catalogue) -> Shape | None:
    """How a piece runs, by the first of its versions; None where the catalogue has no such shape."""
    if piece.composition is None:
        return catalogue.shapes.get(piece.shape)
    floor = [x for x in next(iter(piece.versions.values())) if isinstance(x, ConditioningLine)]
    return composed(piece.composition, floor, catalogue)


@dataclass(frozen=True, slots=True)
class DayFacts:
    """What a day comes to, whatever its lines are with one kit or another.

    Attributes:
        shapes: how each piece runs; None for one of sets and reps.
        schemes: those of each piece's lines; empty for one with a clock.
        pieces: kind and minutes of each piece.
        shape: how the first piece with a clock runs.
        rating: expected rating of the session.
        minutes: on the class clock.
    """

    shapes: tuple[Shape | None, ...]
    schemes: tuple[tuple[tuple[Scheme, bool], ...], ...]
    pieces: tuple[tuple[str, int], ...]
    shape: Shape | None
    rating: int
    minutes: int


def day_facts(session: SessionPlan, catalogue: Catalogue, gym: Gym) -> DayFacts:
    """What a day comes to by its gym floor; what the catalogue does not have is left out.

    Args:
        session: the day.
        catalogue: movements, schemes, formats.
        gym: its class, and what lifts are shared for.
    """
    shapes = tuple(None if p.lifts else shape_of(p, catalogue) for p in session.pieces)
    lifts_of = [tuple(_lifts(p, catalogue, gym)) if p.lifts else () for p in session.pieces]
    schemes = tuple(tuple((scheme, beside) for scheme, beside, _ in lifts) for lifts in lifts_of)
    minutes = [
        lifts_minutes([x[:2] for x in lifts], [x[2] for x in lifts], paired=p.paired)
        if lifts
        else (shape.cap_minutes if shape else 0)
        for p, lifts, shape in zip(session.pieces, lifts_of, shapes, strict=True)
    ]
    strength = [
        x for p, own in zip(session.pieces, schemes, strict=True) if p.kind == "strength" for x in own
    ]
    main = max((s for s, beside in strength if not beside), key=lambda s: s.effort, default=None)
    running = [s for s in shapes if s is not None]
    hardest = max(running, key=lambda s: s.effort, default=None)
    further = len(session.pieces) - (main is not None) - (hardest is not None)
    pieces = tuple((p.kind, m) for p, m in zip(session.pieces, minutes, strict=True))
    return DayFacts(
        shapes,
        schemes,
        pieces,
        running[0] if running else None,
        session_rating(main, hardest, further),
        sum(length for _, length in blocks_of(pieces, frame_of(gym.class_.minutes))),
    )


def _lifts(piece: PiecePlan, catalogue: Catalogue, gym: Gym) -> Iterator[tuple[Scheme, bool, Turns]]:
    """Each lift of the gym floor: its scheme, whether it is done beside another, and how it is shared."""
    for line in next(iter(piece.versions.values())):
        scheme = scheme_of_line(line, catalogue) if isinstance(line, StrengthLine) else None
        if scheme is None or not isinstance(line, StrengthLine):
            continue
        kind: LinePiece = "assistance" if line.assistance or piece.kind == "skill" else "main"
        known, turns = catalogue.movements.get(line.movement), ALONE
        if known is not None:
            movement = lifted(known, scheme, catalogue.movements)
            setup = usable_setup(movement, items_for(gym, gym.kits[0], kind), kind) or movement.setups[0]
            turns = turns_at(gym, setup.needs, movement)
        yield scheme, line.assistance or line.paired, turns


def composed(c: Composition, lines: Sequence[ConditioningLine], catalogue: Catalogue) -> Shape:
    """What follows from a composition and its lines: time domain, length, effort, title.

    Args:
        c: the composition.
        lines: on the gym floor.
        catalogue: movements, time domains and formats.
    """
    timed = timed_lines(lines, catalogue)
    form = format_of(c, lines, catalogue)
    spots = {spot: sum(x.spot == spot for x in lines) for spot in ("opening", "after_each", "closing")}
    ladder = rungs_of(c, timed)
    lap = Shape(
        id="by_hand",
        format=form.id,
        rounds=1,
        movements=max(1, len(lines)),
        domain="medium",
        window_tenths=(0, 0),
        cap_minutes=1,
        effort=0,
        stations=len(lines) > 1,
        ladder=ladder,
        title=title_of(c, len(lines)),
        laps=1,
        rest_s=0 if c.clock == "work_rest" else c.rest_s,
        people=c.people,
        sharing=c.sharing,
        cap_s=c.cap_s,
        **spots,
    )
    laps = _laps(c, lap, timed)
    whole = lap.model_copy(update={"laps": laps})
    taken = round_tenths(timed, whole)
    domain = _domain(c, whole, taken, catalogue)
    seconds = length_s(c, whole, taken, domain)
    ends = c.clock in {"fixed", "every", "work_rest"}
    slot = _slot_s(c)
    return whole.model_copy(
        update={
            "domain": domain.id,
            "effort": form.efforts.get(domain.id, USUAL_EFFORT),
            "window_tenths": near(taken),
            "fixed_minutes": ceil(seconds / 60) if ends else None,
            "cap_minutes": max(
                1, min(60, ceil((c.cap_s or (seconds if ends else seconds * SLOW_PERCENT / 100)) / 60))
            ),
            "every_s": slot if slot and not c.by_movement else None,
            "station_s": (1, slot) if slot and c.by_movement else None,
            "slot_s": slot or 60,
        }
    )


def composition_of(shape: Shape, catalogue: Catalogue) -> Composition:
    """A catalogue's shape as a coach says it; how many rounds are expected, and heats, are not said."""
    form = catalogue.formats[shape.format]
    who: dict[str, Any] = {"people": shape.people, "sharing": shape.sharing}
    if shape.station_s is not None:
        return Composition(clock="every", every_s=shape.slot_s, by_movement=True, rounds=shape.rounds, **who)
    if shape.every_s is not None:
        return Composition(clock="every", every_s=shape.every_s, rounds=shape.rounds, **who)
    if shape.fixed_minutes is not None:
        return Composition(clock="fixed", seconds=shape.fixed_minutes * 60, **who)
    rounds = shape.laps or (shape.rounds if shape.rounds > 1 or form.body == "rounds" else None)
    return Composition(clock="for_time", rounds=None if shape.ladder else rounds, ladder=shape.ladder, **who)


def marks_of(c: Composition, lines: Sequence[ConditioningLine]) -> frozenset[Mark]:
    """What sets a composition apart."""
    spots = {x.spot for x in lines}
    found: dict[Mark, bool] = {
        "once_before": "opening" in spots,
        "between": "after_each" in spots,
        "once_after": "closing" in spots,
        "together": c.people > 1,
        "single": len(lines) == 1,
        "climbing": c.grows is not None or (len(c.ladder) > 1 and c.ladder[0] < c.ladder[-1]),
    }
    return frozenset(mark for mark, there in found.items() if there)


def format_of(c: Composition, lines: Sequence[ConditioningLine], catalogue: Catalogue) -> Format:
    """The format of the catalogue that a composition is of: of those that fit, the one with most marks."""
    marks = marks_of(c, lines)
    body = (
        "ladder"
        if len(c.ladder) > 1 or c.grows is not None
        else ("once" if c.rounds in {None, 1} else "rounds")
    )
    fitting = [
        f
        for f in catalogue.formats.values()
        if f.clock == c.clock
        and f.by_movement in {c.by_movement, False}
        and f.body in {"any", body}
        and f.marks <= marks
    ]
    fitting.sort(key=lambda f: -len(f.marks))
    same = [f for f in fitting if f.by_movement == c.by_movement]
    every = list(catalogue.formats.values())
    return (same or fitting or [f for f in every if f.clock == c.clock and not f.marks] or every)[0]


def rungs_of(c: Composition, timed: Sequence[TimedLine]) -> tuple[int, ...]:
    """The number of every turn line in each round; of growing numbers, those that most get to."""
    if c.grows is None:
        return c.ladder
    length = c.seconds or (c.cap_s or AS_LONG_S)
    turn = [x for x in timed if x.spot == "turn"]

    def tenths(rung: int) -> int:
        grown = c.ladder[0] + (c.grows or 0) * rung
        own = ((x, x.numbers[min(rung, len(x.numbers) - 1)] if x.numbers else grown) for x in turn)
        return sum(dose_tenths(x.movement, number, x.tier) for x, number in own)

    def reached(rungs: int) -> bool:
        if c.every_s:
            return tenths(rungs - 1) <= c.every_s * 10
        return sum(map(tenths, range(rungs))) <= length * 10

    most = sum(1 for _ in takewhile(reached, range(1, MOST_RUNGS)))
    return tuple(c.ladder[0] + c.grows * i for i in range(max(2, most)))


def _laps(c: Composition, lap: Shape, timed: Sequence[TimedLine]) -> int:
    """How often the turn lines are gone through; where the clock ends it, by a typical athlete."""
    numbers = max((len(x.numbers) for x in timed), default=0)
    if lap.ladder or numbers:
        return max(len(lap.ladder), numbers)
    if c.rounds is not None:
        return c.rounds
    if c.clock == "for_time":
        return 1
    length = c.seconds if c.clock == "fixed" else (c.cap_s or AS_LONG_S)
    once = [x for x in timed if x.spot in {"opening", "closing"}]
    turn = [x for x in timed if x.spot not in {"opening", "closing"}]
    bare = lap.model_copy(update={"movements": max(1, len(turn)), "opening": 0, "closing": 0})
    before = round_tenths(once, lap.model_copy(update={"movements": len(once)})) if once else 0
    each = round_tenths(turn, bare) + 10 * c.rest_s
    return max(1, min(100, round(((length or AS_LONG_S) * 10 - before) / max(1, each))))


def _domain(c: Composition, shape: Shape, taken: int, catalogue: Catalogue) -> TimeDomain:
    """The domain that the predicted working time falls in; the longest where it is longer than any."""
    domains = sorted(catalogue.domains.values(), key=_ends)
    return next((d for d in domains if length_s(c, shape, taken, d) <= _ends(d)), domains[-1])


def _ends(domain: TimeDomain) -> int:
    return domain.up_to or domain.seconds[1]


def length_s(c: Composition, shape: Shape, taken: int, domain: TimeDomain) -> int:
    """How long a composition lasts for a typical athlete, seconds, rests included."""
    if c.clock == "fixed":
        return c.seconds or AS_LONG_S
    slot = _slot_s(c)
    if slot:
        slots = shape.turn_lines + len(c.rest_slots) if c.by_movement else 1
        return slot * shape.turns * slots + shape.rest_s * (shape.turns - 1)
    return piece_seconds(taken, shape, domain)


def _slot_s(c: Composition) -> int:
    """Seconds from one start to the next, where the clock says when to start."""
    return c.every_s or ((c.seconds or 0) + c.rest_s if c.clock == "work_rest" else 0)


def title_of(c: Composition, movements: int) -> str:
    """A composition as a title: "3 rounds for time", "Every 2:00, 5 times, in pairs"."""
    return ", ".join(x for x in (_body_title(c, movements), PEOPLE[c.people]) if x)


def _body_title(c: Composition, movements: int) -> str:
    numbers = "-".join(map(str, c.ladder))
    if c.grows:
        numbers += f"-{c.ladder[0] + c.grows}-{c.ladder[0] + 2 * c.grows} and so on"
    return _TITLES[c.clock](c, numbers, movements)


def _for_time(c: Composition, numbers: str, movements: int) -> str:
    if numbers:
        return f"{numbers} for time"
    if c.rounds is not None and c.rounds > 1:
        return f"{c.rounds} rounds for time"
    return f"Once through, for time ({movements} movements)" if movements > 1 else "Once, for time"


def _fixed(c: Composition, numbers: str, _movements: int) -> str:
    seconds = c.seconds or 0
    length = clock(seconds) if seconds % 60 else f"{seconds // 60} minutes"
    return f"{length}, {numbers or 'as many rounds as possible'}"


def _every(c: Composition, numbers: str, movements: int) -> str:
    slot = "Every minute" if c.every_s == MINUTE_S else f"Every {clock(c.every_s or 0)}"
    if numbers or c.rounds is None:
        return f"{slot}, {numbers or 'for as long as you can'}"
    if c.by_movement and movements + len(c.rest_slots) > 1:
        times = c.rounds * (movements + len(c.rest_slots))
        return f"{slot}, {times} times: {_in_turn(movements, len(c.rest_slots))} in turn"
    return f"{slot}, {c.rounds} times"


def _in_turn(movements: int, rests: int) -> str:
    rest = f" and {'a' if rests == 1 else spelt(rests)} rest{'s' * (rests > 1)}" if rests else ""
    return f"{spelt(movements)} movement{'s' * (movements > 1)}{rest}"


def _work_rest(c: Composition, _numbers: str, _movements: int) -> str:
    rounds = f", {c.rounds} rounds" if c.rounds else ""
    return f"{clock(c.seconds or 0)} work, {clock(c.rest_s)} rest{rounds}"


def _as_long(_c: Composition, numbers: str, _movements: int) -> str:
    return f"{numbers or 'Rounds'}, for as long as you can"


_TITLES: dict[Clock, Callable[[Composition, str, int], str]] = {
    "for_time": _for_time,
    "fixed": _fixed,
    "every": _every,
    "work_rest": _work_rest,
    "as_long": _as_long,
}
