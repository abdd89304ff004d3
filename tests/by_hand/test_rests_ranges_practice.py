"""What a board says of rest, of ranges and of time: kept in the plan, on the clock and on the sheets."""

from __future__ import annotations

from functools import cache

import pytest

from planner.domain.plan import SessionPlan
from planner.domain.running import shape_of
from planner.domain.week import Line, Piece, Session
from planner.language import read_sessions, vocabulary_of, write_sessions
from planner.prescribe.session import Writer, write_session
from planner.problem.written import planned, said
from tests.solve.demo import shipped


def plan(text: str) -> SessionPlan:
    catalogue, gym, _ = shipped()
    (session,) = read_sessions(f"Wednesday\n{text}\n", vocabulary_of(catalogue, gym))
    return planned(session, catalogue, gym)


@cache
def written(text: str) -> Session:
    """The day, written out; only the gym floor's version is looked at."""
    catalogue, gym, _ = shipped()
    made = plan(text)
    floor = gym.model_copy(update={"kits": gym.kits[:1]})
    return write_session(made, "2026-12-02", 2, Writer(catalogue, floor))


def piece(text: str) -> Piece:
    return next(p for p in written(text).pieces if p.versions)


def line(text: str, place: int = 0) -> Line:
    return piece(text).versions["floor"].lines[place]


def board(text: str) -> str:
    catalogue, gym, _ = shipped()
    return write_sessions([said(plan(text), catalogue)], vocabulary_of(catalogue, gym))


REST = "conditioning: emom 20\n  12 cal row\n  10 burpee\n  15 kettlebell swing @ light\n  rest"
EVERY_MINUTE = "Every minute, 20 times: three movements and a rest in turn"
TWO_RESTS = "conditioning: 40 s on, 20 s off for 3 rounds\n  row\n  rest\n  push-up\n  rest"
BETWEEN = "conditioning: every 2:00 for 4 rounds, rest 1:00 between rounds\n  200 m run"


@pytest.mark.parametrize(
    ("text", "minutes", "title", "how"),
    [
        (REST, 20, EVERY_MINUTE, "Minute 4 of each round is for rest."),
        (TWO_RESTS, 12, "0:40 work, 0:20 rest, 3 rounds", "Turns 2 and 4 of each round are for rest."),
        (BETWEEN, 11, "Every 2:00, 4 times", "Rest 1:00 between rounds."),
    ],
)  # fmt: skip
def test_rest_takes_its_time_and_is_said(text: str, minutes: int, title: str, how: str) -> None:
    """Five rounds of four minutes; three of four turns of a minute; four of two minutes and three rests."""
    assert (piece(text).minutes, piece(text).title) == (minutes, title)
    assert how in piece(text).how


def test_a_range_is_said_as_one_and_its_load_is_for_the_fewest() -> None:
    ranged, fewest, most = (line(f"strength: bench press 3x{x}, 2 in reserve") for x in ("8-12", 8, 12))
    assert (ranged.dose.text, ranged.dose.value, ranged.total) == ("8 to 12 reps", 12, 36)
    assert [x.kg for x in ranged.loads] == [x.kg for x in fewest.loads]
    assert ranged.loads[0].kg > most.loads[0].kg
    assert piece("strength: bench press 3x8-12, 2 in reserve").title == "Three sets of eight to twelve across"
    assert "once every set gets to the most, add weight" in ranged.how


def test_a_range_among_other_sets() -> None:
    text = "strength: back squat 1x5 @ 85 % then 2x8-10 @ 70 %"
    assert [x.text for x in line(text).work_sets] == ["5 reps", "8 to 10 reps"]
    assert line(text).dose.text == "5, 8 to 10, 8 to 10 reps"
    assert piece(text).title == "A heavy five, then two lighter sets of eight to ten"


def test_practice_takes_its_minutes_and_counts_no_sets() -> None:
    text = "skill: handstand walk 10:00 practice"
    assert (piece(text).minutes, piece(text).title) == (10, "Ten minutes of practice")
    assert (line(text).dose.text, line(text).sets, line(text).total) == ("10:00 of practice", None, 1)
    assert "Rest" not in piece(text).how
    assert {e.label: e.minutes for e in written(text).clock}["Skill"] == 10


def test_practice_of_a_lift_is_light_and_has_no_build_up() -> None:
    text = "skill: power snatch 8:00 practice"
    assert (line(text).tier, line(text).build_up) == ("light", "")


def test_as_many_as_one_can_in_a_time_is_what_fits_in_it() -> None:
    """A burpee takes 3.5 seconds in the catalogue's figures, or whatever they say: 45 seconds over that."""
    catalogue, _, _ = shipped()
    text = "conditioning: 3 rounds for time\n  300 m row\n  0:45 max burpee"
    fits = int(45 / catalogue.movements["burpee"].pace.seconds)
    assert line(text, 1).dose.text == f"as many as you can in 0:45, about {fits} reps"
    assert (line(text, 1).open, line(text, 1).most_s) == (True, 45)


@pytest.mark.parametrize(
    "lines",
    [
        "conditioning: 21-15-9 for time\n  thruster @ light\n  200 m run\n",
        "conditioning: 2-4-6..., as many rounds as possible in 12:00\n  pull-up\n  20 air squat\n",
        "conditioning: 10-8-6 for time\n  pull-up\n  0:30 max burpee\n",
        "conditioning: 21-15-9 for time\n  pull-up\n  after each: 100 m run\n",
    ],
)
def test_a_line_beside_numbers_that_change_keeps_its_own(lines: str) -> None:
    assert board(lines) == f"Wednesday\n{lines}"


def test_a_line_beside_numbers_that_change_takes_its_time_in_each_round() -> None:
    """Three runs of 200 m: not one of 45 m, as the numbers beside it have it."""
    catalogue, _, _ = shipped()
    ran = "conditioning: 21-15-9 for time\n  thruster @ light\n  {} m run\n"
    short, long = (shape_of(plan(ran.format(m)).pieces[0], catalogue) for m in (100, 200))
    assert short
    assert long
    run = catalogue.movements["run"].pace.seconds
    least, most = (long.window_tenths[i] - short.window_tenths[i] for i in (0, 1))
    assert least == pytest.approx(0.67 * 3000 * run, rel=0.02)
    assert most == pytest.approx(1.5 * 3000 * run, rel=0.02)
    assert line(ran.format(200), 1).dose.text == "200 m"
    assert line(ran.format(200), 1).total == 600
