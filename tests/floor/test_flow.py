"""How a class runs a piece: what counts allow, and what items are asked for, worked out by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.domain.flow import WAIT_S, excess, flow_of, possible_flows, seconds_at_item, users_of
from planner.domain.gym import ClassShape
from planner.floor.outcome import outcome_of
from planner.floor.simulate import play
from tests.floor.pieces import BAGS, ROWER, piece, rowing, station

np = pytest.importorskip("numpy")
PEOPLE = (6, 6)


def test_several_lines_on_one_item_add_up_and_loads_are_told_apart() -> None:
    lines = (
        station("row", 50, ROWER),
        station("row again", 30, ROWER),
        station("carry", 20, BAGS[0], women=(BAGS[1],)),
    )
    of = piece(*lines).running
    assert seconds_at_item(of.stations, (7, 5)) == {ROWER: 12 * 800, BAGS[0]: 7 * 200, BAGS[1]: 5 * 200}
    assert users_of(of.stations, (7, 5)) == {ROWER: 12, BAGS[0]: 7, BAGS[1]: 5}


def test_four_rowers_for_twelve_are_asked_for_too_much_by_the_seconds_beyond_the_share() -> None:
    """Rows of 80 s in turns of 215 s: 240 of 215 s a rower, of which 70 % may be: 89.5 s, rounded up."""
    of = rowing(row_s=80).running
    assert of.turn_tenths == 2150
    assert excess(of, PEOPLE, {ROWER: 4}, "spread") == 90
    assert excess(of, PEOPLE, {ROWER: 12}, "spread") == 0
    assert excess(of, PEOPLE, {ROWER: 4}, "together") == 90 + 2 * 80 - WAIT_S


def test_one_each_is_enough_whatever_the_time() -> None:
    of = rowing(row_s=600).running
    assert {excess(of, PEOPLE, {ROWER: 12}, flow) for flow in possible_flows(of)} == {0}


@pytest.mark.parametrize(
    ("row_s", "rowers", "flow"),
    [(60, 12, "together"), (40, 4, "spread"), (60, 6, "spread"), (100, 6, "twos"), (100, 4, "heats")],
)
def test_the_simplest_flow_without_a_queue_is_taken(row_s: float, rowers: int, flow: str) -> None:
    of = rowing(row_s=row_s, rowers=rowers)
    assert flow_of(of.running, [PEOPLE], of.counts) == flow


@pytest.mark.parametrize(
    ("room_s", "flow"),
    [(3 * 1500 + 2 * 60, "heats"), (2 * 1500, "twos"), (1500, "spread")],
)
def test_a_flow_that_takes_longer_is_for_a_clock_that_has_the_time(room_s: int, flow: str) -> None:
    """Twelve people, two rowers, 25 minutes for the slow: heats take three times that and two changes."""
    of = rowing(row_s=100, rowers=2)
    assert flow_of(of.running, [PEOPLE], of.counts, 1500, room_s) == flow


def test_on_the_clock_there_are_no_heats_and_no_starts_one_by_one() -> None:
    slots = rowing(slot_s=60, by_movement=True).running
    assert possible_flows(slots) == ("spread", "together")
    assert "heats" not in possible_flows(rowing(end_s=600).running)


def test_halves_that_do_not_divide_are_tried_both_ways() -> None:
    """Thirteen people, bags for six men: only with seven of them is a bag short."""
    line = station("carry", 200, BAGS[0], women=(BAGS[1],)), station("burpee", 20)
    of = piece(*line).running
    bags = {BAGS[0]: 6, BAGS[1]: 7}
    assert excess(of, (6, 7), bags, "together") == 0
    assert excess(of, (7, 6), bags, "together") > 0
    assert flow_of(of, [(6, 7)], bags) == "together"
    assert flow_of(of, [(6, 7), (7, 6)], bags) != "together"


def test_the_mix_of_a_class() -> None:
    assert ClassShape(size=12, minutes=55).people == ((6, 6),)
    assert ClassShape(size=5, minutes=55).people == ((3, 2), (2, 3))
    own = ClassShape.model_validate({"size": 12, "minutes": 55, "mix": {"man": 9, "woman": 3}})
    assert own.people == ((9, 3),)
    assert own.of_size(8).people == ((6, 2),)
    with pytest.raises(ValueError, match="mix adds up to 11, and the class is 12"):
        ClassShape.model_validate({"size": 12, "minutes": 55, "mix": {"man": 9, "woman": 2}})


@settings(max_examples=40, deadline=None)
@given(
    st.integers(10, 90),
    st.integers(10, 90),
    st.integers(1, 4),
    st.integers(1, 8),
    st.sampled_from(["together", "spread", "starts"]),
)
def test_what_an_item_is_asked_for_is_a_lower_bound_of_the_last_finish(
    row_s: int, other_s: int, turns: int, rowers: int, flow
) -> None:
    """With all of the time for the item: people x seconds x turns / count, everybody at the typical pace."""
    lines = station("row", row_s, ROWER), station("burpee", other_s)
    of = piece(*lines, counts={ROWER: rowers}, turns=turns, flow=flow)
    run = play(of, pace=np.ones((1, 12)))
    asked = seconds_at_item(of.running.stations, PEOPLE)[ROWER] / 10
    assert np.nanmax(run.done) >= asked * turns / rowers - 1e-6


@pytest.mark.parametrize("rowers", [4, 6])
@pytest.mark.parametrize("flow", ["spread", "starts"])
def test_within_the_share_nobody_waits_long(rowers: int, flow) -> None:
    """A turn of three minutes whose row takes all of its share."""
    from planner.domain.flow import SHARE_PERCENT

    row_s = int(SHARE_PERCENT[flow] / 100 * rowers * 180 / 12)
    other = (180 - 15 - row_s) / 2
    lines = station("row", row_s, ROWER), station("burpee", other), station("sit-up", other)
    of = piece(*lines, counts={ROWER: rowers}, flow=flow)
    assert excess(of.running, PEOPLE, of.counts, flow) == 0
    assert outcome_of(of, runs=60).longest_wait_s <= WAIT_S
