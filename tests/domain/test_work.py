"""Work and power against closed forms, the worked examples, and the published conversions."""

from __future__ import annotations

import csv
import re
from math import cos, radians
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from planner.domain.lifting import TYPICAL, load_in_hands_kg
from planner.domain.motion import Motion
from planner.domain.postures import ABOVE_HIPS, POSTURES, REACH, Body
from planner.domain.work import carry_watts, display_watts, effort_of, row_watts, running_met
from planner.load.catalogue import load_catalogue
from planner.paths import home
from tests.domain.test_substitution import LOADED, movement

HIM = Body(80, 1.78)
SHARED = home().shared
CATALOGUE = load_catalogue(SHARED / "catalogue")


def rows(name: str) -> list[dict[str, str]]:
    lines = (SHARED / "reference" / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def total(load: float, body: Body = HIM, **motion: Any) -> float:
    found = effort_of(movement("moved", motion=motion, **(LOADED if load else {})), load, body)
    assert found is not None
    assert sum(found.joules.values()) == pytest.approx(found.total)
    assert found.watts == pytest.approx(found.total / 2)
    return found.total


def test_the_body_is_the_published_one() -> None:
    segments = {row["segment"]: row for row in rows("body_segments.csv")}
    heights = {row["measure"]: float(row["share_of_stature"]) for row in rows("body_heights.csv")}
    assert float(segments["head arms trunk"]["share_of_body_mass"]) == pytest.approx(ABOVE_HIPS)
    assert heights["upper arm"] + heights["forearm"] + 0.05 == pytest.approx(REACH)
    knee, hip, shoulder = (heights[f"{joint} height"] for joint in ("knee", "hip", "shoulder"))
    stand = POSTURES["stand"]
    assert (stand.knee, stand.hip, stand.shoulder) == pytest.approx((knee, hip, shoulder))
    mass = {name: float(row["share_of_body_mass"]) for name, row in segments.items()}
    low = {n: float(row["centre_from_distal"]) for n, row in segments.items() if row["centre_from_distal"]}
    ankle = heights["ankle height"]
    by_hand = (
        2 * mass["foot"] * ankle / 2
        + 2 * mass["leg (shank)"] * (ankle + low["leg (shank)"] * (knee - ankle))
        + 2 * mass["thigh"] * (knee + low["thigh"] * (hip - knee))
        + mass["trunk head neck"] * (hip + 0.660 * (shoulder - hip))
        + 2 * mass["total arm"] * (shoulder - 0.530 * (heights["upper arm"] + heights["forearm"]))
    )
    assert stand.centre == pytest.approx(by_hand)
    assert stand.centre == pytest.approx(0.582, abs=0.0005)


def test_angles_are_those_that_are_written_down() -> None:
    names = {"pull_from_the_floor": "pull", "low_pick-up": "low_pull", "bar_at_the_knee": "at_knee"}
    names |= {"bottom_of_a_push-up": "push_up_low", "sitting_up": "sitting"}
    for row in rows("posture_angles.csv"):
        name = row["posture"].replace(" ", "_")
        posture: Any = POSTURES[names.get(name, name)]  # type: ignore[index]
        if row["centre_of_mass"]:
            assert posture.centre == float(row["centre_of_mass"])
        else:
            angles = tuple(int(row[part]) for part in ("shank", "thigh", "trunk"))
            assert posture.angles == angles
            s, t, r = map(radians, angles)
            assert posture.shoulder == pytest.approx(0.039 + 0.246 * cos(s) + 0.245 * cos(t) + 0.288 * cos(r))


def test_the_worked_examples_come_out() -> None:
    """80 kg, 1.78 m: a squat 438 J; 40 kg from the floor to overhead 750 J, 900 if lowered under control."""
    rise = POSTURES["stand"].centre - POSTURES["deep_squat"].centre
    assert rise == pytest.approx(0.261, abs=0.0005)
    assert total(0, path=["stand", "deep_squat"]) == pytest.approx(438, abs=1)
    still = {"path": ["stand floor", "stand overhead"]}  # the body stays where it is
    bar = movement("bar", motion=still | {"thrown": True}, **LOADED, setups=[{"needs": ["barbell"]}])
    lowered = movement("bar", motion=still, **LOADED, setups=[{"needs": ["barbell"]}])
    thrown_off, put_down = (effort_of(m, 40, HIM) for m in (bar, lowered))
    assert thrown_off is not None
    assert put_down is not None
    assert thrown_off.total == pytest.approx(750, abs=2)
    assert put_down.total == pytest.approx(900, abs=2)


def test_closed_forms_of_a_jump_a_box_and_a_hop() -> None:
    squat = total(0, path=["stand", "deep_squat"])
    assert total(0, path=["stand", "deep_squat"], flight_m=0.25) == pytest.approx(
        squat + 1.2 * 9.81 * 80 * 0.25
    )
    assert total(20, path=["stand hands"], climb_m=0.5) == pytest.approx(1.2 * 9.81 * 100 * 0.5)
    assert total(0, path=["dip", "stand"], elastic_percent=50) == pytest.approx(
        total(0, path=["dip", "stand"]) / 2
    )


def test_who_does_it_on_the_feet() -> None:
    """A press is the arms', a hinge the hips' for the most part, a squat the legs'."""

    def most(path: list[str]) -> str:
        found = effort_of(movement("m", motion={"path": path}, **LOADED), 40, HIM)
        assert found is not None
        return max(found.joules, key=lambda part: found.joules[part])

    assert most(["stand rack", "stand overhead"]) == "arms"
    assert most(["stand hands", "hinge hands"]) == "hips"
    assert most(["stand rack", "deep_squat rack"]) == "legs"
    assert most(["supine", "sitting"]) == "trunk"
    assert most(["hang", "bar_at_chin"]) == "arms"


def test_machines_are_the_published_tables() -> None:
    for row in rows("rowing_pace_power.csv"):
        assert row_watts(float(row["pace_s_per_m"])) == pytest.approx(float(row["watts"]), abs=0.001)
        assert display_watts(float(row["display_kcal_per_hour"])) == pytest.approx(
            float(row["watts"]), abs=0.02
        )
    runs = [
        row for row in rows("metabolic_examples.csv") if row["mode"] == "running" and "%" not in row["case"]
    ]
    assert len(runs) == 2
    for row, speed in zip(runs, (160.8, 1000 / 6), strict=True):
        assert running_met(speed) == pytest.approx(float(row["met"]), abs=0.001)


def test_a_carry_by_hand() -> None:
    """80 kg with 40 kg at 1.25 m/s: 1.5 x 80 + 2 x 120 x 0.25 + 120 x 1.5 x 1.5625."""
    assert carry_watts(80, 40, 1.25) == pytest.approx(120 + 60 + 281.25)


@given(st.sampled_from(list(CATALOGUE.movements.values())), st.floats(0, 100), st.floats(1, 50))
def test_more_load_is_never_less_work(one: Any, load: float, more: float) -> None:
    less, greater = effort_of(one, load, HIM), effort_of(one, load + more, HIM)
    assert less is not None
    assert greater is not None
    assert greater.total >= less.total - 1e-9
    assert greater.on_load >= less.on_load - 1e-9


@given(st.sampled_from(["hands", "waist", "rack", "eyes"]), st.floats(1, 100))
def test_higher_is_more_work(place: str, load: float) -> None:
    assert total(load, path=["pull floor", f"stand {place}"]) < total(
        load, path=["pull floor", "stand overhead"]
    )


@given(st.floats(1.3, 2.2), st.floats(0.01, 0.1))
def test_a_taller_athlete_does_more(stature: float, more: float) -> None:
    path = ["stand rack", "deep_squat rack"]
    assert total(30, Body(80, stature), path=path) < total(30, Body(80, stature + more), path=path)


def test_every_shipped_movement_has_a_row_and_sane_watts() -> None:
    """Everything moves something; nobody keeps up more than 600 W; a halo is the least."""
    rows = (SHARED / "catalogue" / "work.yaml").read_text(encoding="utf-8")
    for one in CATALOGUE.movements.values():
        assert re.search(rf"\b{one.id}\b", rows), one.id
        for tier in one.doses or one.kg or {"open": ()}:
            found = effort_of(one, load_in_hands_kg(one, tier, TYPICAL), TYPICAL.body, tier)
            assert found is not None
            assert 5 < found.watts < 600, (one.id, tier, found.watts)


@pytest.mark.parametrize(
    ("motion", "said"),
    [
        ({"path": ["stand", "deap_squat"]}, 'Did you mean "deep_squat"?'),
        ({"path": ["stand rac", "stand"]}, 'there is no height of a load "rac"'),
        ({"path": ["stand"]}, "two stops at least"),
        ({"path": ["stand", "hinge"], "met": 3}, "say one of path"),
        ({}, "say one of path"),
    ],
)
def test_a_motion_that_says_nothing_sensible_is_refused(motion: dict[str, Any], said: str) -> None:
    with pytest.raises(ValidationError, match=said):
        Motion.model_validate(motion)
