"""Each command on good input: what it says, what it writes, and its exit code."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Literal

import pytest

from planner.domain.week import RulePlace, RuleResult, Week

Run = Callable[..., object]
STARTER = Path("shared") / "starter"


@pytest.fixture
def drafted(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, object]]:
    """Drafting gives the sheets' sample week at once; notes what it was asked."""
    from planner.weeks import draft as drafting
    from tests.render.sample_week import sample_week

    asked: list[dict[str, object]] = []

    def draft(gym_folder: Path, *, progress: Callable[[str, float], None], **options: object) -> Week:
        progress("Drafting", 0.5)
        asked.append({"gym": gym_folder, **options})
        return sample_week()

    monkeypatch.setattr(drafting, "draft", draft)
    return asked


def test_draft_writes_the_sheet_and_the_json(run: Run, gym: Path, drafted: list[dict[str, object]]) -> None:
    answer = run("draft", "demo", "--week", "2026-W49", "--seed", "7", "--seconds", "3", "--json", "w.json")
    assert answer.code == 0, answer.err
    assert drafted == [{"gym": gym, "week": "2026-W49", "seed": 7, "seconds": 3.0}]
    assert Path("week-2026-W49.html").read_text(encoding="utf-8").startswith("<!doctype html>")
    assert Week.model_validate_json(Path("w.json").read_text(encoding="utf-8")).sessions
    assert "Wrote week-2026-W49.html" in answer.out
    assert "Proof: every must holds." in answer.out
    assert sorted(p.name for p in Path.cwd().iterdir()) == ["w.json", "week-2026-W49.html"]


def test_draft_takes_next_week_unless_told(run: Run, drafted: list[dict[str, object]]) -> None:
    assert run("draft", "demo", "--out", "w.html").code == 0
    week = str(drafted[0]["week"])
    year, number = re.fullmatch(r"(\d{4})-W(\d{2})", week).groups()
    monday = date.fromisocalendar(int(year), int(number), 1)
    assert 0 < (monday - date.today()).days <= 8  # noqa: DTZ011


@pytest.mark.parametrize("form", ["folder", "file", "name"])
def test_a_gym_can_be_named_in_three_ways(
    form: str, run: Run, gym: Path, drafted: list[dict[str, object]]
) -> None:
    word = {"folder": gym, "file": gym / "gym.yaml", "name": "demo"}[form]
    assert run("draft", word, "--out", "w.html").code == 0
    assert drafted[0]["gym"] == gym


def test_sheet_writes_beside_the_week(run: Run, tmp_path: Path) -> None:
    from tests.render.sample_week import sample_week

    (tmp_path / "mine.json").write_text(sample_week().model_dump_json(), encoding="utf-8")
    answer = run("sheet", tmp_path / "mine.json")
    assert answer.code == 0
    assert (tmp_path / "mine.html").read_text(encoding="utf-8").startswith("<!doctype html>")


def _result(level: str, measure: int) -> RuleResult:
    place = RulePlace(place="mon", measure=measure, sentence="Monday: three too many.")
    return RuleResult(
        id=f"some-{level}",
        kind="limit",
        level=level,
        weight=4 if level == "weight" else 0,
        statement="At most one.",
        because="it is enough",
        source="",
        unit="lines",
        checked=6,
        measure=measure,
        cost=4 * measure if level == "weight" else 0,
        places=(place,) if measure else (),
        remedy="Take one out.",
    )


@pytest.mark.parametrize(("broken", "code"), [(0, 0), (3, 1)])
def test_audit_tells_by_its_exit_code(
    broken: int, code: int, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from planner.weeks import audit as auditing
    from tests.render.sample_week import sample_week

    results = (_result("weight", 2), _result("must", broken), _result("watch", 1))
    monkeypatch.setattr(auditing, "audit", lambda _week, _gym, _file: results)
    (tmp_path / "mine.json").write_text(sample_week().model_dump_json(), encoding="utf-8")
    answer = run("audit", tmp_path / "mine.json", "--gym", "demo")
    assert answer.code == code
    assert f"{1 if broken else 0} musts broken; 1 weighted rules gave way, 8 points" in answer.out
    assert "Monday: three too many." in answer.out
    first_row = answer.out.index("some-must" if broken else "some-weight")
    assert first_row < answer.out.index("some-watch")


def test_catalogue_check_shows_the_coverage(run: Run) -> None:
    answer = run("catalogue", "check", "--gym", "demo")
    assert answer.code == 0, answer.out
    for word in ("vertical pull", "Gym floor", "No kit", "0 errors"):
        assert word in answer.out


@pytest.mark.parametrize(("level", "code"), [("error", 1), ("warning", 0), ("info", 0)])
def test_catalogue_check_tells_by_its_exit_code(
    level: Literal["error", "warning", "info"], code: int, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    from planner.domain import graph

    found = (graph.CheckFinding(level, "Something is the matter."),)
    monkeypatch.setattr(graph, "check_catalogue", lambda *_: found)
    answer = run("catalogue", "check")
    assert answer.code == code
    assert f"{level}: Something is the matter." in answer.out


def test_catalogue_list_by_pattern_and_kit(run: Run) -> None:
    everything = run("catalogue", "list").out
    pulls = run("catalogue", "list", "--pattern", "vertical pull").out
    without = run("catalogue", "list", "--pattern", "vertical_pull", "--kit", "no_kit").out
    own = run("catalogue", "list", "--pattern", "vertical_pull", "--kit", "one_plate", "--gym", "demo").out
    by_items = run("catalogue", "list", "--pattern", "vertical_pull", "--kit", "plate").out
    counts = [
        int(re.search(r"(\d+) of \d+ movements", t)[1]) for t in (everything, pulls, without, own, by_items)
    ]
    assert counts[0] > counts[1] > counts[3] >= counts[2] > 0
    assert counts[3] == counts[4]
    assert "(pull_up)" in pulls
    assert "(pull_up)" not in without


@pytest.mark.parametrize(
    ("options", "right"), [(["--pattern", "squatt"], '"squat"'), (["--kit", "plates"], '"plate"')]
)
def test_catalogue_list_knows_the_nearest_word(options: list[str], right: str, run: Run) -> None:
    answer = run("catalogue", "list", *options)
    assert answer.code == 2
    assert f"Did you mean {right}?" in answer.err


def test_rules_lists_where_each_comes_from(run: Run, gym: Path) -> None:
    (gym / "rules.yaml").write_text(
        "rules:\n  - id: easy-day\n    off: true\n    because: we like it hard\n", encoding="utf-8"
    )
    answer = run("rules", "--gym", "demo")
    assert answer.code == 0
    row = next(line for line in answer.out.splitlines() if line.strip().startswith("easy-day "))
    assert "off" in row
    assert "rest.yaml, changed in rules.yaml" in row
    assert "Because we like it hard." in answer.out


def test_schema_of_each_file(run: Run, tmp_path: Path) -> None:
    answer = run("schema", "--out", tmp_path / "schemas")
    assert answer.code == 0
    files = sorted(p.name for p in (tmp_path / "schemas").iterdir())
    assert files == [f"{n}.schema.json" for n in ("gym", "movements", "rules", "week")]
    week = json.loads(run("schema", "week").out)
    assert "schema_version" in week["required"]
    gym = json.loads(run("schema", "gym").out)
    assert "class" in gym["properties"]
    assert "collars_kg" not in gym["required"]
    assert run("schema").code == 2
    assert 'Did you mean "week"?' in run("schema", "weak").err


def test_init_writes_a_gym_that_loads(run: Run, tmp_path: Path) -> None:
    answer = run("init", tmp_path / "mine")
    assert answer.code == 0
    assert sorted(p.name for p in (tmp_path / "mine").iterdir()) == ["README.txt", "gym.yaml", "rules.yaml"]
    listed = run("catalogue", "list", "--kit", "home_barbell", "--gym", tmp_path / "mine")
    assert listed.code == 0, listed.err
    assert "changed" not in run("rules", "--gym", tmp_path / "mine").out


def test_init_leaves_a_folder_that_has_something_in_it(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "notes.txt").write_text("mine", encoding="utf-8")
    answer = run("init", folder)
    assert answer.code == 2
    assert answer.err.startswith(f"{folder}: ")
    assert [p.name for p in folder.iterdir()] == ["notes.txt"]
    assert run("init", folder / "notes.txt").code == 2
    assert run("init", Path("/proc/mine")).code == 2


def test_init_fills_an_empty_folder(run: Run, tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    assert run("init", tmp_path / "mine").code == 0


def test_every_key_of_the_starter_has_a_comment(home: Path) -> None:
    lines = (home / STARTER / "gym.yaml").read_text(encoding="utf-8").splitlines()
    top = [i for i, line in enumerate(lines) if re.match(r"\w+:", line)]
    assert [lines[i].split(":")[0] for i in top if not lines[i - 1].startswith("#")] == []
    from planner.domain.gym import Gym

    fields = {field.alias or name for name, field in Gym.model_fields.items()}
    assert {lines[i].split(":")[0] for i in top} == fields


def test_every_example_of_the_starters_rules_works(home: Path, run: Run, tmp_path: Path) -> None:
    """As the file's own first lines say: delete the [], take the "# " off the example's lines."""
    assert run("init", tmp_path / "mine").code == 0
    path = tmp_path / "mine" / "rules.yaml"
    text = path.read_text(encoding="utf-8").replace("rules: []", "rules:")
    head, examples = text.split("rules:\n", 1)
    path.write_text(head + "rules:\n" + re.sub(r"(?m)^# (?=- |  )", "", examples), encoding="utf-8")
    answer = run("rules", "--gym", tmp_path / "mine")
    assert answer.code == 0, answer.err
    for changed in ("heavy-legs-rest", "easy-day", "hard-days-a-week", "long-piece-a-week"):
        row = next(line for line in answer.out.splitlines() if line.strip().startswith(f"{changed} "))
        assert "rules.yaml" in row


def test_version_and_module(run: Run) -> None:
    import planner

    assert run("--version").out == f"planner {planner.__version__}\n"


def test_the_verbs_are_in_the_package_though_a_subpackage_has_the_same_name() -> None:
    import planner
    import planner.audit.audit
    import planner.weeks.audit
    from planner import audit, draft, read_week, sheet

    assert [f.__module__ for f in (audit, draft, read_week, sheet)] == [
        "planner.weeks.audit", "planner.weeks.draft", "planner.load.gym", "planner.weeks.sheets",
    ]  # fmt: skip
    with pytest.raises(AttributeError):
        planner.nothing  # noqa: B018


@pytest.mark.slow
def test_the_demo_and_the_starter_draft_audit_and_print(run: Run, tmp_path: Path) -> None:
    assert run("init", tmp_path / "mine").code == 0
    for gym in ("demo", tmp_path / "mine"):
        answer = run("draft", gym, "--week", "2026-W49", "--out", "a.html", "--json", "a.json")
        assert answer.code == 0, answer.err
        audited = run("audit", "a.json", "--gym", gym)
        assert audited.code == 0, audited.out
        assert "0 musts broken" in audited.out
        assert run("sheet", "a.json", "--out", "b.html").code == 0
        assert Path("a.html").read_text(encoding="utf-8") == Path("b.html").read_text(encoding="utf-8")
    # A week changed by hand no longer holds: the audit says so.
    week = json.loads(Path("a.json").read_text(encoding="utf-8"))
    for version in week["sessions"][0]["pieces"][1]["versions"].values():
        version["lines"] = []
    Path("a.json").write_text(json.dumps(week), encoding="utf-8")
    assert run("audit", "a.json", "--gym", tmp_path / "mine").code in {1, 2}
    shutil.rmtree(tmp_path / "mine")
