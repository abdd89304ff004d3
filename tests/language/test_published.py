"""The page on sessions as text says what the program does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from planner.domain.written import WrittenSession
from planner.errors import DataError
from planner.language import read_sessions
from planner.language.files import sessions_in
from planner.language.grammar import parser
from planner.language.phrases import compact, keywords, terminals
from planner.reference.session_grammar import BEGINS, ebnf, section
from tests.language.names import shipped

PAGE = (Path(__file__).parents[2] / "docs" / "session_text.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^```text\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)
LOADED = re.findall(r"^```yaml\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)


def said_in_tables(heading: str) -> list[str]:
    """What stands in backticks in the first columns of the tables under a heading."""
    part = PAGE.split(f"\n## {heading}")[1].split("\n## ")[0]
    rows = [row.split("|")[1] for row in part.split("\n") if row.startswith("| `")]
    return [said for row in rows for said in re.findall("`([^`]*)`", row)]


def test_the_grammar_on_the_page_is_the_program_s() -> None:
    assert BEGINS + PAGE.split(BEGINS)[1] == section(), (
        "run: python -m planner.reference.session_grammar docs/session_text.md, and put what it prints there"
    )


def test_the_page_has_every_rule_and_every_terminal_of_the_parser() -> None:
    defined = {line.split(" ::= ")[0] for line in ebnf().split("\n") if line}
    rules = {str(rule[0]).lstrip("_") for rule in parser().grammar.rule_defs}
    terminals_used = {symbol.name for rule in parser().rules for symbol in rule.expansion if symbol.is_term}
    assert defined == rules | terminals_used


def test_every_word_on_the_page_is_known() -> None:
    known = keywords()
    for kind, words in terminals().items():
        for word in words:
            assert known[compact(word)][0] == kind, word


@pytest.mark.parametrize("text", EXAMPLES, ids=lambda text: text.split("\n")[0])
def test_examples_are_read(text: str) -> None:
    assert read_sessions(text, shipped())


def test_there_are_examples() -> None:
    assert (len(EXAMPLES), len(LOADED)) == (5, 1)


@pytest.mark.parametrize("said", said_in_tables("Strength and skill"))
def test_what_is_said_of_lifts_is_read(said: str) -> None:
    sets = "" if re.search(r"\dx|sets|RM|heavy|-\d|every", said) else "3x5, "
    lift = "" if "clean" in said else "front squat "
    assert read_sessions(f"Monday\nstrength: {lift}{sets}{said}\n", shipped())


@pytest.mark.parametrize("said", said_in_tables("Conditioning and finisher"))
def test_what_is_said_of_pieces_is_read(said: str) -> None:
    whole = {
        "one movement each": "every 2:00 for 4 rounds, ",
        "whole round each": "every 2:00 for 4 rounds, ",
    }
    line = "  row, 20 air squat" if said in {"buy-in", "cash-out"} else "  9 burpee"
    if said == "10 each side":
        said = "walking lunge 10 each side"
    before = whole.get(said, "")
    assert read_sessions(f"Monday\nconditioning: {before}{said}\n{line}\n", shipped())


class TestFiles:
    """A session is read from text, YAML and JSON."""

    def test_the_example_as_yaml_is_the_example_as_text(self, tmp_path: Path) -> None:
        (tmp_path / "session.yaml").write_text(LOADED[0], encoding="utf-8")
        (tmp_path / "session.txt").write_text(
            "Wednesday\nstrength: front squat 4x6 across, rest 2:00, as written\n"
            "conditioning: 3 rounds for time, cap 14:00\n"
            "  15 kettlebell swing @ light\n  after each: 20 double-under\n",
            encoding="utf-8",
        )
        assert sessions_in(tmp_path / "session.yaml", shipped()) == sessions_in(
            tmp_path / "session.txt", shipped()
        )

    @pytest.mark.parametrize("text", EXAMPLES, ids=lambda text: text.split("\n")[0])
    def test_a_value_as_json_is_the_same_value(self, text: str, tmp_path: Path) -> None:
        (session,) = read_sessions(text, shipped())
        path = tmp_path / "session.json"
        path.write_text(session.model_dump_json(), encoding="utf-8")
        assert sessions_in(path, shipped()) == (session,)

    def test_a_week_and_names(self, tmp_path: Path) -> None:
        path = tmp_path / "week.yaml"
        path.write_text(
            "sessions:\n"
            "  - day: Mon\n    pieces: [{kind: warm_up, drills: [row]}]\n"
            "    versions: {One plate: [{kind: cool_down, drills: [rest]}]}\n"
            "  - {day: Tuesday}\n",
            encoding="utf-8",
        )
        monday, tuesday = sessions_in(path, shipped())
        assert list(monday.versions) == ["one_plate"]
        assert tuesday == WrittenSession(day="tue")

    def test_all_that_is_wrong_is_said_with_its_place(self, tmp_path: Path) -> None:
        path = tmp_path / "session.yaml"
        path.write_text(
            "day: Wendsday\npieces:\n"
            "  - kind: strength\n    lifts:\n"
            "      - parts: [{movement: Frnt squats}]\n"
            "        scheme: four by sevenish\n"
            "        sets: {sets: [{reps: 0}, {reps: 6}]}\n"
            "  - composition: {clock: for_tim, rounds: 3}\n    lines:\n"
            "      - {movement: kb swing, dos: 15}\n"
            "versions: {one_bar: []}\n",
            encoding="utf-8",
        )
        with pytest.raises(DataError) as refused:
            sessions_in(path, shipped())
        lines = [line.removeprefix(f"{path}:") for line in str(refused.value).split("\n")]
        assert {line.split(":")[0] for line in lines} == {"1", "5", "6", "7", "8", "10", "11"}
        said = "\n".join(lines)
        for right in ("front squat", "for_time", '"dose"', "at least 1", "One plate", "no scheme"):
            assert right in said

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("sessions: []\n", "no session"),
            ("sessions: [{day: mon}, {day: Monday}]\n", "second time"),
            ("- day: mon\n", "set of keys"),
        ],
    )
    def test_files_that_hold_no_week(self, text: str, said: str, tmp_path: Path) -> None:
        path = tmp_path / "week.yml"
        path.write_text(text, encoding="utf-8")
        with pytest.raises(DataError, match=said):
            sessions_in(path, shipped())
