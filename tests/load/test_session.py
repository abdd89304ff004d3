"""Sessions that a coach wrote, with the line of what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.domain.plan import SessionPlan
from planner.errors import DataError
from planner.load.session import session_from_file, session_notes
from tests.solve.demo import shipped

GOOD = """\
day: wed
shape: rounds_for_time_5_of_2_medium
strength:
  - movement: Front Squat
    scheme: five_by_five
conditioning:
  - movement: air squat
    dose: 20
  - movement: kettlebell_swing
    dose: 20
    tier: moderate
"""


def read(path: Path) -> SessionPlan:
    """For the demo gym, open on three days."""
    catalogue, gym, _ = shipped()
    changed = {"days": ("mon", "wed", "fri"), "hard_days": (), "easy_days": ()}
    return session_from_file(path, catalogue, gym.model_copy(update=changed))


def test_a_session_by_hand(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text(GOOD, encoding="utf-8")
    made = read(path)
    floor = made.versions["floor"]
    assert (made.day, list(made.versions)) == ("wed", ["floor"])
    assert [x.movement for x in floor.strength] == ["front_squat"]
    assert [(x.movement, x.dose, x.tier) for x in floor.conditioning] == [
        ("air_squat", 20, "open"),
        ("kettlebell_swing", 20, "moderate"),
    ]


@pytest.mark.parametrize(
    ("change", "line", "words"),
    [
        (("day: wed", "day: tue"), 1, "closed on Tuesday"),
        (("day: wed", "day: wedd"), 1, 'Did you mean "wed"'),
        (("_of_2_medium", "_of_2_mediun"), 2, 'Did you mean "rounds_for_time_5_of_2_medium"'),
        (("_of_2_medium", "_of_3_medium"), 6, "has 3 movements, and here are 2"),
        (("Front Squat", "Front Squatt"), 4, 'Did you mean "front_squat"'),
        (("five_by_five", "five_by_fve"), 5, 'Did you mean "five_by_five"'),
        (("scheme: five", "assistance: true\n    scheme: five"), 3, "main lift"),
        (("dose: 20\n  - movement: kettle", "tier: open\n  - movement: kettle"), 7, '"dose" is missing'),
        (("tier: moderate", "tier: open"), 11, "is written with tier: light or moderate or heavy"),
        (("kettlebell_swing", "air squat"), 9, "a second time"),
        (("    dose: 20\n  - ", "    dose: twenty\n  - "), 8, "whole number"),
        (("shape:", "shap: 1\nshape:"), 2, "unknown key"),
    ],
)
def test_what_is_wrong_in_a_session_by_hand(
    change: tuple[str, str], line: int, words: str, tmp_path: Path
) -> None:
    path = tmp_path / "mine.yaml"
    assert change[0] in GOOD
    path.write_text(GOOD.replace(*change, 1), encoding="utf-8")
    with pytest.raises(DataError) as caught:
        read(path)
    said = [x for x in str(caught.value).split("\n") if words in x]
    assert said, str(caught.value)
    assert said[0].startswith(f"{path}:{line}: "), str(caught.value)


def test_what_is_unusual_is_kept_and_said(tmp_path: Path) -> None:
    """Too short a round is the coach's own business; so is more of a movement than is usual in a piece."""
    path = tmp_path / "mine.yaml"
    path.write_text(GOOD.replace("dose: 20", "dose: 8", 1), encoding="utf-8")
    short = read(path)
    path.write_text(GOOD.replace("dose: 20", "dose: 400", 1), encoding="utf-8")
    long = read(path)

    catalogue, _, _ = shipped()

    assert any("for one round" in note for note in session_notes(short, catalogue))
    assert any("usual are up to" in note for note in session_notes(long, catalogue))
    assert long.versions["floor"].conditioning[0].dose == 400
