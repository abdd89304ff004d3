"""What a load needs is equipment: bars without plates give no heavy work, and its loss is seen everywhere."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from planner.audit.audit import audit_plan, broken_musts
from planner.audit.reading import plan_of
from planner.domain.changes import GymChanges
from planner.domain.line import LineFacts
from planner.domain.plan import PiecePlan, SessionPlan, StrengthLine
from planner.domain.requests import Lock, Requests
from planner.domain.week import Load
from planner.errors import NoPlanError
from planner.prescribe.equipped import Equipped, equipped
from planner.prescribe.loads import strength_load
from planner.prescribe.stock import Stock
from planner.problem.checks import too_little
from planner.problem.problem import Problem
from planner.weeks.redraft import redraft
from planner.weeks.resilience import resilience
from planner.weeks.written import solved_week
from tests.prescribe import builders
from tests.solve.demo import demo_problem
from tests.weeks import small

NO_PLATES = GymChanges(without=("plate",))


@cache
def without(*items: str) -> Problem:
    return small.setting().changed(GymChanges(without=items)).problem()


def bar_lines(problem: Problem) -> list[LineFacts]:
    options = problem.options
    every = (c.facts for c in (*options.main, *options.assistance, *options.conditioning))
    return [x for x in every if x.implement == "barbell"]


def test_bars_without_plates_give_no_bar_work_that_has_a_load() -> None:
    left = bar_lines(without("plate"))

    assert bar_lines(small.setting().problem())
    assert not [x.movement.id for x in left if x.tier in ("moderate", "heavy")]


def test_a_loaded_bar_takes_plates_and_an_empty_one_none() -> None:
    lines = bar_lines(demo_problem())

    assert all("plate" in x.needs for x in lines if x.tier in ("moderate", "heavy"))
    assert all(x.implement == "barbell" for x in lines)


def test_the_demo_gym_is_offered_all_that_its_bars_could_ever_be_used_for() -> None:
    problem = demo_problem()
    stock = Stock(problem.gym, problem.gym.kits[0], problem.catalogue.items)
    lacking = [
        found.lacks
        for x in problem.options.everything()
        if (found := equipped(x.movement, x.piece, x.tier, x.scheme, stock)).lacks
        and "barbell" in found.needs
    ]

    assert not lacking


@pytest.mark.slow
def test_a_gym_without_plates_is_told_that_its_musts_ask_for_some() -> None:
    problem = without("plate")
    heavy = ("heavy-squat", "heavy-hinge", "heavy-press")
    said = [too_little(problem, rule) for rule in problem.rules if rule.id in heavy]

    assert len(said) == len(heavy)
    assert all("needs plates for" in text for text in said)
    week = solved_week(problem, small.SECONDS)
    reasons = {r.id: p.overruled for r in week.rules for p in r.places if p.overruled}
    assert all("not in this gym" in reasons[rule] and "needs plates for" in reasons[rule] for rule in heavy)


def test_without_plates_a_must_of_the_coachs_own_is_told_so() -> None:
    problem = without("plate")
    own = tuple(r.as_shipped(shipped=r.id != "heavy-squat") for r in problem.rules)
    with pytest.raises(NoPlanError) as refused:
        solved_week(replace(problem, rules=own), small.SECONDS)
    ((clash,),) = refused.value.clashes
    assert "needs plates for" in clash


@pytest.mark.slow
def test_a_gym_without_plates_or_these_musts_drafts_no_loaded_bar() -> None:
    setting = small.setting().changed(NO_PLATES)
    heavy = {"heavy-squat", "heavy-hinge", "heavy-press", "strengthening-days"}
    free = replace(setting, rules=tuple(r for r in setting.rules if r.id not in heavy))
    week = solved_week(free.problem(), small.SECONDS)

    loads = [
        (line.name, load.kg, load.per_side_kg)
        for session in week.sessions
        for piece in session.pieces
        if "floor" in piece.versions
        for line in piece.versions["floor"].lines
        for load in line.loads
        if "barbell" in line.equipment
    ]
    assert not [x for x in loads if x[2]]
    assert not broken_musts(audit_plan(free.problem(), plan_of(week)))


@pytest.mark.slow
def test_losing_all_plates_is_a_loss() -> None:
    week = small.week()
    lost = next(
        x for x in resilience(small.setting(), week, seconds=0.5) if (x.item, x.lost) == ("plate", "all")
    )

    assert lost.pieces or lost.impossible


def test_the_audit_sees_the_loss_and_names_plates() -> None:
    inventory = {**small.setting().gym.inventory, "plate": {1.25: 2}}  # none to load, one to hop over
    setting = small.setting()
    setting = replace(setting, gym=setting.gym.model_copy(update={"inventory": inventory}))
    broken = broken_musts(audit_plan(setting.problem(), plan_of(small.week())))
    said = [place.sentence for rule in broken if rule.id == "structure" for place in rule.places]

    assert [x for x in said if "needs plates for" in x]


def test_a_locked_day_with_a_loaded_bar_says_that_it_needs_plates() -> None:
    day = next(s.day for s in plan_of(small.week()).sessions if _main(s.day).implement == "barbell")
    locked = small.setting().asking(Requests(locks=(Lock(day=day, part="strength"),)), plan_of(small.week()))

    with pytest.raises(NoPlanError, match="needs plates for") as refused:
        redraft(locked, small.week(), changes=NO_PLATES, seconds=1.0)
    assert any("cannot be done" in text for clash in refused.value.clashes for text in clash)


def _main(day: str) -> LineFacts:
    session = next(s for s in plan_of(small.week()).sessions if s.day == day)
    line = next(x for x in session.versions["floor"].strength if not x.assistance)
    problem = small.setting().problem()
    return next(
        c.facts
        for c in problem.options.main
        if c.facts.movement.id == line.movement and c.facts.scheme and c.facts.scheme.id == line.scheme
    )


def test_a_session_by_hand_is_kept_and_marked() -> None:
    """What the gym cannot load is written out all the same, and says on its line what is lacking."""
    lift = next(c.facts for c in small.setting().problem().options.main if "plate" in c.facts.needs)
    monday = plan_of(small.week()).sessions[0]
    assert lift.scheme
    line = StrengthLine(movement=lift.movement.id, scheme=lift.scheme.id)
    strength = PiecePlan(kind="strength", versions={"floor": (line,)})
    session = SessionPlan(day=monday.day, pieces=(strength,))

    without_musts = replace(small.setting(), rules=())
    setting = without_musts.changed(NO_PLATES).asking(Requests(by_hand=(session,)))
    week = solved_week(setting.problem(), 4.0)

    (piece,) = (p for p in week.sessions[0].pieces if p.kind == "strength")
    (written,) = piece.versions["floor"].lines
    assert written.movement == lift.movement.id
    assert "needs plates for" in written.lacks
    assert written.lacks in written.how


# One line at a time, by hand ----------------------------------------------------------------------------

ALL = builders.movements()
HEAVY = builders.scheme()
"""85 percent: 102 kg of the man's back squat, 68 kg of the woman's."""


def stock(kit: int = 0, **changes) -> Stock:
    own = builders.gym(**changes)
    return Stock(own, own.kits[kit], builders.items())


def having(plate: dict, **more) -> Stock:
    return stock(inventory={"barbell": {20: 4, 15: 4}, "rack": 4, "plate": plate, **more})


@pytest.mark.parametrize(
    ("plate", "lacks"),
    [
        ({20: 12, 10: 12, 5: 12}, ""),  # 100 and 65 kg
        ({15: 12, 5: 4}, ""),  # 100 and 65 kg
        ({25: 2, 10: 2}, ""),  # 90 and 65 kg: 11.8 and 4.4 percent off
        ({20: 12}, "plates for 68 kg on a bar of 15 kg; the nearest is 55 kg"),  # 100 kg for the man
        ({}, "plates for 102 kg on a bar of 20 kg; the nearest is 20 kg"),
    ],
)
def test_heavy_needs_plates_that_come_near_enough(plate: dict, lacks: str) -> None:
    found = equipped(ALL["back_squat"], "main", "heavy", HEAVY, having(plate))

    assert found.needs == ("barbell", "rack", "plate")
    assert found.lacks == (f"back squat (four sets of five across) needs {lacks}" if lacks else "")


def test_on_the_gym_floor_a_heavy_squat_needs_its_rack() -> None:
    """85 percent of a clean and jerk of 90 kg is 76.5 kg, and 102 kg are asked for."""
    no_rack = equipped(ALL["back_squat"], "main", "heavy", HEAVY, having({20: 8, 10: 8, 5: 8}, rack=0))
    light = builders.scheme(percent=62, tier="light")

    assert "needs a rack in reach for 102 kg; it must be cleaned first" in no_rack.lacks
    assert not equipped(ALL["back_squat"], "main", "light", light, having({20: 8, 5: 8}, rack=0)).lacks


def test_at_home_the_way_up_may_hold_the_bar_down_but_plates_are_needed_too() -> None:
    bare = {"id": "bare_bar", "name": "Bar at home", "contains": ("barbell",)}
    kits = (*(k.model_dump() for k in builders.gym().kits), bare)
    home, bare_bar = stock(1), stock(4, kits=kits)

    assert equipped(ALL["back_squat"], "main", "heavy", HEAVY, home).needs == ("barbell", "plate")
    assert not equipped(ALL["back_squat"], "main", "heavy", HEAVY, home).lacks
    assert "plates for 76.5 kg" in equipped(ALL["back_squat"], "main", "heavy", HEAVY, bare_bar).lacks
    assert equipped(ALL["bar_hop"], "conditioning", "open", None, bare_bar) == Equipped(("barbell",))


def test_an_empty_bar_is_enough_where_it_is_as_heavy_as_what_is_asked_for() -> None:
    """57 percent of 40 percent of 90 kg is 20.5 kg, of 60 kg 13.7 kg; the bars weigh 20 and 15 kg."""
    swing = builders.lift("bar_swing", "clean_and_jerk", 40)

    assert equipped(swing, "conditioning", "light", None, having({})) == Equipped(("barbell",))
    assert equipped(swing, "conditioning", "heavy", None, having({})).lacks


def test_who_finds_no_bar_of_her_own_takes_the_nearest() -> None:
    only_long = stock(inventory={"barbell": {20: 4}, "rack": 4, "plate": {10: 8, 5: 8, 2.5: 8}})
    woman = only_long.gym.athletes[1]

    assert only_long.bar_kg(woman) == 20
    assert stock().bar_kg(woman) == 15
    got = strength_load(ALL["back_squat"], builders.RACK, HEAVY, only_long, woman)
    assert got.load == Load(athlete="woman", kg=65, text="65 kg", per_side_kg=(10, 10, 2.5), percent_1rm=81)
