"""The drawn gyms are what they are said to be, so that what is shown on them is worth something."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.domain.week import Week
from planner.load.gym import load_gym
from planner.solve.model.master import build_master, set_ceiling
from planner.solve.model.view import least_of
from planner.solve.search.solver import Budget, solve_layer
from planner.weeks.keepable import solved
from planner.weeks.setting import Setting
from tests.gyms import drawn, drawn_gym, kept_in, with_past
from tests.render.sample_week import sample_week
from tests.solve.demo import WEEK, shipped


def test_forty_gyms_span_what_is_said_of_them_and_a_number_always_gives_the_same() -> None:
    gyms = [drawn_gym(n) for n in range(40)]

    assert gyms == [drawn_gym(n) for n in range(40)]
    assert len({g.model_dump_json() for g in gyms}) == 40
    assert {len(g.days) for g in gyms} == {3, 4, 5, 6, 7}
    assert {len(g.kits) for g in gyms} == {2, 3, 4}
    assert min(len(g.inventory) for g in gyms) == 6
    assert max(len(g.inventory) for g in gyms) == 20
    assert 4 <= min(g.class_.size for g in gyms) <= 5
    assert 19 <= max(g.class_.size for g in gyms) <= 20


def test_odd_gyms_are_scarcer() -> None:
    def things(number: int) -> int:
        gym = drawn_gym(number)
        return sum(gym.count(item) for item in gym.inventory)

    assert sum(map(things, range(1, 40, 2))) < sum(map(things, range(0, 40, 2))) / 2


def test_a_gym_is_kept_as_a_folder_that_reads_back(tmp_path: Path) -> None:
    setting = drawn(3)

    assert load_gym(kept_in(tmp_path, setting), shipped()[0]) == setting.gym


def test_weeks_behind_a_gym_follow_each_other_each_with_those_before_it() -> None:
    asked: list[tuple[str, tuple[str, ...]]] = []

    def draft(setting: Setting) -> Week:
        asked.append((setting.week, tuple(w.week for w in setting.history)))
        return sample_week().model_copy(update={"week": setting.week})

    made = with_past(drawn(0), 3, draft)

    assert WEEK == "2026-W49"
    assert asked == [
        ("2026-W46", ()),
        ("2026-W47", ("2026-W46",)),
        ("2026-W48", ("2026-W47", "2026-W46")),
    ]
    assert tuple(w.week for w in made.history) == ("2026-W48", "2026-W47", "2026-W46")
    assert made.gym == drawn_gym(0)


@pytest.mark.slow
def test_every_gym_has_a_week_and_at_least_half_cannot_have_every_layer_at_its_least() -> None:
    out_of_reach = 0
    for number in range(8):
        here, found = solved(drawn(number).problem(), 2.0)
        assert found.plan is not None, f"gym {number} has no week"
        master = build_master(here)  # without what such a gym cannot keep
        for name, layer in master.layers.items():
            set_ceiling(master, name, least_of(master.model, layer))
        out_of_reach += solve_layer(master.model, None, Budget(0.5, 1)).status == "impossible"

    assert out_of_reach >= 4
