"""A copy of the shared folders that a test may break, and the command line run on it."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from typer import testing
from typer.testing import CliRunner

from planner import paths
from planner.cli import app
from planner.errors import NoPlanError

testing._get_command = cache(testing._get_command)  # else each call builds all commands anew

Run = Callable[..., "Answer"]
WIDE = "400"


class Answer:
    """What a command said: exit code, what went to the screen, what went to the errors."""

    def __init__(self, result: object) -> None:
        self.code: int = result.exit_code  # type: ignore[attr-defined]
        self.out: str = result.stdout  # type: ignore[attr-defined]
        self.err: str = result.stderr  # type: ignore[attr-defined]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home folder of its own, with everything that the program ships; the current folder is beside it."""
    monkeypatch.delenv(paths.HOME_VARIABLE, raising=False)
    shipped = paths.home()
    folder = tmp_path / "home"
    for name in paths.FOLDERS:
        shutil.copytree(getattr(shipped, name), folder / name)
    monkeypatch.setenv(paths.HOME_VARIABLE, str(folder))
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    return folder


@pytest.fixture
def gym(home: Path) -> Path:
    """The demo gym in that home."""
    return home / "shared" / "gyms" / "demo"


@pytest.fixture
def run(home: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs a command as a shell would, on a screen wide enough to leave sentences whole."""
    monkeypatch.setenv("COLUMNS", WIDE)

    def call(*words: object) -> Answer:
        answer = Answer(CliRunner().invoke(app, [str(word) for word in words]))
        assert "Traceback" not in answer.err
        return answer

    return call


@pytest.fixture
def no_solve(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Drafting reads and checks everything but never gets to the search; notes each time it would have."""
    from planner.weeks import draft as drafting
    from planner.weeks.setting import load_setting
    from planner.weeks.written import checked_problem

    reached: list[str] = []

    def stop(gym_folder: Path, *, week: str | None = None, seed: int = 1, **_: object) -> None:
        assert week is not None
        checked_problem(load_setting(gym_folder, week).problem(seed=seed))
        reached.append(str(gym_folder))
        raise NoPlanError("the search would begin here")

    monkeypatch.setattr(drafting, "draft", stop)
    return reached
