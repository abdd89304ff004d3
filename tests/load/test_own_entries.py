"""A gym's own movements, schemes and formats, beside its gym.yaml."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner import paths
from planner.errors import DataError
from planner.load.catalogue import load_catalogue

MOVEMENT = """\
movements:
  - id: keg_shoulder
    name: keg to the shoulder
    patterns: {hinge: 70, vertical_pull: 30}
    modality: loaded
    setups: [{needs: [sandbag]}]
    roles: [conditioning]
    doses: {moderate: [1, 4, 6, 8]}
    cap: 40
    pace: {seconds: 5, source: not checked, steady_to: 6, slower_percent: 5}
    kg: {moderate: [50, 35]}
    standard: From the floor to rest on one shoulder, then down under control.
    points: ["Lap it first"]
    prepares: [hips, trunk]
"""
SCHEME = """\
schemes:
  - {id: seven_by_two, name: Seven sets of two, goal: strength, sets: 7, reps: 2, tier: heavy, reserve: 2,
     rest_s: 120, build_up: [[60, 5]], effort: 3, seconds_per_rep: 3.5, limited_reps: 6,
     limited: "slow down, fast up", say: "Twos, all alike."}
"""
FORMAT = """\
formats:
  - id: sprints
    name: sprints
    timed: for_time
    how: "One round, flat out."
    score: "Your time."
    shapes: [{movements: [2], domain: short, effort: 5}]
"""
SHIPPED = paths.home().shared / "catalogue"


def test_a_gyms_own_entries_are_among_the_catalogues(tmp_path: Path) -> None:
    for name, text in (("movements", MOVEMENT), ("schemes", SCHEME), ("formats", FORMAT)):
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    ours, hers = load_catalogue(SHIPPED), load_catalogue(SHIPPED, tmp_path)

    assert hers.movements.keys() - ours.movements.keys() == {"keg_shoulder"}
    assert hers.schemes.keys() - ours.schemes.keys() == {"seven_by_two"}
    assert hers.formats.keys() - ours.formats.keys() == {"sprints"}
    assert [s.format for s in hers.shapes.values()][-1] == "sprints"


@pytest.mark.parametrize(
    ("file", "text", "line", "words"),
    [
        ("movements.yaml", MOVEMENT.replace("keg_shoulder", "air_squat"), 2, 'the id "air_squat" is taken'),
        ("movements.yaml", MOVEMENT.replace("[sandbag]", "[keg]"), 6, 'there is no equipment "keg"'),
        ("schemes.yaml", SCHEME.replace("reps: 2", "reps: two"), 2, "whole number"),
        ("formats.yaml", FORMAT.replace("sprints\n", "ladder\n", 1), None, "format ladder is there twice"),
    ],
)
def test_they_are_checked_like_the_catalogues(
    file: str, text: str, line: int | None, words: str, tmp_path: Path
) -> None:
    (tmp_path / file).write_text(text, encoding="utf-8")
    with pytest.raises(DataError) as caught:
        load_catalogue(SHIPPED, tmp_path)
    said = str(caught.value)
    assert words in said
    assert f"{tmp_path / file}{f':{line}' if line else ''}" in said
