"""A gym's file opened twice in one process, and by commands at once."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from planner.store.database import problems
from planner.store.past import past_weeks
from planner.store.store import open_store
from tests.solve.demo import shipped
from tests.store.small import put, state_of

ROOT = Path(__file__).parents[2]
WEEK, OTHER = "2026-W49", "2026-W50"


def elsewhere(folder: Path, deed: str) -> str:
    """What another process prints that has the store open."""
    begin = (
        "from pathlib import Path\n"
        "from planner.store.store import open_store\n"
        "from tests.store.small import put, state_of\n"
        f"with open_store(Path({str(folder)!r})) as store: {deed}"
    )
    found = subprocess.run(
        [sys.executable, "-c", begin], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return found.stdout.strip()


def test_looking_back_while_the_store_is_open_loses_nothing(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        put(store, state_of(WEEK, 1), "before")
        past_weeks(tmp_path, WEEK)
        elsewhere(tmp_path, f"put(store, state_of({OTHER!r}, 2), 'elsewhere')")
        put(store, state_of(WEEK, 3), "after")
        seen = elsewhere(tmp_path, "print(*(r.verb for w in store.weeks() for r in store.history(w)))")
        assert seen == "before after elsewhere"
    assert problems(tmp_path / "planner.db") == ()


@pytest.mark.parametrize("count", [4, pytest.param(24, marks=pytest.mark.crowd)])
def test_commands_at_once_that_have_nothing_to_do_with_each_other_are_all_kept(
    tmp_path_factory: pytest.TempPathFactory, count: int
) -> None:
    gym = tmp_path_factory.mktemp("gyms") / "gym"
    run = [sys.executable, "-m", "planner"]
    subprocess.run([*run, "init", str(gym)], cwd=ROOT, check=True, capture_output=True)
    open_store(gym).close()
    movements = sorted(shipped()[0].movements)[:count]
    started = [
        subprocess.Popen([*run, "ban", str(gym), WEEK, m], cwd=ROOT, stdout=-1, stderr=-1, text=True)
        for m in movements
    ]
    said = [process.communicate() for process in started]
    assert [process.returncode for process in started] == [0] * count, said
    with open_store(gym) as store:
        assert sorted(ban.movement for ban in store.state(WEEK).requests.bans) == movements
