"""Rows of work.yaml: found by movement, and refused in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import DataError
from planner.load.catalogue import load_catalogue

ROWS = """\
rows:
  - {of: [air_squat], path: [stand, deep_squat]}
patterns:
  squat: {path: [stand rack, half_squat rack]}
"""


def test_a_row_wins_and_the_pattern_serves_the_rest(folder: Path) -> None:
    (folder / "work.yaml").write_text(ROWS, encoding="utf-8")
    movements = load_catalogue(folder).movements
    assert movements["air_squat"].motion is not None
    assert movements["air_squat"].motion.path == ("stand", "deep_squat")
    assert movements["back_squat"].motion is not None
    assert movements["back_squat"].motion.path == ("stand rack", "half_squat rack")


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (ROWS.replace("[air_squat]", "[air_squad]"), 'no movement "air_squad". Did you mean "air_squat"?'),
        (ROWS.replace("[air_squat]", "[air_squat, air_squat]"), "air squat has a row already"),
        (ROWS.replace("deep_squat]", "deep_sqat]"), 'Did you mean "deep_squat"?'),
        (ROWS.replace("patterns:", "pattern:"), 'unknown key "pattern"'),
    ],
)
def test_mistakes_are_said_with_their_line(folder: Path, rows: str, said: str) -> None:
    (folder / "work.yaml").write_text(rows, encoding="utf-8")
    with pytest.raises(DataError) as error:
        load_catalogue(folder)
    assert said in str(error.value)
    assert "work.yaml:" in str(error.value)
