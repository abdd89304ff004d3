"""Graphs, coverage and what a check of the catalogue says, on a catalogue of a handful."""

from __future__ import annotations

from typing import Any

import networkx as nx
import pytest

from planner.domain.at_hand import held_items
from planner.domain.catalogue import Catalogue, Format, Item, Movement, Scheme, Shape, TimeDomain
from planner.domain.graph import (
    check_catalogue,
    coverage,
    coverage_rows,
    critical_item,
    easier_cycle,
    easier_graph,
    item_losses,
    no_kit_reachable,
    substitution_graph,
)
from planner.domain.gym import Gym
from planner.domain.substitution import substitution_cost
from tests.domain.test_substitution import LOADED, movement

BAR_SQUAT = movement(
    "bar_squat",
    setups=[{"needs": ["barbell"]}],
    easier=[{"to": "air_squat", "how": "without a bar"}],
    **LOADED,
)
BOX_JUMP = movement("box_jump", patterns={"jump": 100}, setups=[{"needs": ["box"]}], takes={"contacts": 1})
JUMP = movement("jump", patterns={"jump": 100}, takes={"contacts": 1})
DEADLIFT = movement("deadlift", patterns={"trunk": 100}, setups=[{"needs": ["barbell"]}], **LOADED)


def catalogue(*movements: Movement) -> Catalogue:
    shape = Shape(
        id="three",
        format="rounds",
        rounds=3,
        movements=1,
        domain="short",
        window_tenths=(800, 1400),
        cap_minutes=8,
        effort=5,
        title="3 rounds for time",
    )
    scheme = Scheme(
        id="fives",
        name="Fives",
        goal="strength",
        sets=5,
        reps=5,
        tier="heavy",
        reserve=2,
        rest_s=120,
        effort=3,
        seconds_per_rep=3,
        limited="slowly",
        limited_reps=8,
        say="Fives.",
    )
    return Catalogue(
        items={
            "barbell": Item(id="barbell", name="barbell", plural="barbells"),
            "box": Item(id="box", name="box", plural="boxes"),
        },
        movements={m.id: m for m in movements},
        drills={},
        schemes={"fives": scheme},
        domains={
            "short": TimeDomain(id="short", name="short", stimulus="", seconds=(240, 420), fatigue_percent=5)
        },
        formats={"rounds": Format(id="rounds", name="", how="", score="", timed="for_time", shapes=(shape,))},
    )


def gym(**changes: Any) -> Gym:
    lifts = {"back_squat": 100}
    values: dict[str, Any] = {
        "name": "Small Place (invented)",
        "days": ["mon"],
        "class": {"size": 6, "minutes": 55, "skill": 2},
        "inventory": {"barbell": {20: 4}, "box": 0},
        "kits": [
            {"id": "floor", "name": "Gym floor", "contains": ["everything"]},
            {"id": "no_kit", "name": "No kit"},
        ],
        "athletes": [
            {"id": "man", "name": "Man", "bar_kg": 20, "lifts": lifts},
            {"id": "woman", "name": "Woman", "bar_kg": 20, "lifts": lifts},
        ],
    }
    return Gym.model_validate(values | changes)


SMALL = catalogue(BAR_SQUAT, movement(), BOX_JUMP, JUMP, DEADLIFT)


def test_easier_edges_carry_what_they_change() -> None:
    graph = easier_graph(SMALL)
    assert list(graph.edges(data="how")) == [("bar_squat", "air_squat", "without a bar")]
    assert set(graph.nodes) == set(SMALL.movements)
    assert easier_cycle(SMALL) == ()


def test_a_circle_is_named_and_is_an_error() -> None:
    circle = catalogue(BAR_SQUAT, movement(easier=[{"to": "bar_squat", "how": "not easier"}]))
    assert easier_cycle(circle) == ("bar_squat", "air_squat")
    assert check_catalogue(circle)[0].level == "error"
    assert "bar_squat -> air_squat" in check_catalogue(circle)[0].text


@pytest.mark.parametrize("limit", [0, 20, 60, 100])
def test_stand_ins_up_to_the_limit(limit: int) -> None:
    graph = substitution_graph(SMALL, limit)
    pairs = [(a, b) for a in SMALL.movements.values() for b in SMALL.movements.values() if a.id != b.id]
    wanted = {(a.id, b.id): substitution_cost(a, b) for a, b in pairs if substitution_cost(a, b) <= limit}
    assert nx.get_edge_attributes(graph, "weight") == wanted


def test_coverage_counts_by_main_pattern_kit_and_skill() -> None:
    assert coverage(SMALL, None)["jump"] == {"everything": 2, "no_kit": 1}
    assert held_items(gym(), gym().kits[0]) == {"barbell"}  # the gym has no box left
    table = coverage(SMALL, gym())
    assert table["jump"] == {"floor": 1, "no_kit": 1}
    assert table["trunk"] == {"floor": 1, "no_kit": 0}
    assert table["carry"] == {"floor": 0, "no_kit": 0}
    hard = catalogue(movement(skill=3))
    assert coverage(hard, gym())["squat"] == {"floor": 0, "no_kit": 0}
    assert coverage_rows(SMALL, gym())[0] == ("Pattern", "Gym floor", "No kit")
    assert coverage_rows(SMALL, gym())[-1] == ("All", "4", "2")


def test_the_nearest_without_equipment() -> None:
    near = no_kit_reachable(SMALL)
    assert near["air_squat"] == "air_squat"
    assert near["bar_squat"] == "air_squat"
    assert near["box_jump"] == "jump"
    assert near["deadlift"] is None
    eased = DEADLIFT.model_copy(update={"easier": BAR_SQUAT.easier})
    assert no_kit_reachable(catalogue(eased, movement()))["deadlift"] == "air_squat"


def test_the_item_whose_loss_hurts_most() -> None:
    losses = {loss.item: loss for loss in item_losses(SMALL)}
    assert losses["barbell"].movements == ("bar_squat", "deadlift")
    assert losses["box"].movements == ("box_jump",)
    assert losses["box"].cost == substitution_cost(BOX_JUMP, JUMP)
    worst = critical_item(SMALL)
    assert worst == losses["barbell"]
    assert critical_item(catalogue(JUMP)) is None


def _texts(level: str, of: Catalogue, for_gym: Gym | None = None) -> str:
    return "\n".join(f.text for f in check_catalogue(of, for_gym) if f.level == level)


def test_check_says_what_nothing_can_stand_for() -> None:
    errors = _texts("error", SMALL)
    assert "No movement without equipment can stand for deadlift" in errors
    assert "Nothing can stand for deadlift" in errors
    assert "bar_squat" not in errors


def test_check_says_what_no_week_can_use() -> None:
    warnings = _texts("warning", SMALL, gym())
    assert "No week can use box_jump: the gym lacks the equipment." in warnings
    assert "jump: no scheme" not in warnings
    skilled = catalogue(movement(skill=3))
    assert "it asks skill 3, the class has 2" in _texts("warning", skilled, gym())
    too_slow = catalogue(movement(pace={"seconds": 100, "source": "common practice"}))
    assert "no dose of it fits a conditioning piece" in _texts("warning", too_slow)
    powerful = catalogue(movement(roles=["main"], goals=["power"]))
    assert "no scheme has its goals" in _texts("warning", powerful)
    strong = catalogue(movement(roles=["main"], goals=["strength"]))
    assert "No week" not in _texts("warning", strong)


def test_check_says_what_is_thin() -> None:
    warnings = _texts("warning", SMALL)
    assert "Only 2 movements have squat as their main pattern" in warnings
    assert "Only 2 movements need no equipment" in warnings
    many = [movement(f"squat_{n}") for n in range(25)]
    assert "squat as their main" not in _texts("warning", catalogue(*many))
    assert "need no equipment" not in _texts("warning", catalogue(*many))


def test_check_says_what_is_out_of_reach_and_the_nearest() -> None:
    infos = _texts("info", SMALL, gym())
    cost = substitution_cost(DEADLIFT, SMALL.movements["air_squat"])
    near = f"the nearest stand-in is air_squat for deadlift, cost {cost} of 100"
    assert f"Trunk is out of reach in the version No kit; {near}." in infos
    assert "Carry is out of reach in the version Gym floor." in infos
    assert "The loss of all barbells would hurt most: 2 movements" in infos


def test_errors_come_first() -> None:
    levels = [f.level for f in check_catalogue(SMALL, gym())]
    assert levels == sorted(levels, key=["error", "warning", "info"].index)
