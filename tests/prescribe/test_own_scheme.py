"""Lifts as a coach writes them: to the scheme of the catalogue, or to one of her own, and back."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from planner.domain.catalogue import Catalogue, Scheme
from planner.domain.clock import sets_seconds
from planner.domain.plan import scheme_of_line
from planner.domain.sets import ComplexPart, Sets, WorkSet
from planner.domain.written import WrittenLift
from planner.errors import DataError
from planner.load.catalogue import load_catalogue
from planner.prescribe.lines import Bench, strength_line
from planner.prescribe.loads import scheme_percents
from planner.prescribe.own_scheme import effort_of, lift_of, line_of, scheme_of, tier_of
from planner.prescribe.stock import Stock

from .builders import REFERENCE, gym, items

SHIPPED: Catalogue = load_catalogue(REFERENCE.parent / "catalogue")
RATED = [s for s in SHIPPED.schemes.values() if s.goal not in {"assistance", "skill"}]


def lift(movement: str = "back_squat", *, sets: tuple[WorkSet, ...], **more) -> WrittenLift:
    work = {key: more.pop(key) for key in tuple(more) if key in Sets.model_fields}
    return WrittenLift(parts=(ComplexPart(movement=movement),), sets=Sets(sets=sets, **work), **more)


def across(count: int, reps: int, **each) -> tuple[WorkSet, ...]:
    return (WorkSet(reps=reps, **each),) * count


@pytest.mark.parametrize("entry", RATED, ids=lambda s: s.id)
def test_the_yardstick_is_that_of_the_shipped_schemes(entry: Scheme) -> None:
    assert tier_of(entry.work) == entry.tier
    assert effort_of(entry.work, entry.tier, entry.goal) == entry.effort


@pytest.mark.parametrize("entry", SHIPPED.schemes.values(), ids=lambda s: s.id)
def test_a_shipped_scheme_that_is_written_out_is_found_again(entry: Scheme) -> None:
    movement = next(
        m for m in SHIPPED.movements.values() if entry.goal in m.goals or entry.goal == "assistance"
    )
    parts = entry.parts or (ComplexPart(movement=movement.id),)
    written = WrittenLift(parts=parts, sets=entry.work, scheme=entry.id)
    line = line_of(written, SHIPPED, assistance=entry.goal == "assistance")
    assert (line.scheme, line.own) == (entry.id, None)
    assert lift_of(line, SHIPPED) == written


@pytest.mark.parametrize(
    ("written", "found"),
    [
        (lift(sets=across(4, 6), rest_s=120), "four_by_six"),
        (lift(sets=across(4, 6)), "four_by_six"),
        (lift(sets=across(5, 3)), "five_by_three"),
        (lift(sets=across(3, 6)), "three_by_six"),
        (lift("clean", sets=across(5, 3)), "power_five_by_three"),
        (lift(sets=across(5, 5), tier="heavy"), "five_by_five"),
        (lift(sets=across(3, 6), tier="light", scheme="three_by_six_slow"), "three_by_six_slow"),
        (lift(sets=across(4, 6), kg=(60, 40)), "four_by_six"),
    ],
)
def test_what_is_left_open_is_the_catalogues(written: WrittenLift, found: str) -> None:
    line = line_of(written, SHIPPED)
    assert (line.scheme, line.own, line.kg) == (found, None, written.kg)


@pytest.mark.parametrize(
    ("written", "id_"),
    [
        (lift(sets=across(5, 4)), "own_5x4_across"),
        (lift(sets=across(4, 6), rest_s=240), "own_4x6_across_rest_240"),
        (lift(sets=across(4, 6), tier="heavy"), "own_4x6_across_heavy"),
        (lift(sets=across(3, 6), tier="light"), "own_3x6_across_light"),
        (lift(sets=across(4, 6), tempo="5151"), "own_4x6_across_tempo_5151"),
        (lift(sets=across(8, 2, percent=75), every_s=60), "own_8x2_across_percent_75_every_60"),
        (lift(sets=across(5, 5, kg=(62.5, 40))), "own_5x5_across_kg_62p5_40"),
    ],
)
def test_what_says_something_else_is_her_own(written: WrittenLift, id_: str) -> None:
    line = line_of(written, SHIPPED)
    assert line.scheme == id_
    assert line.own is not None
    assert scheme_of_line(line, SHIPPED) is line.own


@pytest.mark.parametrize(
    ("written", "tier", "effort"),
    [
        (lift(sets=across(5, 4)), "heavy", 3),
        (lift(sets=across(5, 4, percent=72)), "moderate", 2),
        (lift(sets=across(5, 4, percent=60)), "light", 1),
        (lift(sets=across(2, 4, percent=85)), "heavy", 2),
        (lift(sets=across(3, 15)), "light", 1),
        (lift(sets=across(1, 2), form="find"), "heavy", 3),
    ],
)
def test_an_own_scheme_is_as_heavy_as_it_says(written: WrittenLift, tier: str, effort: int) -> None:
    made = scheme_of(written, SHIPPED)
    assert (made.tier, made.effort, made.drafted) == (tier, effort, False)


def test_a_movement_that_nobody_knows_is_named() -> None:
    with pytest.raises(DataError, match='no movement "flying_squat"'):
        scheme_of(lift("flying_squat", sets=across(5, 5)), SHIPPED)


some = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])

# Any lift ----------------------------------------------------------------------------------------------

KG = st.tuples(*[st.sampled_from([20.0, 42.5, 61.25, 100.0])] * 2)
WORK_SETS = st.builds(
    WorkSet,
    reps=st.integers(1, 20),
    percent=st.none() | st.integers(30, 100),
    reserve=st.none() | st.integers(0, 5),
    kg=st.none() | KG,
)


@st.composite
def any_sets(draw: st.DrawFn) -> Sets:
    form = draw(st.sampled_from(["across", "ascending", "waves", "back_off", "cluster", "find"]))
    count = 1 if form == "find" else draw(st.integers(1, 6))
    alike = form in {"across", "cluster"} and draw(st.booleans())
    sets = (draw(WORK_SETS),) * count if alike else tuple(draw(WORK_SETS) for _ in range(count))
    clock = draw(st.sampled_from([{}, {"rest_s": 90}, {"every_s": 90}]))
    cluster = {"cluster": (2, 2), "within_s": draw(st.none() | st.just(15))} if form == "cluster" else {}
    if cluster:
        sets = tuple(one.model_copy(update={"reps": sum(cluster["cluster"])}) for one in sets)
    return Sets(
        sets=sets,
        form=form,
        tempo=draw(st.sampled_from(["", "3101"])),
        pause_s=draw(st.none() | st.just(2)),
        people=draw(st.integers(1, 3)),
        **clock,
        **cluster,
    )


@st.composite
def any_lift(draw: st.DrawFn) -> WrittenLift:
    several = draw(st.booleans())
    names = st.sampled_from(["power_clean", "front_squat", "push_jerk", "push_press", "deadlift"])
    parts = st.builds(ComplexPart, movement=names, reps=st.integers(1, 3))
    one = st.builds(ComplexPart, movement=names)
    return WrittenLift(
        parts=tuple(draw(st.lists(parts, min_size=2, max_size=4))) if several else (draw(one),),
        sets=draw(any_sets()),
        kg=draw(st.none() | KG),
        tier=draw(st.sampled_from([None, "light", "moderate", "heavy"])),
        start=draw(st.sampled_from([None, "floor", "rack"])),
        note=draw(st.sampled_from(["", "elbows up"])),
    )


@some
@given(any_lift())
def test_any_lift_comes_back_as_it_was_written(written: WrittenLift) -> None:
    line = line_of(written, SHIPPED)
    assume(line.own is not None)
    assert lift_of(line, SHIPPED) == written


@some
@given(any_lift(), any_lift())
def test_other_sets_have_another_id(one: WrittenLift, other: WrittenLift) -> None:
    first, second = (scheme_of(x, SHIPPED) for x in (one, other))
    if (one.sets, one.tier, first.parts) == (other.sets, other.tier, second.parts):
        assert first.id == second.id
    elif first.id.startswith("own") or second.id.startswith("own"):
        assert first.id != second.id


@some
@given(any_lift())
def test_any_lift_can_be_written_out(written: WrittenLift) -> None:
    """Every set has a load for both, none above what its percent asks for; total and time are the sets'."""
    line = line_of(written, SHIPPED)
    scheme = scheme_of_line(line, SHIPPED)
    assert scheme is not None
    kit = gym().kits[0]
    out = strength_line(line, line, Bench(SHIPPED, Stock(gym(), kit, {**SHIPPED.items, **items()})))
    assert sets_seconds(scheme) > 0
    assert len(scheme_percents(scheme)) == len(written.sets.sets)
    if out.work_sets:
        assert sum(x.sets for x in out.work_sets) == len(written.sets.sets)
        assert sum(x.sets * x.reps for x in out.work_sets) == out.total
        assert all(len(x.loads) == 2 for x in out.work_sets)
        assert [load.kg for load in out.loads] == [
            max(x.loads[i].kg for x in out.work_sets) for i in range(2)
        ]


def test_a_complex_of_her_own_says_so_and_is_built_up_in_ones_and_twos() -> None:
    parts = (ComplexPart(movement="power_clean"), ComplexPart(movement="front_squat", reps=2))
    made = scheme_of(WrittenLift(parts=parts, sets=Sets(sets=across(5, 1), rest_s=120)), SHIPPED)
    assert made.name == "Complex: five sets"
    assert made.parts == parts
    assert {reps for _, reps in made.build_up} <= {1, 2}
