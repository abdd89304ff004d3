"""A plan written out: what a coach and a member would read, and that it adds up."""

from __future__ import annotations

import pytest

from planner.domain.catalogue import Takes
from planner.domain.plan import ConditioningLine, Plan
from planner.domain.timing import session_rating
from planner.domain.week import Line, Piece, Week
from planner.errors import SolverFault
from planner.prescribe.sentences import LESS_OF_IT, LOWERING
from planner.prescribe.write_out import write_out
from tests.plans import with_versions

from .builders import catalogue, gym, movement, plan, proof, version


def written(of: Plan | None = None, history: tuple[Week, ...] = ()) -> Week:
    return write_out(
        of or plan(), catalogue(), gym(), rules=(), proof=proof(), history=history, inputs_digest="0" * 64
    )


WEEK = written()


def piece(kind: str, day: int = 0) -> Piece:
    return next(p for p in WEEK.sessions[day].pieces if p.kind == kind)


def line(kind: str, kit: str, index: int = 0, day: int = 0) -> Line:
    return piece(kind, day).versions[kit].lines[index]


def test_dates_and_kits() -> None:
    assert (WEEK.week, WEEK.monday) == ("2026-W49", "2026-11-30")
    assert [s.date for s in WEEK.sessions] == ["2026-11-30", "2026-12-02"]
    assert [k.contains for k in WEEK.kits] == [
        "everything the gym has",
        "barbell, plate and run outside; the bar and plates are taken to be like the gym's",
        "plate (15 kg / 10 kg)",
        "nothing: body weight only",
    ]


def test_it_comes_back_from_json_as_it_was() -> None:
    assert Week.model_validate_json(WEEK.model_dump_json()) == WEEK


def test_twice_the_same() -> None:
    assert written() == WEEK


def test_four_fives_across_are_one_weight_built_up_to() -> None:
    squat = line("strength", "floor")
    assert (squat.sets, squat.dose.text, squat.total, squat.reserve) == (4, "5 reps", 20, 1)
    assert [load.text for load in squat.loads] == ["100 kg", "67.5 kg"]
    assert squat.build_up == "build up: 5 at 55 kg / 35 kg, 3 at 75 kg / 50 kg, 1 at 90 kg / 60 kg"
    assert squat.start == "from the rack"
    assert "85 %" in squat.too_heavy


def test_without_a_rack_the_clean_sets_the_load() -> None:
    squat = line("strength", "home_barbell")
    assert [load.kg for load in squat.loads] == [75, 50]
    assert [load.percent_1rm for load in squat.loads] == [62, 62]  # 18 reps by the table, two of them left
    assert (squat.dose.value, squat.reserve, squat.start) == (15, None, "from the floor")
    assert squat.own_sets == "Four sets of 15, two short of failure"
    assert squat.how == (
        "Clean it first. Lighter than on the gym floor (it must be cleaned first): end each set two reps "
        "before you could do no more; more or fewer reps than written are right."
    )


def test_without_a_bar_the_limited_form() -> None:
    plate, none = line("strength", "one_plate"), line("strength", "no_kit")
    assert [load.text for load in plate.loads] == ["15 kg plate", "10 kg plate"]
    assert plate.dose.value == none.dose.value == 15
    assert (none.stands_for, none.dose.text, none.loads) == ("back squat", "15 each side", ())
    assert (none.own_sets, none.rest_s) == ("Four slow sets of 15, two short of failure", 75)
    assert none.how.startswith("With what is at hand: three seconds down, end each set two reps before")
    version = piece("strength").versions["no_kit"]
    assert version.own_title == none.own_sets
    assert piece("strength").versions["floor"].own_title == ""
    assert none.substitution_cost > 0


def test_the_same_bodyweight_assistance_is_not_limited() -> None:
    assert {line("strength", kit, 1).dose.value for kit in ("floor", "no_kit")} == {10}


@pytest.mark.parametrize("kit", ["floor", "home_barbell"])
def test_one_bar_for_the_piece(kit: str) -> None:
    version = piece("conditioning").versions[kit]
    assert [[load.text for load in x.loads] for x in version.lines] == [["35 kg", "25 kg"]] * 3
    assert version.note == (
        "One bar for front squat, push press and power snatch: 35 kg / 25 kg. The weakest lift sets the load."
    )


def test_versions_keep_the_structure() -> None:
    for p in (piece("conditioning"), piece("conditioning", 1), piece("strength")):
        assert list(p.versions) == [k.id for k in WEEK.kits]
        assert len({len(v.lines) for v in p.versions.values()}) == 1


def test_every_line_has_an_easier_option() -> None:
    """Of the catalogue where it has one; else less of the movement."""
    known = catalogue().movements
    lines = [x for s in WEEK.sessions for p in s.pieces for v in p.versions.values() for x in v.lines]
    for x in lines:
        options = [known[e.to].name for e in known[x.movement].easier]
        wanted = options or [LESS_OF_IT[x.dose.unit][0]]
        assert [option.name for option in x.easier] == wanted
    assert {bool(known[x.movement].easier) for x in lines} == {True, False}


def test_totals() -> None:
    assert [x.total for x in piece("conditioning").versions["floor"].lines] == [24, 40, 32]


def test_clock_fits_and_agrees_with_the_pieces() -> None:
    for session in WEEK.sessions:
        assert sum(e.minutes for e in session.clock) <= WEEK.class_minutes
        by_label = {e.label: e.minutes for e in session.clock}
        for p, label in zip(
            session.pieces, ("Warm-up", "Strength", "Conditioning", "Cool-down"), strict=True
        ):
            assert p.minutes == by_label[label]
            assert sum(d.seconds for d in p.drills) <= p.minutes * 60


def test_ratings_and_load() -> None:
    expected = session_rating(catalogue().schemes["four_by_five"], catalogue().shapes["four_rounds"])
    monday = WEEK.sessions[0]
    assert (monday.rating, monday.load_au, monday.hardness) == (expected, expected * 55, "hard")
    assert WEEK.load.daily_au == (440, 0, 440, 0, 0, 0, 0)
    assert WEEK.load.change_percent is None


def test_history_counts_newest_first_and_only_before() -> None:
    weeks = tuple(written(plan(f"2026-W{n}")) for n in (44, 48, 45, 47, 46, 49, 50))
    half = weeks[1].model_copy(update={"load": weeks[1].load.model_copy(update={"week_au": 440})})
    load = written(history=(*weeks, half)).load
    assert load.last_weeks_au == (440, 880, 880, 880)
    assert load.change_percent == 14


def test_balance_counts_shares_of_thirty_and_more() -> None:
    monday = WEEK.balance.patterns["mon"]
    assert monday == {"squat": 2, "hinge": 1, "lunge": 1, "vertical_push": 2}
    assert WEEK.balance.modality == {"loaded": 3, "bodyweight": 2, "cyclic": 1}
    assert WEEK.balance.domains == {"mon": "medium", "wed": "medium"}


def test_contacts_and_cautions() -> None:
    assert WEEK.sessions[1].contacts == 40
    assert any("40 landings" in c for c in WEEK.sessions[1].cautions)
    assert any("cola" in c for c in WEEK.cautions)


def test_floor_setup() -> None:
    assert piece("strength").floor_setup[0] == (
        "Four racks, three to a rack: one works while the others rest, load and watch."
    )
    assert piece("conditioning").floor_setup == (
        "Barbells: eight of 20 kg and six of 15 kg for a class of twelve.",
    )
    assert piece("conditioning", 1).class_flow == (
        "Spread out over the three movements, four to each; then go on in order."
    )


def test_a_line_that_the_kit_cannot_do_is_our_fault() -> None:
    monday = plan().sessions[0]
    no_kit = version((("back_squat", False),), (("row", 250, "open"),))
    bad = with_versions(monday, {**monday.versions, "no_kit": no_kit})
    with pytest.raises(SolverFault, match="back squat cannot be done with the kit version No kit"):
        written(Plan(week="2026-W49", sessions=(bad,)))


def test_landings_of_one_leg_at_a_time_are_counted_on_both() -> None:
    """As the rules count them: ten each side over four rounds are eighty landings, and so much lowering."""
    made = catalogue()
    hop = movement("hop", sides="per_side", takes=Takes(contacts=1), eccentric=True, patterns={"jump": 100})
    known = made.model_copy(update={"movements": {**made.movements, "hop": hop}})
    line = ConditioningLine(movement="hop", dose=10, tier="open")
    first = plan().sessions[0]
    changed = {
        kit: v.model_copy(update={"conditioning": (line, *v.conditioning[1:])})
        for kit, v in first.versions.items()
    }
    hops = Plan(week="2026-W49", sessions=(with_versions(first, changed),))

    week = write_out(hops, known, gym(), rules=(), proof=proof(), history=(), inputs_digest="")

    assert week.sessions[0].contacts == 80
    assert any(c.startswith("80 landings") for c in week.sessions[0].cautions)
    assert LOWERING in week.sessions[0].cautions
