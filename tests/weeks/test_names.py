"""What a coach's words mean."""

from __future__ import annotations

import pytest

from planner.errors import DataError
from planner.weeks import names
from planner.weeks.setting import Setting
from tests.solve.demo import shipped
from tests.weeks import small


@pytest.fixture
def setting() -> Setting:
    """Three days, all movements."""
    catalogue, gym, rules = shipped()
    gym = gym.model_copy(update={"days": small.DAYS, "hard_days": (), "easy_days": ()})
    return Setting(catalogue, gym, rules, (), "2026-W49")


def test_movements_by_id_or_name_and_the_nearest_word(setting: Setting) -> None:
    for word in ("bench_press", "bench press", " Bench  Press", "bench-press"):
        assert names.movement_named(setting.catalogue, word) == "bench_press"
    with pytest.raises(DataError, match='Did you mean "bench press"'):
        names.movement_named(setting.catalogue, "bench pres")


def test_items_and_days(setting: Setting) -> None:
    plural = setting.catalogue.items["rower"].plural
    assert {names.item_named(setting, w) for w in ("rower", plural, plural.title())} == {"rower"}
    with pytest.raises(DataError, match="in this gym"):
        names.item_named(setting, "trampoline")
    assert names.day_named("Thursday") == names.day_named("thu") == "thu"
    with pytest.raises(DataError, match="Known: mon, tue"):
        names.day_named("x")
