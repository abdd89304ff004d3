"""A movement that does not hang together is refused, in words for whoever wrote it."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from planner.domain.catalogue import Movement
from tests.prescribe import builders

LOADED = {"modality": "loaded", "lift": {"of": "deadlift", "percent": 90, "source": "test"}}


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"patterns": {"squat": 60, "trunk": 30}}, "add up to 90, they must add up to 100"),
        ({"patterns": {"squat": 60, "trunk": 50}}, "add up to 110, they must add up to 100"),
        ({"doses": {}}, "a conditioning movement needs doses"),
        ({"goals": ()}, "a main lift needs goals"),
        ({"doses": {"light": (5, 10)}}, "those of all others under open"),
        ({**LOADED, "doses": {"open": (5, 10)}}, "go under light, moderate, heavy"),
        ({"modality": "loaded"}, "needs lift"),
        ({"doses": {"open": (10, 5)}}, "must ascend"),
        ({"doses": {"open": (5, 5, 10)}}, "must ascend"),
        ({"doses": {"open": (5, 50)}, "cap": 49}, "has 50, more than the cap of 49"),
    ],
)
def test_what_does_not_hang_together_is_refused(changes: dict[str, Any], said: str) -> None:
    with pytest.raises(ValidationError, match=said):
        builders.movement("hop", **changes)


def test_at_the_edges_it_hangs_together() -> None:
    assert builders.movement("hop", doses={"open": (5, 50)}, cap=50).cap == 50
    assert builders.movement("pull", **LOADED, doses={"light": (5,)}).doses == {"light": (5,)}
    stands_in: Movement = builders.movement("hop", roles=(), goals=(), doses={}, stands_in=())
    assert not stands_in.all_roles


@pytest.mark.parametrize(
    ("patterns", "main"),
    [
        ({"trunk": 40, "squat": 60}, "squat"),
        ({"jump": 50, "horizontal_push": 50}, "horizontal_push"),
        ({"horizontal_push": 50, "jump": 50}, "horizontal_push"),
    ],
)
def test_it_is_counted_as_its_largest_pattern_the_catalogues_first_of_two(
    patterns: dict[str, int], main: str
) -> None:
    assert builders.movement("burpee", patterns=patterns).main_pattern == main
