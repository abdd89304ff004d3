"""Edges of prescription: what is least, what counts for one athlete alone, where time ends."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import Catalogue, Drill, LoadLimit, Takes
from planner.domain.clock import COOL_DOWN, WARM_UP
from planner.domain.lifting import conditioning_target_kg
from planner.domain.plan import Plan
from planner.prescribe.estimators import spread_kg
from planner.prescribe.lines import Bench, strength_line
from planner.prescribe.loads import conditioning_loads, strength_load
from planner.prescribe.member_loads import member_load, week_cards
from planner.prescribe.one_rm import one_rm_kg
from planner.prescribe.percent import percent_for, percent_of_1rm
from planner.prescribe.sentences import OVERHEAD
from planner.prescribe.stock import Stock
from planner.prescribe.warm_up import cool_down, warm_up
from planner.prescribe.week_load import change_percent, last_weeks, week_load
from planner.prescribe.write_out import write_out
from tests.plans import with_versions
from tests.solve.demo import shipped

from .builders import FLOOR, StrengthLine, catalogue, gym, movements, plan, proof, scheme, version

GYM, ALL = gym(), movements()
MAN, WOMAN = GYM.athletes
WEEK = write_out(plan(), catalogue(), GYM, rules=(), proof=proof(), history=(), inputs_digest="")


def stock(kit: int = 0, **inventory) -> Stock:
    own = gym(inventory={**GYM.inventory, **inventory})
    return Stock(own, own.kits[kit], catalogue().items)


# Loads --------------------------------------------------------------------------------------------------


def test_no_set_is_so_long_that_less_than_two_fifths_are_asked_for() -> None:
    assert [percent_of_1rm(reps) for reps in (39, 40, 41, 60)] == [41, 40, 40, 40]
    assert percent_for(38, 4) == 40


@pytest.mark.parametrize("turned", [False, True])
def test_of_two_ceilings_on_one_bar_the_lower_counts(turned: bool) -> None:
    """Three quarters of 40 % of a clean and jerk of 90 kg are 27 kg, of which 25 can be made."""
    setups = [
        FLOOR.model_copy(update={"limit": LoadLimit(of="clean_and_jerk", percent=p, because="x")})
        for p in (50, 40)
    ]
    lines = [(ALL["back_squat"], setups[0], "heavy"), (ALL["front_squat"], setups[1], "heavy")]
    loads = conditioning_loads(lines[::-1] if turned else lines, stock(), MAN)
    assert [x.kg for x in loads if x] == [25, 25]


def test_a_tier_is_less_of_a_deadlift_than_of_other_lifts() -> None:
    assert conditioning_target_kg(ALL["deadlift"], "barbell", "light", MAN) == pytest.approx(0.45 * 145)
    assert conditioning_target_kg(ALL["back_squat"], "barbell", "light", MAN) == pytest.approx(0.57 * 120)


def test_off_the_bar_the_usual_mass_comes_before_a_share_of_a_lift() -> None:
    both = ALL["deadlift"].model_copy(update={"kg": {"light": (24, 16)}})
    assert conditioning_target_kg(both, "kettlebell", "light", WOMAN) == 16
    assert conditioning_target_kg(both, "barbell", "light", WOMAN) == pytest.approx(0.45 * 97.5)


def test_rounding_is_no_shortage_however_small_the_load() -> None:
    """13 kg are asked for: 11 are near enough, 10 are not."""
    light, press = scheme(tier="light"), ALL["two_presses"]
    short = {
        kg: strength_load(press, press.setups[0], light, stock(dumbbell_pair={kg: 3}), MAN) for kg in (10, 11)
    }
    assert {kg: x.short for kg, x in short.items()} == {10: True, 11: False}


def test_a_mass_of_which_there_is_none_is_not_chosen() -> None:
    held = stock(kettlebell={12: 1, 16: 0, 24: 6})
    (load,) = conditioning_loads([(ALL["swing"], ALL["swing"].setups[0], "light")], held, MAN)
    assert load is not None
    assert load.kg == 12


def test_a_bar_comes_before_its_plates_in_whatever_order_they_are_named() -> None:
    assert stock().implement(("plate", "rack", "barbell")) == "barbell"
    assert stock().implement(("rack", "plate")) == "plate"
    assert stock().implement(("rack",)) is None


def test_what_one_athlete_cannot_have_makes_the_scheme_another_for_both() -> None:
    """Plates for 72.5 kg on the man's bar are too few for his 102, and enough for her 68."""
    held = stock(plate={20: 2, 5: 2, 1.25: 2})
    of = scheme(tier="heavy")
    rack = ALL["back_squat"].setups[0]
    assert [strength_load(ALL["back_squat"], rack, of, held, a).short for a in (MAN, WOMAN)] == [True, False]

    line = StrengthLine(movement="back_squat", scheme=of.id)
    written = strength_line(line, line, Bench(catalogue(), held))

    assert of.limited_reps == 9
    assert written.dose.value == 4, "her 85 percent are a load for six, and two stay undone"
    assert written.reserve is None


def test_what_is_the_floors_own_movement_stands_for_nothing() -> None:
    for session in WEEK.sessions:
        for piece in session.pieces:
            floor = piece.versions["floor"].lines if piece.versions else ()
            for v in piece.versions.values():
                for own, line in zip(floor, v.lines, strict=True):
                    same = line.movement == own.movement
                    assert line.stands_for == ("" if same else own.name)


# One member ---------------------------------------------------------------------------------------------


def test_an_empty_bar_of_just_the_load_is_not_too_heavy() -> None:
    by_percent = {p: member_load(100, p, GYM, (20,)).bars[0].too_heavy for p in (19, 20, 21)}
    assert by_percent == {19: True, 20: False, 21: False}


def test_the_lowest_estimate_is_rounded_down() -> None:
    rounded_up = 0
    for kg in range(40, 160, 7):
        for reps in range(2, 11):
            exact, said = spread_kg(kg, reps)[0], one_rm_kg(reps, kg)[0]
            assert said - 1e-9 <= exact < said + 0.1 + 1e-9
            rounded_up += round(exact, 1) > exact
    assert rounded_up > 20


def test_a_card_goes_from_below_the_lighter_to_above_the_heavier() -> None:
    for card in week_cards(WEEK, GYM, catalogue()):
        line = next(x for s in WEEK.sessions for p in s.pieces if p.kind == "strength"
                    for x in p.versions["floor"].lines if x.name == card.lift)  # fmt: skip
        best = [100 * x.kg / (x.percent_1rm or 100) for x in line.loads]
        assert card.rows[0].one_rm_kg <= 0.6 * min(best) < card.rows[1].one_rm_kg
        assert card.rows[-1].one_rm_kg >= 1.3 * max(best) > card.rows[-2].one_rm_kg


# The week's load ----------------------------------------------------------------------------------------


def test_the_weeks_before_are_those_before_the_newest_first() -> None:
    history = [
        WEEK.model_copy(update={"week": w, "load": WEEK.load.model_copy(update={"week_au": au})})
        for w, au in (("2026-W44", 5), ("2026-W47", 400), ("2026-W49", 9), ("2026-W45", 100), ("2026-W50", 7),
                      ("2026-W48", 300), ("2026-W46", 200))
    ]  # fmt: skip
    assert [w.week for w in last_weeks("2026-W49", history)] == [f"2026-W{n}" for n in (48, 47, 46, 45)]
    load = week_load("2026-W49", WEEK.sessions, history)
    assert load.last_weeks_au == (300, 400, 200, 100)
    assert load.change_percent == round(100 * (load.week_au - 250) / 250)
    assert change_percent(500, (100, 300)) == 150


def test_very_hard_begins_at_seven() -> None:
    minutes = {
        rating: week_load("2026-W49", [s.model_copy(update={"rating": rating}) for s in WEEK.sessions], ())
        for rating in (6, 7)
    }
    conditioning = sum(p.minutes for s in WEEK.sessions for p in s.pieces if p.kind == "conditioning")
    assert (minutes[6].vigorous_minutes, minutes[7].vigorous_minutes) == (0, conditioning)
    assert minutes[6].moderate_minutes == minutes[7].moderate_minutes + conditioning


# Warm-up and cool-down ----------------------------------------------------------------------------------


@pytest.mark.parametrize("turn", range(6))
def test_drills_keep_to_their_minutes_and_only_calm_ones_end_a_class(turn: int) -> None:
    drills = shipped()[0].drills
    needs = ("hips", "shoulders", "ankles", "trunk", "wrists", "grip")
    first = warm_up(drills.values(), needs, turn)
    last = cool_down(drills.values(), needs, turn)

    assert 3 < len(first) <= 6
    assert 0.5 * WARM_UP * 60 <= sum(x.seconds + 15 for x in first) <= WARM_UP * 60
    assert 0.6 * COOL_DOWN * 60 <= sum(x.seconds for x in last) <= COOL_DOWN * 60
    assert all(drills[x.drill].calm for x in last)
    assert not any(drills[x.drill].calm or drills[x.drill].needs for x in first)


def test_what_would_cover_more_but_excites_does_not_end_a_class() -> None:
    made = [
        Drill(id=i, name=i, phase="mobilise", prepares=w, dose="10", seconds=60, calm=calm)
        for i, w, calm in (("hops", ("hips", "ankles", "knees"), False), ("stretch", ("hips",), True))
    ]
    assert [x.drill for x in cool_down(made, ("hips", "ankles", "knees"), 0)] == ["stretch"]


# The room -----------------------------------------------------------------------------------------------


def set_up(size: int, **changes) -> str:
    """How a class of some size is set out for rowing, squats with a bar, and burpees."""
    own = gym(**{"class": {"size": size, "minutes": 55}})
    lines = (("row", 120, "open"), ("front_squat", 10, "light"), ("burpee", 10, "open"))
    day = plan().sessions[0]
    floor = version((("back_squat", False),), lines)
    made = with_versions(day, {"floor": floor})
    written = write_out(
        Plan(week="2026-W49", sessions=(made,)),
        known_shapes(**changes),
        own.model_copy(update={"kits": own.kits[:1]}),
        rules=(), proof=proof(), history=(), inputs_digest="",
    )  # fmt: skip
    return " ".join(text for p in written.sessions[0].pieces for text in (p.class_flow, *p.floor_setup))


def known_shapes(**changes) -> Catalogue:
    made = catalogue()
    form = made.formats["rounds_for_time"]
    shapes = tuple(s.model_copy(update=changes) for s in form.shapes)
    formats = {**made.formats, form.id: form.model_copy(update={"shapes": shapes})}
    return made.model_copy(update={"formats": formats})


def test_where_a_class_does_not_divide_there_is_room_for_the_last() -> None:
    """11 over four racks, 7 over three movements, 9 in two heats."""
    assert "Four racks, three to a rack" in set_up(11)
    assert "Spread out over the three movements, three to each" in set_up(7)
    assert "Two heats of five" in set_up(9, heats=2, stations=False)


@pytest.mark.parametrize("lines", [1, 2])
def test_two_lines_overhead_are_much(lines: int) -> None:
    """A line is one; with two the day says what to watch."""
    names = ("press", "jerk")[:lines]
    made = catalogue()
    push, much = made.movements["push_press"], Takes(overhead=2)
    both = {n: push.model_copy(update={"id": n, "takes": much}) for n in ("press", "jerk")}
    known = made.model_copy(update={"movements": {**made.movements, **both}})
    chosen = [(n, 9, "light") for n in names] + [("air_squat", 9, "open"), ("deadlift", 9, "light")][
        : 3 - lines
    ]
    floor = version((("back_squat", False),), tuple(chosen))
    day = with_versions(plan().sessions[0], {"floor": floor})
    own = GYM.model_copy(update={"kits": GYM.kits[:1]})
    written = write_out(Plan(week="2026-W49", sessions=(day,)), known, own, rules=(), proof=proof(),
                        history=(), inputs_digest="")  # fmt: skip
    assert (OVERHEAD in written.sessions[0].cautions) == (lines == 2)
