"""Facts of the trade against the shipped catalogue and code: common practice, without a publication.

Checked elsewhere on the same grounds, and not again here:

- one bar for three lifts with each kit that has a bar: ``tests/prescribe/test_demo_gym.py``; here a piece
  with such a bar is written out as a member reads it
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from planner.domain.at_hand import held_items, items_for, usable_setup
from planner.domain.catalogue import Catalogue, Movement
from planner.domain.gym import Gym
from planner.domain.plan import Plan, SessionPlan
from planner.domain.timing import round_tenths
from planner.domain.week import Line, Piece, Week
from planner.paths import home
from planner.prescribe.sentences import too_heavy
from planner.prescribe.write_out import write_out
from planner.problem.candidates import dose_suits, plain_dose, suits
from planner.problem.options import STRENGTH
from tests.prescribe.builders import proof, version

ONE_BAR = ("front_squat", "push_press", "power_snatch")
BAR_KITS = ("floor", "home_barbell")


@cache
def _written(catalogue_json: str, gym_json: str) -> Week:
    catalogue, gym = Catalogue.model_validate_json(catalogue_json), Gym.model_validate_json(gym_json)
    lines = version((("strict_press", False),), tuple((name, 8, "light") for name in ONE_BAR))
    press = lines.strength[0].model_copy(update={"scheme": "five_by_five"})
    session = SessionPlan(
        day="fri",
        shape="rounds_for_time_3_of_3_medium",
        versions=dict.fromkeys(BAR_KITS, lines.model_copy(update={"strength": (press,)})),
    )
    plan = Plan(week="2026-W49", sessions=(session,))
    own = gym.model_copy(update={"kits": tuple(k for k in gym.kits if k.id in BAR_KITS)})
    return write_out(plan, catalogue, own, rules=(), proof=proof(), history=(), inputs_digest="0" * 64)


@pytest.fixture
def one_bar(catalogue: Catalogue, gym: Gym) -> Week:
    """Fives across, then three rounds of eight front squats, push presses and power snatches for time."""
    return _written(catalogue.model_dump_json(), gym.model_dump_json(by_alias=True))


def pieces(week: Week, kind: str) -> list[Piece]:
    return [piece for session in week.sessions for piece in session.pieces if piece.kind == kind]


# -- The bar -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kit", BAR_KITS)
def test_one_light_bar_does_the_piece(one_bar: Week, kit: str) -> None:
    """The power snatch sets it: 0.88 of snatches of 70 kg and 47.5 kg, and of that what is light."""
    piece = pieces(one_bar, "conditioning")[0]
    made = piece.versions[kit]
    assert piece.rounds == 3
    assert [line.total for line in made.lines] == [24, 24, 24]
    assert [[load.kg for load in line.loads] for line in made.lines] == [[35, 25]] * 3
    assert "One bar for front squat, push press and power snatch: 35 kg / 25 kg." in made.note


def test_the_catalogue_lets_a_coach_ask_for_three_eights(catalogue: Catalogue) -> None:
    assert all(catalogue.movements[name].cap >= 24 for name in ONE_BAR)


@pytest.mark.parametrize(("overhead", "shoulders"), [("overhead_lunge", "front_rack_lunge")])
def test_too_heavy_overhead_means_the_same_bar_on_the_shoulders(
    catalogue: Catalogue, overhead: str, shoulders: str
) -> None:
    known = catalogue.movements
    said = too_heavy(known[overhead], 16, known, shared_bar=True)
    assert known[overhead].easier[0].to == shoulders
    assert said == (
        f"Too heavy overhead? Do {known[shoulders].name}s with the same bar, or fewer reps, not fewer than 8."
    )


def test_fives_across_are_one_weight_built_up_to(catalogue: Catalogue, one_bar: Week) -> None:
    scheme = catalogue.schemes["five_by_five"]
    assert (scheme.sets, scheme.reps, scheme.across, scheme.tier) == (5, 5, True, "heavy")
    assert scheme.build_up
    assert all(percent < 100 for percent, _ in scheme.build_up)
    assert "across: one weight" in scheme.say
    line = pieces(one_bar, "strength")[0].versions["floor"].lines[0]
    assert (line.sets, line.dose.value, line.total) == (5, 5, 25)
    assert len(line.loads) == 2, "one load for each athlete, whatever the set"
    assert line.build_up.startswith("build up: ")
    steps = [float(kg) for kg in re.findall(r"at ([\d.]+) kg /", line.build_up)]
    assert steps == sorted(steps)
    assert steps[-1] < line.loads[0].kg


# -- Rack and floor ----------------------------------------------------------------------------------------


def racked(catalogue: Catalogue) -> list[Movement]:
    """Barbell movements that can start from a rack."""
    every = catalogue.movements.values()
    return [m for m in every if any(s.start == "rack" and "barbell" in s.needs for s in m.setups)]


def test_from_the_rack_in_strength_from_the_floor_in_conditioning(catalogue: Catalogue, gym: Gym) -> None:
    floor = gym.kits[0]
    assert len(racked(catalogue)) >= 15
    for movement in racked(catalogue):
        strength = usable_setup(movement, items_for(gym, floor, "main"), "main")
        assert strength is not None
        assert strength.start == "rack", movement.id
        conditioning = usable_setup(movement, items_for(gym, floor, "conditioning"), "conditioning")
        assert conditioning is None or conditioning.start == "floor", movement.id
        assert conditioning is not None or "conditioning" not in movement.all_roles, movement.id


def test_with_no_rack_always_from_the_floor(catalogue: Catalogue, gym: Gym) -> None:
    """And then it says how the bar gets there, and carries the limit of that way."""
    held = held_items(gym, gym.kits[1])
    assert "barbell" in held
    assert "rack" not in held
    for movement in racked(catalogue):
        for piece in ("main", "assistance", "conditioning"):
            setup = usable_setup(movement, held, piece)
            assert setup is None or (setup.start, bool(setup.how)) == ("floor", True), movement.id


def in_order(text: str, *words: str) -> bool:
    """Whether all words stand in the text, one after the other."""
    return re.search(".*".join(map(re.escape, words)), text, re.IGNORECASE) is not None


def test_no_rack_the_bar_is_cleaned_before_it_is_squatted(catalogue: Catalogue, gym: Gym) -> None:
    held = held_items(gym, gym.kits[1])
    setup = usable_setup(catalogue.movements["front_squat"], held, "main")
    assert setup is not None
    assert in_order(setup.how, "clean", "then squat")
    assert setup.limit is not None
    assert setup.limit.of == "clean_and_jerk"


@pytest.mark.parametrize("movement", ["back_squat", "pause_back_squat"])
def test_no_rack_the_bar_was_cleaned_and_put_overhead(catalogue: Catalogue, movement: str) -> None:
    setup = next(s for s in catalogue.movements[movement].setups if "rack" not in s.needs)
    assert in_order(setup.how, "clean", "overhead", "back")
    assert setup.limit is not None


@pytest.mark.slow
def test_the_drafted_week_takes_the_bar_from_where_it_is(drafted: Week) -> None:
    for piece in pieces(drafted, "conditioning"):
        starts = {line.start for made in piece.versions.values() for line in made.lines}
        assert "from the rack" not in starts
    starts = [x.start for p in pieces(drafted, "strength") for x in p.versions["home_barbell"].lines]
    assert "from the rack" not in starts


# -- Standards ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("movement", ["kettlebell_snatch", "plate_one_arm_snatch"])
def test_kettlebell_and_plate_snatch_stay_off_the_floor(catalogue: Catalogue, movement: str) -> None:
    snatch = catalogue.movements[movement]
    assert snatch.sides == "per_side"
    assert "does not touch the floor" in snatch.standard
    assert "all reps on one arm first" in snatch.standard


def test_dumbbell_snatch_touches_the_floor_and_alternates(catalogue: Catalogue) -> None:
    snatch = catalogue.movements["dumbbell_snatch"]
    assert snatch.sides == "alternating"
    assert in_order(snatch.standard, "touches the floor", "change arms each rep")
    assert "not touch" not in snatch.standard


def test_there_is_no_other_one_handed_snatch(catalogue: Catalogue) -> None:
    """A new one has to be added to the two tests above."""
    snatches = [m for m in catalogue.movements.values() if "snatch" in m.id]
    loose = {m.id for m in snatches if "barbell" not in m.setups[0].needs}
    assert loose == {"kettlebell_snatch", "plate_one_arm_snatch", "dumbbell_snatch"}


@pytest.mark.parametrize(
    ("movement", "words"),
    [
        ("push_up", ("chest touches the floor", "thighs do not")),
        ("jump_lunge", ("back knee touches the floor each time",)),
        ("squat_jump", ("full squat", "then a small jump")),
        ("plate_squat_jump", ("full squat", "then a small jump")),
        ("hang_power_clean", ("from the top of the knee to the shoulders",)),
        ("overhead_lunge", ("elbows locked throughout",)),
        ("plate_overhead_squat", ("elbows locked", "throughout")),
    ],
)
def test_what_counts_as_a_rep(catalogue: Catalogue, movement: str, words: tuple[str, ...]) -> None:
    assert in_order(catalogue.movements[movement].standard, *words)


def test_the_easier_push_up_is_from_the_knees(catalogue: Catalogue) -> None:
    nearest = catalogue.movements["push_up"].easier[0]
    assert (nearest.to, nearest.how) == ("knee_push_up", "from the knees")
    assert "Knees on the floor" in catalogue.movements["knee_push_up"].standard


def test_a_class_is_not_asked_for_long_sets_of_strict_pull_ups_and_dips(catalogue: Catalogue) -> None:
    """Common practice: strength work on them is in sets of six and less."""
    for name in ("strict_pull_up", "chin_up", "ring_dip"):
        movement = catalogue.movements[name]
        taken = [s.reps for s in catalogue.schemes.values() for p in STRENGTH if suits(movement, s, p)]
        assert taken
        assert max(taken) <= 6


# -- Versions keep the structure ---------------------------------------------------------------------------


def pairs(piece: Piece) -> list[tuple[str, Line, Line]]:
    """(kit, line of the gym floor, what stands for it)."""
    floor = next(iter(piece.versions.values())).lines
    made = [(v.kit, v.lines) for v in piece.versions.values()]
    return [(kit, a, b) for kit, lines in made for a, b in zip(floor, lines, strict=True)]


@pytest.mark.slow
def test_every_version_has_as_many_rounds_sets_and_lines(drafted: Week, catalogue: Catalogue) -> None:
    kits = [kit.id for kit in drafted.kits]
    for piece in (*pieces(drafted, "strength"), *pieces(drafted, "conditioning")):
        assert list(piece.versions) == kits
        for kit, floor, line in pairs(piece):
            where = f"{piece.title}, {kit}: {line.name} for {floor.name}"
            assert line.stands_for == ("" if line.movement == floor.movement else floor.name), where
            without_load = floor.loads and kit != kits[0] and line.dose.value > floor.dose.value
            assert line.sets == floor.sets or (piece.kind == "strength" and without_load), where
            shape = catalogue.shapes.get(piece.shape)
            often = 1 if shape is None or shape.ladder else shape.comes(line.spot) * shape.rounds
            times = line.sets or often
            assert line.total == line.dose.value * times, where
            assert line.assistance == floor.assistance, where


@pytest.mark.slow
def test_what_the_kit_allows_stays_the_same(drafted: Week, catalogue: Catalogue, gym: Gym) -> None:
    """The same short movement between the others, wherever the kit version can do it.

    Its count is the same too unless the time beside slower stand-ins does not allow it, which
    ``test_a_stand_in_keeps_the_number_where_it_can`` looks at line by line.
    """
    kits = {kit.id: held_items(gym, kit) for kit in gym.kits}
    same = 0
    for piece in pieces(drafted, "conditioning"):
        for kit, floor, line in pairs(piece):
            if usable_setup(catalogue.movements[floor.movement], kits[kit], "conditioning") is None:
                continue
            assert line.movement == floor.movement, f"{piece.title}, {kit}: {line.name} for {floor.name}"
            assert line.dose.unit == floor.dose.unit, f"{piece.title}, {kit}: {floor.name}"
            same += kit != gym.kits[0].id and line.dose == floor.dose
    assert same


def kept_number_fits(piece: Piece, kit: str, at: int, catalogue: Catalogue) -> bool:
    """Whether the gym floor's number could stand in a kit version: movement, slot and time allow it."""
    shape = catalogue.shapes[piece.shape]
    floor = next(iter(piece.versions.values())).lines[at]
    lines = [(catalogue.movements[x.movement], x.dose.value, x.tier) for x in piece.versions[kit].lines]
    movement, _, tier = lines[at]
    number = floor.dose.value
    own = [n for n in movement.doses[tier] if n > 1]
    lines[at] = (movement, number, tier)
    low, high = shape.window_tenths
    return (
        own[0] <= number <= own[-1]
        and dose_suits(plain_dose(movement, tier, number), movement, shape)
        and low <= round_tenths(lines, shape) <= high
    )


@pytest.mark.slow
def test_a_stand_in_keeps_the_number_where_it_can(drafted: Week, catalogue: Catalogue) -> None:
    for piece in pieces(drafted, "conditioning"):
        if piece.ladder or piece.format == "chipper":  # ladders share their rungs; chippers have longer lists
            assert all(a.dose.text == b.dose.text for _, a, b in pairs(piece) if piece.ladder)
            continue
        for kit, version_of in piece.versions.items():
            floor = next(iter(piece.versions.values())).lines
            for at, (a, b) in enumerate(zip(floor, version_of.lines, strict=True)):
                one_sided = [x.dose.sides == "per_side" for x in (a, b)]
                alike = a.dose.unit == b.dose.unit and one_sided[0] == one_sided[1]
                if alike and a.dose.value != b.dose.value:
                    said = f"{piece.title}, {kit}: {b.dose.text} {b.name} for {a.dose.text} {a.name}"
                    assert not kept_number_fits(piece, kit, at, catalogue), said


def test_the_shipped_gym_has_the_kits_that_are_meant_here(gym: Gym) -> None:
    assert [kit.id for kit in gym.kits[:2]] == list(BAR_KITS)
    assert (home().shared / "gyms" / "demo").is_dir()
