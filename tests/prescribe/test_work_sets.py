"""Each work set with its own load; complexes, tempo, pauses, clusters, the clock, test days."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import Catalogue, Scheme, Setup
from planner.domain.clock import sets_seconds
from planner.domain.complexes import complex_of, lifted
from planner.domain.lifting import one_rm_kg
from planner.domain.plan import StrengthLine
from planner.domain.sets import ComplexPart, Sets, WorkSet
from planner.domain.week import Line
from planner.load.catalogue import load_catalogue
from planner.paths import home
from planner.prescribe.lines import Bench, strength_line
from planner.prescribe.loads import scheme_percents
from planner.prescribe.set_words import how_sets_run, rep_words, sets_title, tempo_words
from planner.prescribe.stock import Stock

from .builders import REFERENCE, gym, items, scheme, table

SHIPPED: Catalogue = load_catalogue(REFERENCE.parent / "catalogue")
NEW = [s for s in SHIPPED.schemes.values() if not s.drafted or s.family != "across"]
PERCENT_BY_REPS = {int(row["reps"]): int(row["pct_1rm"]) for row in table("percent_by_reps.csv")}


def bench(kit: str = "floor", catalogue: Catalogue = SHIPPED) -> Bench:
    place = gym()
    return Bench(
        catalogue, Stock(place, next(k for k in place.kits if k.id == kit), {**SHIPPED.items, **items()})
    )


def written(line: StrengthLine, kit: str = "floor", floor: StrengthLine | None = None) -> Line:
    return strength_line(line, floor or line, bench(kit))


def own(**work) -> Scheme:
    """A scheme of one's own, strength unless said."""
    made = scheme("own").model_dump() | {"work": work, "id": "own_test", "build_up": ()}
    return Scheme.model_validate(made)


def sets(*reps: int, **each) -> tuple[dict, ...]:
    return tuple({"reps": n, **each} for n in reps)


def lift(movement: str, scheme_id: str = "own_test", **more) -> StrengthLine:
    return StrengthLine(movement=movement, scheme=scheme_id, **more)


# Percent by reps ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("entry", NEW, ids=lambda s: s.id)
def test_no_set_asks_for_more_than_the_published_table_allows_once(entry: Scheme) -> None:
    for one, percent in zip(entry.work.sets, scheme_percents(entry), strict=True):
        in_one_go = max(entry.work.cluster, default=one.reps)
        assert percent <= PERCENT_BY_REPS[in_one_go], (one, percent)


def test_the_listed_schemes_are_all_there_and_drafts_take_what_comes_round() -> None:
    forms = {s.work.form for s in NEW}
    assert forms == {"across", "ascending", "waves", "back_off", "cluster", "find"}
    assert any(s.parts for s in NEW)
    assert any(s.work.every_s for s in NEW)
    assert any(s.work.tempo for s in NEW)
    assert any(s.work.pause_s for s in NEW)
    assert {s.work.most for s in NEW if s.work.form == "find"} == {1, 3}
    assert all(s.source for s in NEW)
    assert {s.family for s in NEW if s.drafted} == {"on_the_clock", "complex", "find"}
    assert not any(s.drafted for s in NEW if s.work.form == "find" and s.reps == 1), (
        "a test day is the coach's"
    )


@pytest.mark.parametrize(
    ("work", "percents"),
    [
        ({"sets": sets(5, 3, 1, reserve=0)}, (87, 93, 100)),
        ({"sets": sets(3, 5, 8, reserve=2)}, (87, 83, 75)),
        ({"sets": sets(3), "form": "find"}, (93,)),
        ({"sets": sets(1), "form": "find"}, (100,)),
        ({"sets": sets(6, 6, reserve=0), "form": "cluster", "cluster": (2, 2, 2)}, (95, 95)),
        ({"sets": (*sets(3, reserve=1), *sets(5, 5, percent=75)), "form": "back_off"}, (90, 75, 75)),
    ],
)
def test_percent_of_each_set_is_the_tables(work: dict, percents: tuple[float, ...]) -> None:
    """Rows 1 to 10 of the published chart: 100, 95, 93, 90, 87, 85, 83, 80, 77, 75."""
    assert scheme_percents(own(**work)) == percents


def test_a_heavy_set_that_is_only_called_so_is_reached_in_even_steps() -> None:
    """A heavy five leaves one: six reps are 85 percent; each set before it a twentieth of that less."""
    percents = scheme_percents(own(sets=sets(5, 5, 5), form="ascending"))
    assert percents == (pytest.approx(76.5), pytest.approx(80.8, abs=0.06), 85)


def test_each_wave_leaves_one_less_in_reserve() -> None:
    percents = scheme_percents(own(sets=sets(3, 2, 1, 3, 2, 1), form="waves"))
    assert percents == tuple(PERCENT_BY_REPS[n] for n in (6, 5, 4, 5, 4, 3))


def test_a_tier_alone_never_asks_for_more_than_its_reps_allow() -> None:
    assert scheme_percents(own(sets=sets(4, 4))) == (80, 80)
    assert scheme_percents(own(sets=sets(9, 9))) == (75, 75)


# Set by set --------------------------------------------------------------------------------------------


def test_waves_are_written_set_by_set_for_both_athletes() -> None:
    line = written(lift("back_squat", "waves_three_two_one"))
    shown = [(x.text, [load.text for load in x.loads]) for x in line.work_sets]
    # 120 and 80 kg: 80, 85, 90, 82, 87, 92 percent, down to what pairs of 1.25 kg make.
    assert shown == [
        ("3 reps", ["95 kg", "62.5 kg"]),
        ("2 reps", ["100 kg", "67.5 kg"]),
        ("1 rep", ["107.5 kg", "70 kg"]),
        ("3 reps", ["97.5 kg", "65 kg"]),
        ("2 reps", ["102.5 kg", "67.5 kg"]),
        ("1 rep", ["110 kg", "72.5 kg"]),
    ]
    assert line.dose.text == "3-2-1-3-2-1 reps"
    assert (line.sets, line.total) == (6, 12)
    assert [load.kg for load in line.loads] == [110, 72.5]


def test_back_off_sets_that_are_alike_are_one_row() -> None:
    line = written(lift("back_squat", "heavy_three_back_off"))
    assert [(x.sets, x.reps) for x in line.work_sets] == [(1, 3), (3, 5)]
    assert line.work_sets[0].reserve == 1
    heavy, lighter = ([load.kg for load in x.loads] for x in line.work_sets)
    assert all(a > b for a, b in zip(heavy, lighter, strict=True))


def test_sets_across_are_said_once() -> None:
    line = written(lift("back_squat", "five_by_five"))
    assert not line.work_sets
    assert (line.sets, line.dose.text) == (5, "5 reps")


def test_loads_that_the_coach_named_are_hers_on_the_gym_floor() -> None:
    work = {"sets": (*sets(5, kg=(60, 40)), *sets(3, kg=(70, 45)), *sets(1, kg=(81, 50)))}
    line = written(lift("back_squat", own=own(**work)))
    assert [[load.kg for load in x.loads] for x in line.work_sets] == [[60, 40], [70, 45], [81, 50]]
    assert "nearest to 81 kg at hand is 80 kg" in line.how.lower()


def test_named_loads_are_not_meant_for_a_stand_in() -> None:
    floor = lift("back_squat", own=own(sets=sets(5, 5)), kg=(50, 35))
    other = written(floor.model_copy(update={"movement": "front_squat"}), "home_barbell", floor)
    assert [x.kg for x in written(floor).loads] == [50, 35]
    assert all(load.kg > kg for load, kg in zip(other.loads, (50, 35), strict=True))


# Complexes ---------------------------------------------------------------------------------------------


def test_a_complex_is_limited_by_its_weakest_lift() -> None:
    """Clean and jerk 90 and 60, front squat 102.5 and 67.5: the clean's or the jerk's share is the least."""
    entry = SHIPPED.schemes["complex_clean_squats_jerk"]
    whole = lifted(SHIPPED.movements["clean"], entry, SHIPPED.movements)
    for athlete in gym().athletes:
        best = [one_rm_kg(SHIPPED.movements[p.movement], athlete) for p in entry.parts]
        assert one_rm_kg(whole, athlete) == min(x for x in best if x is not None)
    line = written(lift("clean", entry.id))
    # Clean, front squat and push jerk: of the man's 90 and 102.5 the jerk's share is the least.
    shares = {p.movement: SHIPPED.movements[p.movement].lift for p in entry.parts}
    best = {name: gym().athletes[0].lifts[x.of] * x.percent / 100 for name, x in shares.items() if x}
    least = min(best, key=best.get)
    assert line.loads[0].kg <= best[least] * 0.75 < line.loads[0].kg + 2.5
    assert line.name == "clean + 2 front squats + push jerk"
    assert f"The weakest lift sets the load: {SHIPPED.movements[least].name}." in line.how


def test_whose_front_squat_is_weak_goes_by_it() -> None:
    weak = gym().athletes[0].model_copy(update={"lifts": {**gym().athletes[0].lifts, "front_squat": 60.0}})
    parts = SHIPPED.schemes["complex_clean_squats_jerk"].parts
    assert one_rm_kg(complex_of(parts, SHIPPED.movements), weak) == 60


def test_a_complex_draws_on_what_its_parts_do_by_reps() -> None:
    parts = (ComplexPart(movement="clean"), ComplexPart(movement="front_squat", reps=3))
    whole, clean, squat = (
        complex_of(parts, SHIPPED.movements),
        *map(SHIPPED.movements.get, ("clean", "front_squat")),
    )
    assert sum(whole.patterns.values()) == 100
    assert whole.main_pattern == "squat"
    assert abs(whole.share_of("squat") - (clean.share_of("squat") + 3 * squat.share_of("squat")) / 4) < 3
    assert set(whole.prepares) == {*clean.prepares, *squat.prepares}


def test_one_part_done_once_is_no_complex() -> None:
    assert complex_of((ComplexPart(movement="clean"),), SHIPPED.movements) is SHIPPED.movements["clean"]


def test_a_stand_in_for_a_complex_is_one_movement() -> None:
    entry = SHIPPED.schemes["complex_clean_squats_jerk"]
    other = SHIPPED.movements["air_squat"]
    assert lifted(other, entry, SHIPPED.movements) is other


# Time --------------------------------------------------------------------------------------------------


def test_tempo_seconds_are_on_the_clock() -> None:
    """Three down, one at the bottom, as fast as can be, one at the top: six seconds a rep."""
    plain, slow = own(sets=sets(5, 5), rest_s=60), own(sets=sets(5, 5), rest_s=60, tempo="3101")
    assert sets_seconds(plain) == 2 * 5 * 3 + 60
    assert sets_seconds(slow) == 2 * 5 * 6 + 60


def test_pauses_cluster_rests_and_the_clock_count() -> None:
    assert sets_seconds(own(sets=sets(5, 5), rest_s=60, pause_s=2)) == 2 * 5 * (3 + 2) + 60
    cluster = own(sets=sets(6, 6), rest_s=60, form="cluster", cluster=(2, 2, 2), within_s=15)
    assert sets_seconds(cluster) == 2 * (6 * 3 + 2 * 15) + 60
    assert sets_seconds(own(sets=sets(*[2] * 8), every_s=90)) == 8 * 90


def test_a_complex_takes_as_long_as_its_parts() -> None:
    entry = own(sets=sets(2, 2), rest_s=60)
    whole = entry.model_copy(
        update={"parts": (ComplexPart(movement="clean"), ComplexPart(movement="jerk", reps=3))}
    )
    assert sets_seconds(whole) == 2 * 2 * 4 * 3 + 60


def test_a_heavy_set_is_tried_three_times() -> None:
    entry = own(sets=sets(3), rest_s=180, form="find")
    assert sets_seconds(entry) == 3 * 3 * 3 + 2 * 180


# Words -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("tempo", "words"),
    [
        (
            "3101",
            "three seconds down, one second at the bottom, up as fast as you can, one second at the top",
        ),
        ("4020", "four seconds down, no stop at the bottom, two seconds up, no stop at the top"),
        (
            "0000",
            "down without holding back, no stop at the bottom, up as fast as you can, no stop at the top",
        ),
    ],
)
def test_tempo_is_said_in_words(tempo: str, words: str) -> None:
    assert tempo_words(tempo) == words
    assert rep_words(Sets(sets=(WorkSet(reps=5),), tempo=tempo)) == (f"Tempo {'-'.join(tempo)}: {words}.",)


@pytest.mark.parametrize(
    ("work", "title"),
    [
        ({"sets": sets(3, 3, 3)}, "Three sets of three across"),
        ({"sets": sets(5, 5, 5), "form": "ascending"}, "Three sets, up to a heavy five"),
        ({"sets": sets(3, 2, 1), "form": "ascending"}, "3-2-1, up to a heavy single"),
        ({"sets": sets(3, 5, 5), "form": "back_off"}, "A heavy three, then two lighter sets of five"),
        ({"sets": sets(2, 2), "every_s": 60}, "Two sets of two, one every minute"),
        ({"sets": sets(2, 2), "every_s": 150}, "Two sets of two, one every 2:30"),
        ({"sets": sets(1), "form": "find"}, "Find a heavy single"),
        ({"sets": sets(30, 30), "unit": "seconds"}, "Two sets of 30 seconds"),
        ({"sets": sets(10, 8, 6)}, "Sets of 10-8-6"),
    ],
)
def test_titles_say_how_many_and_how(work: dict, title: str) -> None:
    assert sets_title(Sets.model_validate(work)) == title


def test_a_test_day_says_how_to_build_when_to_stop_and_who_decides() -> None:
    line = written(lift("back_squat", "find_one_rm"))
    entry = SHIPPED.schemes["find_one_rm"]
    assert "tries" in how_sets_run(entry)
    assert line.build_up.count(" at ") == len(entry.build_up)
    said = " ".join(line.cautions)
    assert "spotter" in said
    assert "first miss" in said
    assert "coach may end it" in said
    assert "get away from the bar" in " ".join(written(lift("clean", "find_one_rm")).cautions)
    assert (line.sets, line.dose.text) == (None, "heavy single")


def test_on_the_clock_there_is_no_rest_to_print() -> None:
    line = written(lift("power_clean", "every_90_doubles"))
    assert line.rest_s is None
    assert line.terms == ("a set every 1:30",)
    assert "A set starts every 90 seconds" in how_sets_run(SHIPPED.schemes["every_90_doubles"])


def test_from_the_floor_is_heeded_where_the_coach_says_so() -> None:
    assert written(lift("front_squat", "three_by_five")).start == "from the rack"
    assert written(lift("front_squat", "three_by_five", start="floor")).start == "from the floor"


def test_setups_of_a_complex_have_what_every_part_needs() -> None:
    parts = (ComplexPart(movement="front_squat"), ComplexPart(movement="push_jerk"))
    whole = complex_of(parts, SHIPPED.movements)
    assert [s.needs for s in whole.setups] == [s.needs for s in SHIPPED.movements["front_squat"].setups]
    assert all(isinstance(s, Setup) for s in whole.setups)
    assert home().shared.is_dir()
