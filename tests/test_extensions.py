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


DRIVER = """
import contextlib, io, json, sys
from planner.cli import main
answers = []
for words in json.load(sys.stdin):
    sys.argv, said, code = ["planner", *words], io.StringIO(), 0
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        try:
            main()
        except SystemExit as end:
            code = end.code or 0
    answers.append([code, said.getvalue()])
json.dump(answers, sys.stdout)
"""


def planner(*commands: tuple[object, ...], extras: Path = OUTSIDE) -> list[tuple[int, str]]:
    """Exit code and words of each command, one after another in a Python that has the other package."""
    environment = os.environ | {"PYTHONPATH": f"{ROOT}{os.pathsep}{extras}", "COLUMNS": "200"}
    words = json.dumps([[str(word) for word in command] for command in commands])
    ran = subprocess.run(
        [sys.executable, "-c", DRIVER],
        input=words,
        capture_output=True,
        text=True,
        check=False,
        env=environment,
    )
    assert ran.returncode == 0, ran.stderr
    return [(code, said) for code, said in json.loads(ran.stdout)]


def small_gym(folder: Path, rules: str) -> Path:
    """The starter's gym on three days, without kit versions: quickly drafted."""
    shutil.copytree(ROOT / "shared" / "starter", folder)
    gym = yaml.safe_load((folder / "gym.yaml").read_text(encoding="utf-8"))
    gym |= {"days": ["mon", "wed", "fri"], "kits": gym["kits"][:1], "hard_days": [], "easy_days": []}
    (folder / "gym.yaml").write_text(yaml.safe_dump(gym, sort_keys=False), encoding="utf-8")
    (folder / "rules.yaml").write_text(rules, encoding="utf-8")
    return folder


def test_all_three_from_end_to_end(tmp_path: Path) -> None:
    gym, kept = small_gym(tmp_path / "gym", RULES), tmp_path / "week.json"
    strict = small_gym(tmp_path / "strict", RULES.replace("hardest: 7", "hardest: 0"))

    codes, said = zip(
        *planner(
            ("--help",),
            ("rules", "--gym", gym),
            ("draft", gym, "--week", WEEK, "--seconds", 1, "--out", tmp_path / "w.html", "--json", kept),
            ("audit", kept, "--gym", strict),
            ("sheets", gym, WEEK, "--to", tmp_path / "all"),
            ("sheets", gym, WEEK, "--to", tmp_path / "one", "--only", "setting_out"),
            ("busiest", gym, WEEK),
            ("busiest", gym, WEEK, "--candidate", "Q"),
        ),
        strict=True,
    )

    assert codes == (0, 0, 0, 1, 0, 0, 0, 2), said
    help_page, listed, _, audited, _, _, busiest, unknown = said
    assert "busiest" in help_page
    assert re.search(r"soft-start.+must.+begins with a session rated 7 at most", listed)

    week = json.loads(kept.read_text(encoding="utf-8"))
    rating = week["sessions"][0]["rating"]
    measured = {rule["id"]: rule["measure"] for rule in week["rules"]}
    assert (measured["soft-start"], measured["softer-start"]) == (max(0, rating - 7), max(0, rating - 2))
    assert measured["soft-start"] == 0
    weights = {rule["id"]: rule["weight"] for rule in week["rules"]}
    layers = {tier["name"]: tier["objective"] for tier in week["proof"]["tiers"]}
    price = sum(weights[rule] * measure for rule, measure in measured.items())
    assert layers["Rules that may give way"] == price > 0
    assert f"Monday is too hard a start by {rating}." in audited

    page = (tmp_path / "all" / "setting_out.html").read_text(encoding="utf-8")
    assert "<h2>Monday</h2>" in page
    assert "--paper" in page, "the sheet has the style of the others"
    assert 'href="setting_out.html"' in (tmp_path / "all" / "index.html").read_text(encoding="utf-8")
    assert {path.name for path in (tmp_path / "one").iterdir()} == {"index.html", "setting_out.html"}

    most = max(session["load_au"] for session in week["sessions"])
    assert f"asks most: planned load {most}." in busiest
    assert 'no candidate "Q"' in unknown


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

    ((code, answer),) = planner(words, extras=tmp_path)

    assert code == 2, answer
    assert said in answer
    assert "Traceback" not in answer
