"""What changed from one plan to another, on the gym floor and in the other versions: nothing is solved."""

from __future__ import annotations

from typing import Any

import pytest

from planner.domain.plan import Plan, SessionPlan, VersionPlan
from planner.weeks.diff import plan_changes, version_changes
from tests.plans import with_versions
from tests.prescribe import builders

BEFORE = builders.plan()


def after(day: int, kit: str = "floor", shape: str = "", **version: Any) -> Plan:
    """The plan with one session's shape, or one version's lines, changed."""
    session: SessionPlan = BEFORE.sessions[day]
    own: VersionPlan = session.versions[kit].model_copy(update=version)
    versions = {**session.versions, kit: own}
    changed = with_versions(session, versions, shape)
    sessions = [changed if i == day else s for i, s in enumerate(BEFORE.sessions)]
    return BEFORE.model_copy(update={"sessions": tuple(sessions)})


def lines(day: int, kit: str = "floor", piece: str = "conditioning") -> tuple[Any, ...]:
    return tuple(getattr(BEFORE.sessions[day].versions[kit], piece))


def test_a_plan_differs_from_itself_in_nothing() -> None:
    assert plan_changes(BEFORE, BEFORE) == ()
    assert version_changes(BEFORE, BEFORE, ()) == ()


def test_another_shape_alone_is_a_change_of_the_conditioning() -> None:
    (change,) = plan_changes(BEFORE, after(0, shape="amrap"))
    assert (change.day, change.piece, change.gone, change.new) == ("mon", "conditioning", (), ())


def test_the_same_lines_in_another_order_are_none() -> None:
    assert plan_changes(BEFORE, after(0, conditioning=lines(0)[::-1])) == ()
    turned = after(0, "one_plate", conditioning=lines(0, "one_plate")[::-1])
    assert version_changes(BEFORE, turned, ()) == ()


@pytest.mark.parametrize(("field", "value"), [("dose", 99), ("tier", "heavy"), ("movement", "air_squat")])
def test_a_line_is_another_by_movement_load_and_dose(field: str, value: Any) -> None:
    first, *rest = lines(0)
    (change,) = plan_changes(BEFORE, after(0, conditioning=(first.model_copy(update={field: value}), *rest)))
    assert change.piece == "conditioning"
    assert change.gone == (f"{first.movement} {first.tier} {first.dose}",)
    assert len(change.new) == 1
    assert str(value) in change.new[0]


def test_beside_is_not_the_main_lift() -> None:
    main, beside = lines(0, piece="strength")
    turned = (main.model_copy(update={"assistance": True}), beside.model_copy(update={"assistance": False}))
    (change,) = plan_changes(BEFORE, after(0, strength=turned))
    assert (change.piece, len(change.gone), len(change.new)) == ("strength", 2, 2)


def test_days_that_come_or_go_are_changes_in_the_weeks_order() -> None:
    less = BEFORE.model_copy(update={"sessions": BEFORE.sessions[1:]})
    assert [(c.day, c.piece, len(c.gone), len(c.new)) for c in plan_changes(BEFORE, less)] == [
        ("mon", "strength", 2, 0),
        ("mon", "conditioning", 3, 0),
    ]
    assert [c.day for c in plan_changes(less, BEFORE)] == ["mon", "mon"]


@pytest.mark.parametrize("kit", ["home_barbell", "one_plate", "no_kit"])
def test_another_stand_in_is_told_of_where_the_floor_stays(kit: str) -> None:
    *rest, last = lines(1, kit)
    made = after(1, kit, conditioning=(*rest, last.model_copy(update={"movement": "bar_hop"})))

    (change,) = version_changes(BEFORE, made, plan_changes(BEFORE, made))

    assert (change.day, change.piece, change.kit) == ("wed", "conditioning", kit)
    assert (change.gone, change.new) == ((last.movement,), ("bar_hop",))


def test_where_the_floor_changes_its_versions_are_not_told_of_too() -> None:
    floor, *rest = lines(1)
    both = after(1, conditioning=(floor.model_copy(update={"dose": 500}), *rest))
    sessions = list(both.sessions)
    bare, *others = lines(1, "no_kit")
    own = sessions[1].versions["no_kit"].model_copy(
        update={"conditioning": (bare.model_copy(update={"movement": "bar_hop"}), *others)}
    )  # fmt: skip
    sessions[1] = with_versions(sessions[1], {**sessions[1].versions, "no_kit": own})
    made = both.model_copy(update={"sessions": tuple(sessions)})

    assert len(plan_changes(BEFORE, made)) == 1
    assert version_changes(BEFORE, made, plan_changes(BEFORE, made)) == ()
