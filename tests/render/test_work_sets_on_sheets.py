"""A lift whose sets differ is shown set by set on every sheet; tempo, clock, pairs and test days in words."""

from __future__ import annotations

import re
from functools import cache

import pytest

from planner.audit.reading import plan_of
from planner.audit.sums import plate_faults, sum_faults
from planner.domain.difference import difference
from planner.domain.plan import StrengthLine
from planner.domain.sets import ComplexPart, Sets, WorkSet
from planner.domain.week import Line, Week
from planner.domain.written import WrittenLift
from planner.load.catalogue import load_catalogue
from planner.prescribe.own_scheme import line_of
from planner.prescribe.write_out import write_out
from planner.render.brief import brief_html
from planner.render.html import week_html
from planner.render.loads_card import loads_card_html
from planner.render.member import member_html
from planner.render.wall import wall_html
from tests.prescribe.builders import REFERENCE, catalogue, gym, plan, proof

SHIPPED = load_catalogue(REFERENCE.parent / "catalogue")
KNOWN = catalogue().model_copy(
    update={
        "movements": {**SHIPPED.movements, **catalogue().movements},
        "schemes": {**SHIPPED.schemes, **catalogue().schemes},
        "items": {**SHIPPED.items, **catalogue().items},
    }
)
WITH_BAR = {"floor", "home_barbell"}
NAMED = WrittenLift(
    parts=(ComplexPart(movement="back_squat"),),
    sets=Sets(
        sets=tuple(WorkSet(reps=n, kg=kg) for n, kg in ((5, (60, 40)), (3, (70, 45)), (1, (80, 50)))),
        form="ascending",
        tempo="3101",
        rest_s=150,
    ),
    note="Breathe at the top.",
)


@cache
def week(*lifts: StrengthLine) -> Week:
    """The small week with other lifts on its Monday, on the floor and at home; once for each."""
    return write_out(lifted(lifts), KNOWN, gym(), rules=(), proof=proof(), history=(), inputs_digest="x")


def lifted(lifts: tuple[StrengthLine, ...]):
    whole = plan()
    monday = whole.sessions[0]
    strength, *rest = monday.pieces
    versions = {kit: lifts if kit in WITH_BAR else others(lifts) for kit in strength.versions}
    paired = any(line.paired for line in lifts)
    piece = strength.model_copy(update={"versions": versions, "paired": paired})
    first = monday.model_copy(update={"pieces": (piece, *rest)})
    return whole.model_copy(update={"sessions": (first, *whole.sessions[1:])})


def others(lifts: tuple[StrengthLine, ...]) -> tuple[StrengthLine, ...]:
    return tuple(
        line.model_copy(update={"movement": "air_squat", "kg": None, "start": None}) for line in lifts
    )


def waves() -> Week:
    return week(StrengthLine(movement="back_squat", scheme="waves_three_two_one"))


def text(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html.split("<body")[1]))


WAVES = ((3, "95", "62.5"), (2, "100", "67.5"), (1, "107.5", "70"), (3, "97.5", "65"), (2, "102.5", "67.5"))


@pytest.mark.parametrize(("reps", "man", "woman"), WAVES)
def test_each_set_of_a_wave_is_on_every_sheet(reps: int, man: str, woman: str) -> None:
    both = f"{man} / {woman}"
    assert f"{reps} reps at {both} kg" in text(week_html(waves())) or reps == 1
    assert f"{reps} at {both} kg" in text(wall_html(waves(), "mon"))
    assert both in text(brief_html(waves(), "mon"))
    member = text(member_html(waves(), "floor"))
    assert re.search(
        rf"{reps} reps? Reference man {man} kg each side [\d.+ ]+; Reference woman {woman} kg", member
    )


def test_the_loads_card_says_what_each_set_asks_for() -> None:
    card = text(loads_card_html(waves(), gym(), KNOWN))
    assert "sets at 80, 85, 90, 82, 87 and 92 % of its 1RM" in card


def test_a_complex_is_named_by_its_parts_and_its_weakest() -> None:
    out = week(StrengthLine(movement="clean", scheme="complex_clean_squats_jerk"))
    for html in (week_html(out), wall_html(out, "mon"), brief_html(out, "mon"), member_html(out, "floor")):
        assert "clean + 2 front squats + push jerk" in text(html).lower()
    assert "the weakest lift sets the load: push jerk" in text(member_html(out, "floor")).lower()
    assert "By your 1RM of the weakest of these lifts." in text(loads_card_html(out, gym(), KNOWN))


def test_a_test_day_is_no_row_of_the_loads_card_and_says_when_to_stop() -> None:
    out = week(StrengthLine(movement="back_squat", scheme="find_one_rm"))
    member = text(member_html(out, "floor"))
    assert "Stop at the first miss" in member
    assert "Write down: Your heaviest good set." in member
    assert "about 120 / 80 kg" in text(wall_html(out, "mon"))
    assert "Monday" not in text(loads_card_html(out, gym(), KNOWN))


def test_a_lift_on_the_clock_says_so_instead_of_a_rest() -> None:
    out = week(StrengthLine(movement="power_snatch", scheme="every_90_doubles"))
    for html in (week_html(out), wall_html(out, "mon"), member_html(out, "floor")):
        assert "a set every 1:30" in text(html)
    assert "rest 0" not in text(week_html(out))


def test_two_lifts_in_turn_are_one_piece() -> None:
    first = StrengthLine(movement="back_squat", scheme="five_by_five")
    out = week(first, StrengthLine(movement="deadlift", scheme="three_by_five", paired=True))
    piece = next(p for p in out.sessions[0].pieces if p.kind == "strength")
    assert piece.title == "In turn: five sets of five across; three sets of five across"
    assert "from one lift to the other in turn, set by set" in piece.how
    assert "in turn with the lift before it" in text(wall_html(out, "mon"))


def test_what_the_coach_named_is_on_the_sheet_with_the_tempo_in_words() -> None:
    out = week(line_of(NAMED, KNOWN))
    member = text(member_html(out, "floor"))
    assert (
        "three seconds down, one second at the bottom, up as fast as you can, one second at the top" in member
    )
    assert "Breathe at the top." in member
    assert "5 at 60 / 40 kg, 3 at 70 / 45 kg, 1 at 80 / 50 kg" in text(wall_html(out, "mon"))


# The week value ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("scheme", [s for s in KNOWN.schemes.values() if not s.drafted], ids=lambda s: s.id)
def test_every_new_scheme_can_be_written_read_back_and_added_up(scheme) -> None:
    name = scheme.parts[0].movement if scheme.parts else "back_squat"
    lifts = (StrengthLine(movement=name, scheme=scheme.id),)
    assert plan_of(week(*lifts)) == lifted(lifts)
    faults = [x for x in sum_faults(week(*lifts)) if "and the class has" not in x.sentence]
    assert not [*faults, *plate_faults(week(*lifts), gym())]


def test_an_own_scheme_comes_back_from_the_week() -> None:
    lifts = (line_of(NAMED, KNOWN),)
    again = Week.model_validate_json(week(*lifts).model_dump_json())
    assert again == week(*lifts)
    assert plan_of(again) == lifted(lifts)


def test_a_line_of_before_opens_without_the_new_fields() -> None:
    line = waves().sessions[0].pieces[1].versions["floor"].lines[0]
    old = line.model_dump(exclude={"work_sets", "terms", "planned"})
    opened = Line.model_validate(old)
    assert (opened.work_sets, opened.terms, opened.planned) == ((), (), None)


def test_another_load_on_one_set_is_a_difference_of_the_scheme() -> None:
    line = waves().sessions[0].pieces[1].versions["floor"].lines[0]
    other = line.model_copy(update={"work_sets": line.work_sets[:-1]})
    assert difference(line, other).words == ("scheme",)
