"""Stand-ins keep the stimulus: measured on questions that were answered by hand beforehand."""

from __future__ import annotations

import pytest

from tests.facts.stand_ins import Answer, answers, score


@pytest.fixture(scope="module")
def given() -> list[Answer]:
    return answers()


@pytest.mark.parametrize("half", ["tuned", "held_out"])
def test_the_first_is_the_coachs_in_70_percent_and_one_of_three_in_90(given: list[Answer], half: str) -> None:
    count, first, found = score(given, half)
    assert count == 30
    assert first / count >= 0.70
    assert found / count >= 0.90
