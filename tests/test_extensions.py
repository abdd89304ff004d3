"""A sheet, a verb and a kind of rule from another package, found by entry points, at work from end to end."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).parents[1]
OUTSIDE = ROOT / "tests" / "outside"
WEEK = "2026-W49"
RULES = """\
rules:
  - {id: soft-start, kind: soft_start, hardest: 7, must: true, because: people come back from two days off}
  - {id: softer-start, kind: soft_start, hardest: 2, weight: 3, because: the softer the better on a Monday}
"""


def planner(*words: object, extras: Path = OUTSIDE) -> subprocess.CompletedProcess[str]:
    """The command, in a Python that has the other package."""
    environment = os.environ | {"PYTHONPATH": f"{ROOT}{os.pathsep}{extras}", "COLUMNS": "200"}
    command = [sys.executable, "-m", "planner", *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, check=False, env=environment)


def small_gym(folder: Path) -> Path:
    """The starter's gym on three days with two kit versions: quickly drafted."""
    shutil.copytree(ROOT / "shared" / "starter", folder)
    gym = yaml.safe_load((folder / "gym.yaml").read_text(encoding="utf-8"))
    gym |= {"days": ["mon", "wed", "fri"], "kits": gym["kits"][:2], "hard_days": [], "easy_days": []}
    (folder / "gym.yaml").write_text(yaml.safe_dump(gym, sort_keys=False), encoding="utf-8")
    (folder / "rules.yaml").write_text(RULES, encoding="utf-8")
    return folder


def test_all_three_from_end_to_end(tmp_path: Path) -> None:
    gym, kept = small_gym(tmp_path / "gym"), tmp_path / "week.json"

    listed = planner("rules", "--gym", gym)
    assert re.search(r"soft-start.+must.+begins with a session rated 7 at most", listed.stdout), listed.stderr
    assert "busiest" in planner("--help").stdout

    drafted = planner(
        "draft", gym, "--week", WEEK, "--seconds", 2, "--out", tmp_path / "w.html", "--json", kept
    )
    assert drafted.returncode == 0, drafted.stderr
    week = json.loads(kept.read_text(encoding="utf-8"))
    first = week["sessions"][0]
    measured = {rule["id"]: rule["measure"] for rule in week["rules"]}
    assert first["rating"] <= 7
    assert (measured["soft-start"], measured["softer-start"]) == (0, max(0, first["rating"] - 2))
    weights = {rule["id"]: rule["weight"] for rule in week["rules"]}
    price = sum(weights[rule] * measure for rule, measure in measured.items())
    layers = {tier["name"]: tier["objective"] for tier in week["proof"]["tiers"]}
    assert layers["Rules that may give way"] == price > 0

    (gym / "rules.yaml").write_text(RULES.replace("hardest: 7", "hardest: 0"), encoding="utf-8")
    audited = planner("audit", kept, "--gym", gym)
    assert audited.returncode == 1
    assert f"Monday is too hard a start by {first['rating']}." in audited.stdout

    sheets = planner("sheets", gym, WEEK, "--to", tmp_path / "out")
    assert sheets.returncode == 0, sheets.stderr
    page = (tmp_path / "out" / "setting_out.html").read_text(encoding="utf-8")
    assert "<h2>Monday</h2>" in page
    assert "--paper" in page, "the sheet has the style of the others"
    assert 'href="setting_out.html"' in (tmp_path / "out" / "index.html").read_text(encoding="utf-8")
    alone = planner("sheets", gym, WEEK, "--to", tmp_path / "one", "--only", "setting_out")
    assert alone.returncode == 0
    assert {path.name for path in (tmp_path / "one").iterdir()} == {"index.html", "setting_out.html"}

    asked = planner("busiest", gym, WEEK)
    most = max(session["load_au"] for session in week["sessions"])
    assert f"asks most: planned load {most}." in asked.stdout
    unknown = planner("busiest", gym, WEEK, "--candidate", "Q")
    assert (unknown.returncode, "Traceback" in unknown.stderr) == (2, False)


@pytest.mark.parametrize(
    ("group", "value", "words", "said"),
    [
        ("verbs", "nowhere.at_all:verb", ("weeks", "demo"), "the package broken"),
        ("verbs", "math:gcd", ("weeks", "demo"), 'a verb "draft"'),
        ("rule_kinds", "planner.rules.limit", ("rules",), 'a kind of rule "limit"'),
        ("rule_kinds", "nowhere.at_all", ("rules",), "Mend that package"),
        ("sheets", "nowhere.at_all:KIND", ("sheets", "week.json"), "the package broken"),
    ],
)
def test_what_cannot_be_added_is_said(
    group: str, value: str, words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    info = tmp_path / "broken-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: broken\nVersion: 1.0\n", encoding="utf-8")
    (info / "entry_points.txt").write_text(f"[planner.{group}]\ndraft = {value}\n", encoding="utf-8")
    if "week.json" in words:
        from tests.render.sample_week import sample_week

        (tmp_path / "week.json").write_text(sample_week().model_dump_json(), encoding="utf-8")
        words = ("sheets", str(tmp_path / "week.json"), "--to", str(tmp_path / "out"))

    answer = planner(*words, extras=tmp_path)

    assert answer.returncode == 2, answer.stderr
    assert said in answer.stderr
    assert "Traceback" not in answer.stderr
