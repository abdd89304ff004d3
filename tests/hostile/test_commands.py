"""Every command with words made by chance: no exit code but those that are promised, and words with each."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, get_type_hints

import pytest
import typer
from hypothesis import strategies as st

from planner.cli.app import COMMANDS
from planner.errors import NoPlanError
from tests.cli.conftest import Run
from tests.hostile.generated import over, texts
from tests.hostile.test_cases import short
from tests.hostile.test_generated import sizes

W = "2026-W49"
PROMISED = {0, 1, 2, 3, 74, 130}
POOL = f"""{W} 2026-W50 A B mon Wednesday strength conditioning burpee row done push easy-day week rower=2
mon=A 3x8 5@80 html,pdf short hard barbell front_squat""".split()
NUMBERS = ["0", "1", "-1", "7", "12.5", "1e9", "nan", "-inf", "1_0", "\u0663", "99999999999999999999", "0x10"]


def parts(name: str) -> list[tuple[Any, str]]:
    """Arguments and options of a command, each with its type, as the command line knows them."""
    from planner.cli import app

    command: Any = typer.main.get_command(app)
    for word in name.split(" "):
        command = command.commands[word]
    kinds = get_type_hints(COMMANDS[name])
    return [(part, str(kinds[part.name])) for part in command.params if part.name in kinds]


def word_for(part: Any, kind: str, folder: Path, gym: Path) -> st.SearchStrategy[str]:
    """Words for one place: right ones, those that are right elsewhere, and any."""
    if "Path" in kind:
        names = st.one_of(texts, st.sampled_from(["a.json", "b.html", "c/d", "gym.yaml", "planner.db"]))
        inside = names.filter(lambda text: ".." not in text and "\0" not in text)
        others = st.sampled_from(["", str(folder), str(gym / "gym.yaml")])
        return st.one_of(inside.map(lambda text: f"{folder}/{text}"), others)
    if part.name in {"gym", "source"}:
        return st.one_of(st.sampled_from([str(gym), str(gym), str(gym), "demo", "dmeo"]), texts)
    if "int" in kind or "float" in kind:
        return st.one_of(st.sampled_from(NUMBERS), texts)
    return st.one_of(st.sampled_from(POOL), st.sampled_from(POOL), texts)


@st.composite
def command_lines(draw: st.DrawFn, folder: Path, gym: Path) -> list[str]:
    name = draw(st.sampled_from(sorted(COMMANDS)))
    line = name.split(" ")
    for part, kind in parts(name):
        if part.param_type_name == "argument":
            if part.required or draw(st.booleans()):
                line.append(draw(word_for(part, kind, folder, gym)))
        elif draw(st.integers(0, 3)) == 0:
            line.append(part.opts[-1])
            if not part.is_flag:
                line.append(draw(word_for(part, kind, folder, gym)))
    if draw(st.integers(0, 9)) == 0:
        line.append(draw(texts))
    return line


@contextmanager
def no_search(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Everything but the search itself, which is another test's business and takes seconds."""
    from planner.solve.search import draft, solver

    def stop(*_: object, **__: object) -> None:
        raise NoPlanError("the search would begin here")

    with monkeypatch.context() as patch:
        patch.setattr(draft, "draft_plan", stop)
        patch.setattr(solver, "stoppable", stop)
        yield


@sizes
def test_every_command_ends_as_promised(
    scale: int, run: Run, kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "files"
    folder.mkdir()
    gym_file = (kept / "gym.yaml").read_bytes()

    def check(line: list[str]) -> None:
        answer = run(*line)
        assert answer.code in PROMISED, (line, answer.err)
        if answer.code not in {0, 1} and not answer.err.startswith("Usage: "):
            short(answer.err)
        assert (kept / "gym.yaml").read_bytes() == gym_file

    with no_search(monkeypatch):
        over(command_lines(folder, kept), check, 60 * scale)
