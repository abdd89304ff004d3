"""Drills that cover the day, and sentences that a coach would write."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import Takes
from planner.domain.week import DrillLine
from planner.domain.words import clock, listed, spelt
from planner.prescribe import sentences
from planner.prescribe.warm_up import PHASES, cool_down, empty_bar, warm_up

from .builders import drills, lift, movement, movements, table

NEEDS = ("pulse", "hips", "knees", "ankles", "shoulders", "trunk", "landing")
ALL = movements()


def chosen(turn: int = 0, needs: tuple[str, ...] = NEEDS) -> tuple[DrillLine, ...]:
    return warm_up(drills().values(), needs, turn)


@pytest.mark.parametrize("turn", range(6))
def test_phases_in_order_within_the_time(turn: int) -> None:
    lines = chosen(turn)
    order = [PHASES.index(line.phase) for line in lines]
    assert order == sorted(order)
    assert 0 < sum(line.seconds for line in lines) <= 9 * 60
    assert set(NEEDS) <= {p for line in lines for p in line.prepares}
    assert len({line.drill for line in lines}) == len(lines)


def test_the_empty_bar_comes_last_and_in_the_time() -> None:
    primer = empty_bar("front squat", ("hips", "knees"), 9)
    assert primer is not None
    lines = warm_up(drills().values(), NEEDS, 0, primer=primer)
    assert lines[-1].name == "front squat with the empty bar"
    assert len(lines) <= 6 + 1
    assert sum(line.seconds + 15 for line in lines) <= 9 * 60
    assert empty_bar("front squat", ("hips",), 5) is None


def test_no_drill_needs_equipment() -> None:
    assert all(line.drill != "easy_row" for turn in range(20) for line in chosen(turn))


def test_drills_take_turns() -> None:
    assert len({chosen(turn) for turn in range(6)}) > 1


def test_the_same_day_gives_the_same_warm_up() -> None:
    assert chosen(3) == chosen(3)


def test_cool_down_is_calm_and_short() -> None:
    lines = cool_down(drills().values(), ("hips", "calves"), 1)
    assert {line.drill for line in lines} >= {"hip_stretch", "calf_stretch"}
    assert sum(line.seconds for line in lines) <= 4 * 60


def test_nothing_to_choose_from() -> None:
    assert warm_up((), NEEDS, 0) == cool_down((), NEEDS, 0) == ()


@pytest.mark.parametrize(
    ("args", "text"),
    [
        ((20, "reps"), "20 reps"),
        ((1, "reps"), "1 rep"),
        ((10, "reps", "per_side"), "10 each side"),
        ((30, "seconds", "per_side"), "30 seconds each side"),
        ((20, "reps", "alternating"), "20 reps, alternating"),
        ((400, "metres"), "400 m"),
        ((12, "calories"), "12 calories"),
        ((40, "seconds"), "40 seconds"),
        ((45, "reps", "both", (21, 15, 9)), "21-15-9"),
        ((45, "calories", "both", (21, 15, 9)), "21-15-9 calories"),
    ],
)
def test_doses(args: tuple, text: str) -> None:
    assert sentences.dose_text(*args) == text


def test_masses() -> None:
    assert [sentences.kg_text(kg) for kg in (20, 42.5, 1.25, 100)] == ["20", "42.5", "1.25", "100"]
    assert sentences.load_text("dumbbell_pair", "pair of dumbbells", 15) == "2 x 15 kg"
    assert sentences.load_text("kettlebell", "kettlebell", 24) == "24 kg kettlebell"


def test_rating_anchors() -> None:
    for row in table("cr10_scale.csv"):
        if row["anchor"]:
            assert sentences.rating_words(int(row["rating"])) == row["anchor"]
    assert sentences.rating_words(6) == "between hard and very hard"
    assert sentences.rating_words(9) == "between very hard and maximal"


def test_too_heavy_overhead_means_the_same_bar_on_the_shoulders_or_half_the_reps() -> None:
    lunges = {
        i: lift(i, "snatch", 75, takes=Takes(overhead=2)) for i in ("overhead_lunge", "front_rack_lunge")
    }
    text = sentences.too_heavy(lunges["overhead_lunge"], 11, lunges, shared_bar=True)
    assert text == (
        "Too heavy overhead? Do front rack lunges with the same bar, or fewer reps, not fewer than 6."
    )


def test_half_the_dose_is_the_least() -> None:
    row = movement("carry", unit="metres")
    assert (
        sentences.too_heavy(row, 30, ALL)
        == "Too heavy? Take the next lighter load, or do less, not less than 15 m."
    )
    assert (
        sentences.too_heavy(ALL["swing"], 15, ALL, lighter=False)
        == "Too heavy? Do fewer reps, not fewer than 8."
    )


def test_strength_advice() -> None:
    assert sentences.strength_advice("clean", 67, None) == (
        "Use 67 % of your best clean if you know it. If speed or form goes, take weight off."
    )
    assert sentences.strength_advice("clean", None, 1).startswith("Finish each set with one rep in reserve")
    assert "no rep in reserve" in sentences.strength_advice("clean", None, 0)


def test_small_words() -> None:
    assert listed(("a", "b", "c")) == "a, b and c"
    assert listed(()) == ""
    assert clock(545) == "9:05"
    assert sentences.rounds_text(50) == "5"
    assert (spelt(12), spelt(13)) == ("twelve", "13")
