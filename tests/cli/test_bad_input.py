"""Whatever is wrong with the input: one message with its place and the right word; exit 2; nothing lost."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., object]

GYM = "shared/gyms/demo/gym.yaml"
BARBELL = "shared/catalogue/movements/barbell.yaml"
REST = "constraints/rest.yaml"
RULE_LINES = 8
"""What is wrong with a rule as a whole is said on its first line; this far above."""


def spoil(path: Path, old: str, new: str) -> int:
    """Replaces the first occurrence; gives its line."""
    text = path.read_text(encoding="utf-8")
    assert old in text, f"{path.name} has no {old!r} any more"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


def snapshot(*folders: Path) -> dict[Path, tuple[int, bytes]]:
    return {
        p: (p.stat().st_mtime_ns, p.read_bytes())
        for f in folders
        for p in sorted(f.rglob("*"))
        if p.is_file()
    }


FAULTS = {
    "unknown key": (GYM, "timezone:", "timezon:", ["timezon", '"timezone"']),
    "wrong type": (GYM, "size: 12", "size: twelve", ["class.size", "whole number"]),
    "unknown equipment in the gym": (GYM, "  rower: 4", "  rowr: 4", ["inventory.rowr", '"rower"']),
    "unknown equipment in a kit": (GYM, "contains: [plate]", "contains: [plates]", ["contains", '"plate"']),
    "negative count": (GYM, "rack: 4", "rack: -4", ["inventory.rack", "at least 0"]),
    "negative count by mass": (
        GYM,
        "{20: 8, 15: 6}",
        "{20: -8, 15: 6}",
        ["inventory.barbell.20", "at least 0"],
    ),
    "tab": (GYM, "  size: 12", "\tsize: 12", ["tab"]),
    "key twice": (GYM, "  minutes: 55", "  size: 13\n  minutes: 55", ["class.size", "second time"]),
    "unknown lift": (GYM, "snatch: 70", "snach: 70", ["snach", '"snatch"']),
    "unknown day": (GYM, "easy_days: [thu]", "easy_days: [thr]", ["easy_days", "thr"]),
    "unknown equipment in a movement": (
        BARBELL,
        "[barbell, rack]",
        "[barbel, rack]",
        ["barbel", '"barbell"'],
    ),
    "unknown kind of rule": (REST, "kind: spacing", "kind: spacin", ["kind", '"spacing"']),
    "unknown key of a rule": (REST, "hours: 48", "houers: 48", ["houers", '"hours"']),
    "unknown key of a selector": (REST, "{load: heavy}", "{laod: heavy}", ["laod", '"load"']),
    "unknown pattern in a rule": (REST, "pattern: [squat, ", "pattern: [sqat, ", ["sqat", '"squat"']),
    "must and weight": (REST, "    must: true", "    must: true\n    weight: 3", ["not both"]),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_in_a_file_is_said_with_its_place_and_nothing_is_written(
    fault: str, home: Path, run: Run, no_solve: list[str]
) -> None:
    name, old, new, wanted = FAULTS[fault]
    line = spoil(home / name, old, new)
    before = snapshot(home)
    answer = run("draft", "demo", "--week", "2026-W49")
    assert answer.code == 2
    assert answer.err.startswith(f"{home / name}:")
    lines = [int(found) for found in re.findall(r"\.yaml:(\d+)", answer.err)]
    assert any(0 <= line + new.count("\n") - said <= RULE_LINES for said in lines), (line, lines)
    for word in wanted:
        assert word in answer.err
    assert not no_solve
    assert snapshot(home) == before
    assert not list(Path.cwd().iterdir())


def test_every_fault_of_a_file_is_in_one_message(home: Path, gym: Path, run: Run) -> None:
    spoil(gym / "gym.yaml", "size: 12", "size: twelve")
    spoil(gym / "gym.yaml", "rack: 4", "rack: -4")
    answer = run("draft", "demo")
    assert answer.code == 2
    assert "class.size" in answer.err
    assert "inventory.rack" in answer.err


def test_ids_are_unique(home: Path, run: Run) -> None:
    path = home / BARBELL
    ids = re.findall(r"^  - id: (\w+)", path.read_text(encoding="utf-8"), re.MULTILINE)
    spoil(path, f"- id: {ids[1]}\n", f"- id: {ids[0]}\n")
    answer = run("catalogue", "check")
    assert answer.code == 2
    assert f'the id "{ids[0]}" is taken' in answer.err
    assert "barbell.yaml:" in answer.err


def test_rule_ids_are_unique(home: Path, run: Run) -> None:
    spoil(home / REST, "id: heavy-legs-rest", "id: heavy-pattern-rest")
    answer = run("rules")
    assert answer.code == 2
    assert '"heavy-pattern-rest"' in answer.err
    assert "rest.yaml:" in answer.err


def test_easier_options_in_a_circle(home: Path, run: Run) -> None:
    easier, files = {}, {}
    for path in sorted((home / "shared/catalogue/movements").glob("*.yaml")):
        for entry in re.split(r"(?m)^(?=  - id: )", path.read_text(encoding="utf-8"))[1:]:
            name = re.match(r"  - id: (\w+)", entry)[1]
            easier[name], files[name] = re.findall(r"\bto: (\w+)", entry), path
            if re.search(r"(?m)^    easier:", entry) is None:
                easier[name] = []
    softest = [to for tos in easier.values() for to in tos if not easier[to]]
    softer = softest[0]
    harder = next(movement for movement, tos in easier.items() if softer in tos)
    circle = f"    easier: [{{to: {harder}, how: in a circle}}]\n"
    spoil(files[softer], f"- id: {softer}\n", f"- id: {softer}\n{circle}")
    answer = run("catalogue", "check")
    assert answer.code == 2
    assert "circle" in answer.err
    assert harder in answer.err
    assert softer in answer.err


def test_a_selector_that_matches_nothing(home: Path, gym: Path, run: Run, no_solve: list[str]) -> None:
    (gym / "rules.yaml").write_text(
        "rules:\n"
        "  - id: my-own\n    kind: limit\n    where: {movement: air_sqat}\n    at_most: 1\n    weight: 2\n"
        "    because: a typo in a name\n",
        encoding="utf-8",
    )
    answer = run("draft", "demo", "--week", "2026-W49")
    assert answer.code == 2
    assert "my-own" in answer.err
    assert not no_solve


def test_a_change_of_a_rule_that_is_not_there(gym: Path, run: Run) -> None:
    (gym / "rules.yaml").write_text("rules:\n  - id: easy-dya\n    off: true\n", encoding="utf-8")
    answer = run("rules", "--gym", "demo")
    assert answer.code == 2
    assert f"{gym / 'rules.yaml'}:2" in answer.err
    assert '"easy-day"' in answer.err


@pytest.mark.parametrize("text", ["movements: []\n", ""])
def test_an_empty_catalogue(text: str, home: Path, run: Run) -> None:
    for path in (home / "shared/catalogue/movements").glob("*.yaml"):
        path.write_text(text, encoding="utf-8")
    answer = run("draft", "demo")
    assert answer.code == 2
    assert "empty" in answer.err
    assert str(home / "shared/catalogue/movements") in answer.err


@pytest.mark.parametrize(
    ("week", "words"),
    [
        ("2027-W53", "2027 has 52 weeks"),
        ("2026-W00", "2026 has 53 weeks"),
        ("next", "like 2026-W49"),
        ("2026-49", "like 2026-W49"),
    ],
)
def test_a_week_that_is_none(week: str, words: str, run: Run, no_solve: list[str]) -> None:
    answer = run("draft", "demo", "--week", week)
    assert answer.code == 2
    assert words in answer.err
    assert not no_solve


def test_a_gym_file_of_ten_megabytes(gym: Path, run: Run) -> None:
    (gym / "gym.yaml").write_text("# long\n" * 1_500_000, encoding="utf-8")
    answer = run("draft", "demo")
    assert answer.code == 2
    assert "10,500,000 bytes" in answer.err
    assert str(gym / "gym.yaml") in answer.err


def test_a_gym_that_is_not_there_gets_the_nearest_name(run: Run) -> None:
    answer = run("draft", "dmeo")
    assert answer.code == 2
    assert 'Did you mean "demo"?' in answer.err


def test_a_folder_without_a_gym(tmp_path: Path, run: Run) -> None:
    answer = run("draft", tmp_path)
    assert answer.code == 2
    assert "no gym.yaml" in answer.err


@pytest.mark.parametrize("option", ["--out", "--json"])
def test_a_result_that_cannot_be_written_is_said_before_the_search(
    option: str, tmp_path: Path, run: Run, no_solve: list[str]
) -> None:
    blocker = tmp_path / "file"
    blocker.write_text("here first", encoding="utf-8")
    for target in (blocker / "week.html", Path("/proc/week.html"), tmp_path, tmp_path / "gym.yaml"):
        answer = run("draft", "demo", option, target)
        assert answer.code == 2, target
        assert answer.err.startswith(f"{target}: ")
    assert not no_solve
    assert blocker.read_text(encoding="utf-8") == "here first"


def test_no_permission_to_write(
    tmp_path: Path, run: Run, no_solve: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever runs the tests as root may write anywhere, so the refusal is put in by hand."""
    import tempfile

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(tempfile, "TemporaryFile", refuse)
    answer = run("draft", "demo", "--out", tmp_path / "week.html")
    assert answer.code == 2
    assert answer.err.startswith(f"{tmp_path / 'week.html'}: the file cannot be written: Permission denied")
    assert not no_solve


def test_both_results_in_one_file(run: Run, no_solve: list[str]) -> None:
    answer = run("draft", "demo", "--out", "week.html", "--json", "week.html")
    assert answer.code == 2
    assert not no_solve


@pytest.mark.parametrize(
    "options", [["--seed", "-1"], ["--seed", "one"], ["--seconds", "nan"], ["--seconds", "0"]]
)
def test_numbers_out_of_range(options: list[str], run: Run, no_solve: list[str]) -> None:
    answer = run("draft", "demo", *options)
    assert answer.code == 2
    assert options[0] in answer.err
    assert not no_solve


@pytest.mark.parametrize("command", [["audit", "--gym", "demo"], ["sheet"]])
@pytest.mark.parametrize("text", ["", "{}", "[1, 2", '{"week": "2026-W49"}', None])
def test_a_file_that_is_no_week(command: list[str], text: str | None, tmp_path: Path, run: Run) -> None:
    path = tmp_path / "week.json"
    if text is not None:
        path.write_text(text, encoding="utf-8")
    answer = run(*command, path)
    assert answer.code == 2
    assert str(path) in answer.err
    assert not list(tmp_path.glob("*.html"))


def test_clashing_musts_exit_with_3(run: Run, no_solve: list[str]) -> None:
    answer = run("draft", "demo", "--week", "2026-W49")
    assert answer.code == 3
    assert answer.err == "the search would begin here\n"
    assert len(no_solve) == 1
    assert not list(Path.cwd().iterdir())


def test_a_fault_of_ours_is_said_without_a_traceback(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    from planner.weeks import draft as drafting

    def fail(*_: object, **__: object) -> None:
        raise KeyError("tue")

    monkeypatch.setattr(drafting, "draft", fail)
    answer = run("draft", "demo")
    assert answer.code == 70
    assert "planner --debug" in answer.err


def test_debug_shows_the_traceback(home: Path) -> None:
    from typer.testing import CliRunner

    from planner.cli import app
    from planner.errors import DataError

    result = CliRunner().invoke(app, ["--debug", "draft", "nowhere"])
    assert isinstance(result.exception, DataError)


@pytest.mark.parametrize(
    ("selector", "key", "right"),
    [
        ("where: {movement: air_sqat}", "where.movement", "air_squat"),
        ("where: {item: [box, rowr]}", "where.item.#2", "rower"),
        ("where: {scheme: []}\n    each: movement", "", ""),
    ],
)
def test_a_name_in_a_selector_that_the_catalogue_lacks(
    selector: str, key: str, right: str, gym: Path, run: Run
) -> None:
    (gym / "rules.yaml").write_text(
        f"rules:\n  - id: my-own\n    kind: limit\n    {selector}\n    at_most: 1\n    weight: 2\n"
        "    because: a typo in a name\n",
        encoding="utf-8",
    )
    answer = run("rules", "--gym", "demo")
    if not key:
        assert answer.code == 0, answer.err
        return
    assert answer.code == 2
    assert answer.err.startswith(f"{gym / 'rules.yaml'}:4: rules.my-own.{key}: ")
    assert f'Did you mean "{right}"?' in answer.err
