"""Sessions by chance: every field of the value, and every movement, scheme and kit that is shipped."""

from __future__ import annotations

from typing import Any, get_args

from hypothesis import strategies as st

from planner.domain.base import Unit
from planner.domain.catalogue import Clock, Tier
from planner.domain.flow import FLOWS
from planner.domain.gym import DAYS
from planner.domain.sets import ComplexPart, SetForm, Sets, WorkSet
from planner.domain.written import (
    SPOTS,
    Composition,
    Result,
    WrittenConditioning,
    WrittenDrills,
    WrittenLift,
    WrittenLine,
    WrittenSession,
    WrittenStrength,
)
from tests.language.names import shipped

TEXT = st.text(st.characters(codec="utf-8", categories=["L", "M", "N", "P", "S", "Zs"]), max_size=12)
NOTES = (
    TEXT | st.sampled_from(["rest 2:00", "note: a", "3 rounds for time", "a) b (", "Wednesday", "@ 40 kg"])
).map(lambda text: " ".join(text.split()))
DRILLS = (
    NOTES
    | st.sampled_from(
        ["- 10 inchworms", "1. hang", "strength: heavy", "drill: a", "note: b", "Monday", "No kit"]
    )
).filter(bool)
NUMBERS = st.integers(1, 5000)
SECONDS = st.integers(1, 7200)
MASS = st.integers(1, 1000).map(lambda quarters: quarters / 2) | st.sampled_from([0.1 + 0.2, 1e-5, 22.675])
KG = st.none() | st.tuples(MASS, MASS)
TIERS = st.none() | st.sampled_from(get_args(Tier))
STARTS = st.none() | st.sampled_from(["rack", "floor"])
MOVEMENTS = st.sampled_from(sorted(shipped().movements))
SCHEMES = st.none() | st.sampled_from(sorted(shipped().schemes))


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


@st.composite
def compositions(draw: st.DrawFn, movements: int) -> Composition:
    """How a piece of so many movements a turn runs; of its times up to two are for rest."""
    clock = draw(st.sampled_from(get_args(Clock)))
    by_movement = draw(st.booleans()) if clock in {"every", "work_rest"} else False
    rests = draw(st.integers(0, 2)) if by_movement else 0
    slots = st.integers(1, max(1, movements + rests))
    people = draw(st.integers(1, 3))
    grows = draw(maybe(st.integers(1, 100)))
    ladder = st.lists(NUMBERS, min_size=1, max_size=1) if grows else st.lists(NUMBERS, max_size=5)
    return Composition(
        clock=clock,
        seconds=draw(SECONDS) if clock in {"fixed", "work_rest"} else None,
        rest_s=draw(st.integers(0, 1800)),
        every_s=draw(SECONDS) if clock == "every" else None,
        by_movement=by_movement,
        rest_slots=tuple(sorted(draw(st.sets(slots, min_size=rests, max_size=rests)))),
        rounds=draw(maybe(st.integers(1, 100))),
        ladder=tuple(draw(ladder)),
        grows=grows,
        people=people,
        sharing=draw(st.sampled_from(["shared", "in_turn", "mirrored"])) if people > 1 else "alone",
        cap_s=draw(maybe(SECONDS)) if clock in {"for_time", "as_long"} else None,
        result=draw(maybe(st.sampled_from(get_args(Result)))),
        flow=draw(maybe(st.sampled_from(FLOWS))),
    )


@st.composite
def lines(draw: st.DrawFn) -> WrittenLine:
    dose = draw(maybe(NUMBERS))
    most = None if dose else draw(maybe(SECONDS))
    return WrittenLine(
        movement=draw(MOVEMENTS),
        spot=draw(st.sampled_from(SPOTS)),
        dose=dose,
        numbers=() if dose or most else tuple(draw(st.lists(NUMBERS, max_size=3))),
        most_s=most,
        tier=draw(TIERS),
        kg=draw(KG),
        start=draw(STARTS),
        note=draw(NOTES),
    )


@st.composite
def conditioning(draw: st.DrawFn) -> WrittenConditioning:
    done = tuple(draw(st.lists(lines(), min_size=1, max_size=3)))
    return WrittenConditioning(
        kind=draw(st.sampled_from(["conditioning", "finisher"])),
        composition=draw(compositions(sum(line.spot == "turn" for line in done))),
        lines=done,
        note=draw(NOTES),
    )


@st.composite
def sets(draw: st.DrawFn) -> Sets:
    form = draw(st.sampled_from(get_args(SetForm)))
    cluster = tuple(draw(st.lists(st.integers(1, 50), min_size=2, max_size=4))) if form == "cluster" else ()
    reps = st.just(sum(cluster)) if cluster else NUMBERS
    said = {"percent": maybe(st.integers(20, 110)), "reserve": maybe(st.integers(0, 8)), "kg": KG}
    one = st.builds(WorkSet, reps=reps, **said)
    if form not in {"cluster", "find"}:
        ends = st.lists(NUMBERS, min_size=2, max_size=2, unique=True).map(sorted)
        one |= st.builds(lambda x, **of: WorkSet(least=x[0], reps=x[1], **of), ends, **said)
    many = draw(st.lists(one, min_size=1, max_size=1 if form == "find" else 4))
    if form != "find" and draw(st.booleans()):
        many = many[:1] * draw(st.integers(1, 30))
    rest = draw(maybe(st.integers(0, 900)))
    return Sets(
        sets=tuple(many),
        form=form,
        unit=draw(st.sampled_from(get_args(Unit))),
        rest_s=rest,
        every_s=draw(maybe(st.integers(10, 900))) if rest is None else None,
        tempo=draw(st.sampled_from(["", "3110", "0000", "9999"])),
        pause_s=draw(maybe(st.integers(1, 20))),
        cluster=cluster,
        within_s=draw(maybe(st.integers(1, 120))),
        people=draw(st.integers(1, 3)),
    )


PLAIN = st.builds(
    lambda n, reps, rest: Sets(sets=(WorkSet(reps=reps),) * n, rest_s=rest),
    st.integers(3, 6), st.sampled_from([3, 5, 6, 8]), st.sampled_from([None, 45, 60, 90, 120, 135]),
)  # fmt: skip
PRACTICE = st.builds(lambda seconds: Sets(sets=(WorkSet(reps=1),), practice_s=seconds), st.integers(30, 3600))


def lifts(of: st.SearchStrategy[Sets]) -> st.SearchStrategy[tuple[WrittenLift, ...]]:
    parts = st.builds(ComplexPart, movement=MOVEMENTS, reps=st.integers(1, 9) | NUMBERS)
    return st.lists(
        st.builds(
            WrittenLift,
            parts=st.lists(parts, min_size=1, max_size=4).map(tuple),
            sets=of,
            scheme=SCHEMES,
            kg=KG,
            tier=TIERS,
            start=STARTS,
            note=NOTES,
        ),
        min_size=1,
        max_size=2,
    ).map(tuple)


PIECES = (
    st.builds(WrittenStrength, lifts=lifts(sets() | PLAIN), paired=st.booleans(), note=NOTES)
    | st.builds(
        WrittenStrength,
        kind=st.just("skill"),
        lifts=lifts(sets() | PLAIN | PRACTICE),
        paired=st.booleans(),
        note=NOTES,
    )
    | conditioning()
    | st.builds(
        WrittenDrills,
        kind=st.sampled_from(["warm_up", "cool_down"]),
        minutes=maybe(st.integers(1, 60)),
        drills=st.lists(DRILLS, max_size=2).map(tuple),
        note=NOTES,
    )
)
SESSIONS = st.builds(
    WrittenSession,
    day=st.sampled_from(DAYS),
    pieces=st.lists(PIECES, max_size=2).map(tuple),
    versions=st.dictionaries(
        st.sampled_from(list(shipped().kits)[1:]), st.lists(PIECES, max_size=1).map(tuple), max_size=1
    ),
    notes=st.lists(NOTES.filter(bool), max_size=2).map(tuple),
)
