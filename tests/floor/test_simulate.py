"""The recursion over all runs against processes, closed forms and another library; its log recounted."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.domain.flow import FLOWS
from planner.domain.timing import TRANSITION_TENTHS
from planner.floor.outcome import outcome_of, summed
from planner.floor.piece import WALK_S, FloorPiece, class_of
from planner.floor.simulate import paces, play
from tests.floor.pieces import BAGS, ROWER, piece, rowing, station
from tests.floor.processes import played as by_processes

COUNTS = st.integers(1, 7)
SECONDS = st.integers(5, 120)


@st.composite
def any_pieces(draw: st.DrawFn) -> FloorPiece:
    """Two to four lines on machines and loads, in any flow of one heat, with any clock."""
    kinds = [
        lambda s: station("row", s, ROWER),
        lambda s: station("carry", s, BAGS[0], women=(BAGS[1],)),
        lambda s: station("rings", s, ("rings", None), ("rig", None)),
        lambda s: station("burpee", s),
    ]
    lines = [draw(st.sampled_from(kinds))(draw(SECONDS)) for _ in range(draw(st.integers(1, 4)))]
    if draw(st.booleans()):
        lines.append(station("skip", draw(SECONDS), spot="after_each"))
    if draw(st.booleans()):
        lines.insert(0, station("bike", draw(SECONDS), ("bike", None), spot="opening"))
    counts = {held: draw(COUNTS) for held in (ROWER, *BAGS, ("rings", None), ("rig", None), ("bike", None))}
    clock = draw(st.sampled_from([{}, {"end_s": 420}, {"slot_s": 60, "by_movement": True}, {"slot_s": 180}]))
    return piece(
        *lines,
        people=(draw(st.integers(1, 5)), draw(st.integers(0, 5))),
        counts=counts,
        turns=draw(st.integers(1, 4)),
        flow=draw(st.sampled_from([f for f in FLOWS if f != "heats"])),
        rest_s=draw(st.sampled_from([0, 30])),
        stretch_percent=draw(st.sampled_from([100, 112])),
        **clock,
    )


@settings(max_examples=60, deadline=None)
@given(any_pieces())
def test_the_recursion_does_what_processes_do(of: FloorPiece) -> None:
    athletes = class_of(of)
    pace = paces(2, len(athletes))

    run = play(of, pace=pace)

    for r in range(2):
        found = by_processes(of, athletes, list(pace[r]))
        for a, visits in enumerate(found):
            times = np.stack([run.ready[r, a], run.start[r, a], run.done[r, a]], axis=1)
            assert np.isfinite(times).all(axis=1).sum() == len(visits)
            assert times[: len(visits)] == pytest.approx(np.array(visits).reshape(-1, 3), abs=1e-4)


def held_spans(run, r: int) -> Iterator[tuple[tuple, float, float]]:
    """Which item is taken from when to when, by the log alone."""
    for a in run.athletes:
        for v, visit in enumerate(a.visits):
            if np.isfinite(run.start[r, a.number, v]):
                for held in run.piece.running.stations[visit.station].takes[a.group]:
                    yield held, run.start[r, a.number, v], run.done[r, a.number, v]


@settings(max_examples=40, deadline=None)
@given(any_pieces())
def test_no_item_is_over_its_count_at_any_second(of: FloorPiece) -> None:
    run = play(of, runs=2)

    for r in range(2):
        taken: dict = {}
        for held, start, done in held_spans(run, r):
            taken.setdefault(held, []).extend([(start, 1), (done, -1)])
        for held, moves in taken.items():
            most = here = 0
            for _, step in sorted((round(t, 6), step) for t, step in moves):
                here += step
                most = max(most, here)
            assert most <= of.counts.get(held, inf), held


def test_who_waits_for_nothing_takes_her_own_time() -> None:
    """The sum of all lines and ways, at the quick, the typical and the slow of the catalogue's range."""
    of = rowing(rowers=12, turns=4, stretch_percent=108)
    alone = 4 * (3 * 60 + 3 * TRANSITION_TENTHS / 10) * 1.08

    quick, typical, slow = outcome_of(of, runs=2000).finish_s or ()

    assert [quick, typical, slow] == pytest.approx([0.8 * alone, alone, 1.3 * alone], rel=0.01)
    assert outcome_of(of).longest_wait_s == 0


def test_turns_at_one_machine_in_a_fixed_order() -> None:
    """Six with one machine of 60 s and 60 s of other work: the machine never rests, and each waits its turn.

    Deterministic round-robin: with n at work of x and z elsewhere, ways included, a turn takes
    max(x + z, n x), so after m turns the last leaves it at n m x and has waited n x - (x + z) a turn.
    """
    n, m, x, z = 6, 5, 60.0, 65.0
    of = piece(
        station("row", x, ROWER),
        station("rest", z - 2 * WALK_S),
        people=(n, 0),
        counts={ROWER: 1},
        turns=m,
        flow="together",
    )

    run = play(of, pace=np.ones((1, n)))

    rows = run.done[0, :, 0::2]
    assert rows.max() == pytest.approx(WALK_S + n * m * x)
    later = (run.start - run.ready)[0, :, 2::2]
    assert later == pytest.approx(np.full(later.shape, n * x - (x + z)))


@pytest.mark.parametrize(("n", "c"), [(4, 1), (6, 2), (8, 3), (3, 2)])
def test_machine_repair_with_fixed_times(n: int, c: int) -> None:
    """N machines, c repairers, fixed times: in the long run each is repaired every max(x + z, n x / c)."""
    x, z, m = 50.0, 70.0, 60
    of = piece(
        station("repair", x, ROWER),
        station("run", z - 2 * WALK_S),
        people=(n, 0),
        counts={ROWER: c},
        turns=m,
        flow="together",
    )

    run = play(of, pace=np.ones((1, n)))

    starts = run.start[0, :, 0::2]
    cycle = (starts[:, 3 * m // 4] - starts[:, m // 4]) / (m // 2)
    assert cycle.mean() == pytest.approx(max(x + z, n * x / c), rel=0.01)


def test_another_library_queues_alike() -> None:
    """The same closed network in Ciw: rower, then two delays, twelve people; the rower's use and waits."""
    ciw = pytest.importorskip("ciw")
    n, c, x, z, m = 12, 4, 61.0, 127.0, 40
    way = [[1.0 if j == (i + 1) % 2 else 0.0 for j in range(2)] for i in range(2)]
    network = ciw.create_network(
        arrival_distributions=[ciw.dists.Sequential([0.001 * 1, *[0.001] * (n - 1), inf]), None],
        service_distributions=[ciw.dists.Deterministic(x), ciw.dists.Deterministic(z)],
        routing=[row[:] for row in way],
        number_of_servers=[c, inf],
    )
    other = ciw.Simulation(network)
    other.simulate_until_max_time(m * (x + z), progress_bar=False)
    theirs = sorted((r.arrival_date, r.waiting_time) for r in other.get_all_records() if r.node == 1)

    of = piece(
        station("row", x, ROWER),
        station("else", z - 2 * WALK_S),
        people=(n, 0),
        counts={ROWER: c},
        turns=m + 5,
        flow="together",
    )
    run = play(of, pace=np.ones((1, n)))
    ours = sorted(
        zip(run.ready[0, :, 0::2].ravel() - WALK_S, (run.start - run.ready)[0, :, 0::2].ravel(), strict=True)
    )[: len(theirs)]

    assert len(theirs) > n * m * 0.8
    assert [w for _, w in ours] == pytest.approx([w for _, w in theirs], abs=0.1)


def test_in_twos_the_partner_s_turn_is_no_wait() -> None:
    """Six sets for twelve: each waits for her partner alone; with five, two pairs are in each other's way."""
    assert outcome_of(rowing(rowers=6, flow="twos")).longest_wait_s == 0
    assert outcome_of(rowing(rowers=5, flow="twos")).longest_wait_s > 0


def test_in_twos_each_pair_has_a_bar_of_its_own_load() -> None:
    """Three pairs of each load, four bars of each: sets numbered unevenly made two pairs meet at one bar."""
    bars = ("barbell", 42.5), ("barbell", 27.5)
    line = station("clean", 20, bars[0], women=(bars[1],)), station("burpee", 20)
    of = piece(*line, counts={bars[0]: 4, bars[1]: 4}, flow="twos")
    run = play(of, runs=5)
    assert len({a.set_number for a in run.athletes}) == 6
    assert summed(run).longest_wait_s == 0


def test_heats_come_one_after_the_other() -> None:
    of = rowing(rowers=6, flow="heats", cap_s=1200)
    run = play(of, runs=5)
    heats = [[a.number for a in run.athletes if a.heat == h] for h in (0, 1)]

    first, second = (run.done[:, mine] for mine in heats)
    assert [len(h) for h in heats] == [6, 6]
    assert (
        run.start[:, heats[1]].min(axis=(1, 2)) > np.minimum(np.nanmax(first, axis=(1, 2)), 1200) + 60
    ).all()
    assert np.isfinite(second).any()
    assert summed(run).longest_wait_s == 0


def test_starts_one_by_one_are_half_a_minute_apart() -> None:
    run = play(rowing(flow="starts"), pace=np.ones((1, 12)))
    assert np.diff(run.begin[0]).tolist() == [30.0] * 11


def test_the_cap_and_the_clock_cut_it_off() -> None:
    capped = outcome_of(rowing(row_s=40, turns=4, cap_s=700))
    assert 0 < (capped.done_at_cap_percent or 0) < 100
    fixed = outcome_of(rowing(row_s=40, end_s=600))
    slow, typical, quick = fixed.rounds_tenths or ()
    assert fixed.finish_s is None
    assert slow < typical < quick


def test_a_slot_is_missed_by_who_waits_in_it() -> None:
    """Four at one machine with 35 s of work a minute cannot all be in time; at four machines they are."""
    line = station("row", 35, ROWER), station("burpee", 35), station("sit-up", 35)
    few = outcome_of(piece(*line, counts={ROWER: 1}, slot_s=60, by_movement=True, turns=3))
    enough = outcome_of(piece(*line, counts={ROWER: 4}, slot_s=60, by_movement=True, turns=3))
    assert (few.missed_percent or 0) > 20
    assert enough.missed_percent == 0.0


def test_the_same_seed_gives_the_same_times() -> None:
    one, other = (play(rowing(), runs=20) for _ in range(2))
    assert np.array_equal(one.done, other.done, equal_nan=True)
    assert not np.array_equal(one.done, play(rowing(), runs=20, seed=2).done, equal_nan=True)


def test_paces_are_those_of_the_catalogue() -> None:
    drawn = paces(4000, 12)
    assert np.percentile(drawn, [10, 50, 90]) == pytest.approx([0.8, 1.0, 1.3], rel=0.01)
