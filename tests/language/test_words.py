"""One thing said in several ways is one value."""

from __future__ import annotations

import pytest

from planner.domain.written import (
    Composition,
    WrittenConditioning,
    WrittenLine,
    WrittenSession,
    WrittenStrength,
)
from planner.language import read_sessions, unknown_names, write_session
from planner.language.vocabulary import Vocabulary
from tests.language.names import shipped

LIFTS = {
    "front squat 4x6 across, rest 2:00": [
        "4x6 front squat, rest 2:00",
        "Front Squats 4 × 6 reps; rest 2 min",
        "front-squat, 4 sets of 6, 2:00 rest",
        "four sets of six across front squat, rest 120 s",
        "1) FRONT SQUAT 4X6 (rest 2:00)",
        "front_squat 6-6-6-6, rest 2'",
        "frontsquat 4x6 rest 2:00 between sets",
        "• front squat: 4x6, resting 2 min 0 s",
    ],
    "back squat 5x3 @ 80 % across": [
        "back squat 5x3 80%",
        "5x3 back squat @80 percent",
        "back squat @ 80 %, 5x3",
    ],
    "back squat 5x5 across, 2 in reserve": [
        "back squat 5x5 RPE 8",
        "back squat 5x5, 2 RIR",
        "back squat 5x5 @ rpe 8",
    ],
    "bench press to a heavy 3": [
        "build to a heavy 3 bench press",
        "bench press 3RM",
        "find a heavy triple bench press",
        "bench press: 3 rep max",
        "work up to a heavy set of three bench press",
    ],
    "power clean 8x2 across, every 1:30": [
        "every 90 s x 8: 2 power clean",
        "power clean 8x2, every 90 s",
        "2 power cleans, every 1:30 for 12:00",
        "power clean, 8 sets of 2, every 1 min 30 s",
        "power clean 2 reps every 1.5 min x 8",
    ],
    "1 clean + 2 front squat + 1 split jerk, 5x1 across": [
        "1 clean + 2 front squat + 1 jerk, 5 sets",
        "5 x (clean + 2 front squats + jerk)",
        "clean + 2 front squat + jerk x 5",
    ],
    "front squat 4x(2+2+2), 15 s between": ["front squat 4 x (2 + 2 + 2), 15 s between reps"],
    "back squat 3x5 across, tempo 3110, pause 2 s": [
        "back squat 3x5, tempo 3-1-1-0, 2 s pause",
        "back squat 3x5 tempo 3 1 1 0 pause 2s",
    ],
    "deadlift 3x5 @ 100/70 kg across": [
        "deadlift 3x5 100/70 kg",
        "deadlift 3x5 at 100/70",
        "deadlift 3x5 @ kg 100/70",
    ],
}
WORK = {
    "as many rounds as possible in 12:00": [
        "AMRAP 12",
        "12 min AMRAP",
        "amrap in 12'",
        "12-minute amrap",
        "12 min",
    ],
    "3 rounds for time, cap 14:00": [
        "3 RFT, cap 14",
        "three rounds for time (14 min cap)",
        "for time: 3 rds, time cap 14:00",
        "3 rounds for time, time cap: 14",
        "3 rounds, cap: 14 min",
    ],
    "every 2:00 for 5 rounds": [
        "every 2 min x 5",
        "E2MOM x 5",
        "every 2:00 for 10 min",
        "5 rounds, every 120 s",
        "every 2:00, 5 turns",
    ],
    "every 1:00 for 6 rounds, one movement each": [
        "emom 12",
        "every minute on the minute for 12 min",
        "EMOM x 12",
    ],
    "40 s on, 20 s off for 3 rounds": [
        "40 on 20 off x 6",
        "40 s work / 20 s rest, 3 rounds",
        "40s on, 20s off, 6 intervals",
    ],
    "10-9-8-7-6-5-4-3-2-1 for time": [
        "10 to 1 for time",
        "10-9-8...1",
        "10 down to 1, for time",
        "10–9–8–7–6–5–4–3–2–1",
    ],
    "2-4-6... for time": ["2-4-6-8... for time", "2-4-6-…", "2–4–6–8-..., for time"],
    "for time, in pairs, shared": [
        "with a partner, for time",
        "in teams of 2, split as you like",
        "in twos, shared, for time",
    ],
    "for time, in threes, one works at a time": ["for time in threes, one works"],
    "3 rounds for time, rest 1:00 between rounds": [
        "3 rounds, rest 60 s",
        "3 rounds, 1 min rest between rounds",
    ],
    "for time, result: load": ["for time, score load", "result: heaviest load"],
}
LINES = {
    "15 kettlebell swing @ light": [
        "kettlebell swings 15 @ light",
        "15 KB swing, light",
        "• 15 × kettlebell swing light",
    ],
    "12 power clean @ 40/27.5 kg": [
        "power clean 12 @ 40/27,5 kg",
        "12 power cleans 40/27.5kg",
        "12 40/27.5 kg power clean",
        "12 power clean @ kg 40/27.5",
        "power clean x 12, 40/27.5 kg",
        "12 reps power clean (40/27.5 kg)",
        "B) 12 power cleans (40/27.5)",
        "12\u00a0power\u00a0clean @ 40/27.5",
    ],
    "500 m row": ["row 500 m", "0.5 km row", "500m row", "500 metres row", "row 500"],
    "12 calorie row": ["12 cal row", "row 12 cal", "12 calories rowing", "12 cals row"],
    "30 s plank": ["plank 30 s", '30" plank', "0:30 plank", "plank hold 30 seconds", "30 sec plank"],
    "20 walking lunge": ["10 walking lunges each side", "walking lunge 10 per leg"],
    "after each: 20 double-under skip": [
        "after each movement 20 double unders",
        "after every movement: 20 DU",
    ],
    "opening: 400 m run": ["buy-in: 400 m run", "buy in 400m run", "start with 400 m run"],
    "closing: 400 m run": ["cash-out: 400 m run", "cash out 400m run", "finish with: 400 m run"],
    "18-12-6 pull-up": ["pull-ups 18-12-6", "18–12–6 pull ups", "18-12-6 reps pull-up"],
    "9 front squat, from the floor": ["9 front squats off the floor", "front squat 9, from floor"],
    "8 clean and jerk": ["8 clean & jerk", "8 cleans and jerks", "8 C&J", "8 clean-and-jerks"],
}


def pairs(table: dict[str, list[str]]) -> list[tuple[str, str]]:
    return [(fixed, way) for fixed, ways in table.items() for way in [fixed, *ways]]


def same(fixed: str, way: str, before: str, after: str = "") -> None:
    said, meant = (read_sessions(f"Monday\n{before}{text}\n{after}", shipped()) for text in (way, fixed))
    assert said == meant
    assert fixed in write_session(said[0], shipped())


@pytest.mark.parametrize(("fixed", "way"), pairs(LIFTS))
def test_a_lift(fixed: str, way: str) -> None:
    same(fixed, way, "strength:\n")


@pytest.mark.parametrize(("fixed", "way"), pairs(WORK))
def test_how_a_piece_runs(fixed: str, way: str) -> None:
    same(fixed, way, "conditioning: ", "  burpee\n  sit-up\n")


@pytest.mark.parametrize(("fixed", "way"), pairs(LINES))
def test_a_line(fixed: str, way: str) -> None:
    same(fixed, way, "conditioning: 3 rounds for time\n", "12 air squat\n")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_and_what_stands_before_the_text(end: str) -> None:
    text = "\ufeffWed\nstrength: deadlift 3x5\n\n---\nfinisher: 3 rounds\n9 burpees\n"
    assert read_sessions(text.replace("\n", end), shipped()) == read_sessions(text, shipped())


def test_a_new_day_begins_anew() -> None:
    monday = "Mon\nfinisher: 3 rounds\n  9 burpee\none plate:\nwarm-up\n  row\n"
    tuesday = "Tue\nnote: late\nfinisher: 3 rounds\n  9 sit-up\n"
    alone = (*read_sessions(monday, shipped()), *read_sessions(tuesday, shipped()))
    assert read_sessions(monday + tuesday, shipped()) == alone
    assert [list(session.versions) for session in alone] == [["one_plate"], []]


@pytest.mark.parametrize(
    ("kind", "lift", "scheme"),
    [
        ("skill", "toes-to-bar 6x3", "skill_practice"),
        ("skill", "power clean 6x3", "skill_practice"),
        ("strength", "power clean 6x3", "power_six_by_three"),
        ("strength", "power clean 5x3", "power_five_by_three"),
        ("strength", "front squat 5x3", "five_by_three"),
        ("strength", "front squat 5x3, rest 1:00", None),
        ("strength", "front squat 5x3 @ light", None),
        ("strength", "front squat 5x3, as written", None),
    ],
)
def test_sets_are_the_scheme_that_such_a_movement_takes(kind: str, lift: str, scheme: str | None) -> None:
    (piece,) = read_sessions(f"Mon\n{kind}: {lift}\n", shipped())[0].pieces
    assert isinstance(piece, WrittenStrength)
    assert piece.lifts[0].scheme == scheme


def test_rounds_follow_an_opening_under_its_own_line() -> None:
    text = "Mon\nconditioning:\nbuy-in\n  400 m run\n4 rounds for time\n  9 burpee\ncash-out\n  400 m run\n"
    (piece,) = read_sessions(text, shipped())[0].pieces
    assert isinstance(piece, WrittenConditioning)
    assert [line.spot for line in piece.lines] == ["opening", "turn", "closing"]


@pytest.mark.parametrize("kg", [(0.1 + 0.2, 22.675), (1e-5, 500.0)])
def test_any_load_is_written_in_full(kg: tuple[float, float]) -> None:
    line = WrittenLine(movement="thruster", dose=9, kg=kg)
    piece = WrittenConditioning(composition=Composition(clock="for_time"), lines=(line,))
    session = WrittenSession(day="mon", pieces=(piece,))
    assert read_sessions(write_session(session, shipped()), shipped()) == (session,)


def test_a_session_as_a_value() -> None:
    """One session in full, field by field."""
    text = (
        "Wednesday\nstrength: front squat 4x6 across, rest 2:00\nconditioning: 3 rounds for time, cap 14:00\n"
        "  15 kettlebell swing @ light\n  power clean 12 @ 40/27.5 kg\n  9 front squat, from the floor\n"
        "  after each: 20 double-under\n"
    )
    (session,) = read_sessions(text, shipped())
    strength, work = session.pieces
    assert isinstance(strength, WrittenStrength)
    assert isinstance(work, WrittenConditioning)
    assert session.day == "wed"
    (lift,) = strength.lifts
    assert [part.movement for part in lift.parts] == ["front_squat"]
    assert ([each.reps for each in lift.sets.sets], lift.sets.rest_s, lift.scheme) == (
        [6] * 4,
        120,
        "four_by_six",
    )
    how = work.composition
    assert (how.clock, how.rounds, how.cap_s, how.people) == ("for_time", 3, 840, 1)
    assert [(x.movement, x.dose, x.spot, x.tier, x.kg, x.start) for x in work.lines] == [
        ("kettlebell_swing", 15, "turn", "light", None, None),
        ("power_clean", 12, "turn", None, (40, 27.5), None),
        ("front_squat", 9, "turn", None, None, "floor"),
        ("skip_double", 20, "after_each", None, None, None),
    ]


class TestNames:
    """Every name that is shipped is read as what it names."""

    def test_names_and_ids(self) -> None:
        for movement in shipped().movements.values():
            for word in (movement.id, movement.name, f'"{movement.id}"', movement.name.upper()):
                (session,) = read_sessions(f"Mon\nconditioning: 3 rounds\n  9 burpee\n  {word}", shipped())
                (piece,) = session.pieces
                assert isinstance(piece, WrittenConditioning)
                assert piece.lines[-1].movement == movement.id, word

    def test_other_names_mean_one_movement_in_each_unit(self) -> None:
        taken = {(m.name, m.unit): m.id for m in shipped().movements.values()}
        for movement in shipped().movements.values():
            for name in movement.also:
                assert taken.setdefault((name, movement.unit), movement.id) == movement.id, name

    def test_other_names_are_read(self) -> None:
        words = {"metres": "m", "calories": "cal", "seconds": "s", "reps": ""}
        for movement in shipped().movements.values():
            for name in movement.also:
                text = f"Mon\nconditioning: 3 rounds\n  9 {words[movement.unit]} {name}"
                (piece,) = read_sessions(text, shipped())[0].pieces
                assert isinstance(piece, WrittenConditioning)
                assert piece.lines[0].movement == movement.id, name

    def test_schemes(self) -> None:
        for scheme in shipped().schemes.values():
            if scheme.goal in {"strength", "hypertrophy"}:
                text = f"Mon\nstrength: back squat, {shipped().scheme_name(scheme.id)}"
                (piece,) = read_sessions(text, shipped())[0].pieces
                assert isinstance(piece, WrittenStrength)
                (lift,) = piece.lifts
                assert (lift.scheme, len(lift.sets.sets)) == (scheme.id, scheme.sets)
                assert [each.reps for each in lift.sets.sets] == [each.reps for each in scheme.work.sets]
                assert lift.sets.form == scheme.work.form

    def test_a_gym_s_own_names_may_be_words_of_the_language(self) -> None:
        old = shipped()
        odd = {"rest": "Rest", "ten": "ten", "odd_one": "a (very) odd, one + 3", "three": "3 position snatch"}
        model = old.movements["snatch"]
        own = {
            key: model.model_copy(update={"id": key, "name": name, "also": ()}) for key, name in odd.items()
        }
        vocabulary = Vocabulary(own, old.schemes, {"floor": "Floor", "strength": "Strength", "odd": "A: b"})
        for movement in own:
            name = vocabulary.movement_name(movement)
            (session,) = read_sessions(f"Mon\nconditioning: 3 rounds\n  9 {name}\n", vocabulary)
            (piece,) = session.pieces
            assert isinstance(piece, WrittenConditioning)
            assert [(x.movement, x.dose) for x in piece.lines] == [(movement, 9)]
            assert read_sessions(write_session(session, vocabulary), vocabulary) == (session,)
        text = "Mon\nconditioning: 3 rounds, rest 1:00 between rounds\n  9 odd_one\n"
        (piece,) = read_sessions(text, vocabulary)[0].pieces
        assert isinstance(piece, WrittenConditioning)
        assert piece.composition.rest_s == 60

    def test_names_that_are_not_known(self) -> None:
        text = (
            "Mon\nstrength: zercher squat 5x5\nconditioning: 3 ronds\n  9 yoke walk (heavy)\n  9 yoke walk\n"
        )
        assert unknown_names(text, shipped()) == ("zercher squat", "yoke walk")

    def test_the_nearest_three(self) -> None:
        assert shipped().nearest_three("bak sqat")[0] == "back squat"
        assert len(shipped().nearest_three("kettlebel swig")) == 3
        assert shipped().nearest_three("xyzzy") == ()
