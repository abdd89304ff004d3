"""Ctrl-C, full devices and narrow terminals, with real processes."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planner import paths
from planner.render import pdf_pool
from planner.store.store import open_store

ROOT = Path(__file__).parents[2]
W = "2026-W49"
PATIENCE_S = 60.0
"""Until a command has begun what it is to be stopped in; a machine with much to do takes long to start."""
pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals of another kind")


def start(*words: object, cwd: Path, **env: str) -> subprocess.Popen[str]:
    """A command in a process group of its own, as a terminal would start it."""
    clean = {k: v for k, v in os.environ.items() if k != paths.HOME_VARIABLE}
    return subprocess.Popen(
        [sys.executable, "-m", "planner", *map(str, words)],
        cwd=cwd,
        env={**clean, "PYTHONPATH": str(ROOT), **env},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


def interrupt(process: subprocess.Popen[str]) -> tuple[int, str]:
    """Ctrl-C for the whole group; exit code and the last line of what was said."""
    os.killpg(process.pid, signal.SIGINT)
    _, said = process.communicate(timeout=PATIENCE_S)
    assert "Traceback" not in said, said
    assert "Fatal" not in said, said
    return process.returncode, said.strip().split("\n")[-1]


def group(process: subprocess.Popen[str]) -> list[int]:
    """Processes of its group that still run."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _parent, in_group = path.read_text().rsplit(")", 1)[1].split()[:3]
        except OSError:
            continue
        if int(in_group) == process.pid and state != "Z":
            found.append(int(path.parent.name))
    return found


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A week as JSON."""
    from tests.render.sample_week import sample_week

    path = tmp_path_factory.mktemp("week") / "week.json"
    path.write_text(sample_week().model_dump_json(), encoding="utf-8")
    return path


def until_imported(process: subprocess.Popen[str], module: str) -> None:
    """Read the interpreter's list of imports until one is done."""
    assert process.stderr is not None
    for line in process.stderr:
        if line.rstrip().endswith(f" {module}"):
            return
    pytest.fail(f"{module} was never imported")


@pytest.mark.parametrize(
    "module", ["planner.stopping", "typer", "rich.console", "planner.cli.base", "ortools", "pydantic"]
)
def test_stopped_while_importing(module: str, tmp_path: Path) -> None:
    process = start("draft", "demo", "--week", W, cwd=tmp_path, PYTHONPROFILEIMPORTTIME="1")
    until_imported(process, module)
    code, said = interrupt(process)
    assert code == 130
    assert said == "Stopped. Nothing was changed or written."
    assert not list(tmp_path.iterdir())


def busy(process: subprocess.Popen[str], seconds: float) -> None:
    """Wait until it has used so much processor time: then it is at work, however slow the machine."""
    ticks = os.sysconf("SC_CLK_TCK")
    deadline = time.monotonic() + PATIENCE_S
    while time.monotonic() < deadline:
        fields = Path(f"/proc/{process.pid}/stat").read_text().rsplit(")", 1)[1].split()
        if (int(fields[11]) + int(fields[12])) / ticks >= seconds:
            return
        assert process.poll() is None, process.communicate()
        time.sleep(0.02)
    pytest.fail("it never began")


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A gym of one's own."""
    folder = tmp_path_factory.mktemp("gym") / "own"
    made = start("init", folder, cwd=folder.parent)
    _, said = made.communicate()
    assert made.returncode == 0, said
    return folder


@pytest.fixture(scope="module")
def drafted(own: Path) -> Path:
    """The same with a week that was solved just now."""
    drafting = start("draft", own, "--week", W, "--seconds", "2", cwd=own.parent)
    _, said = drafting.communicate()
    assert drafting.returncode == 0, said
    return own


MORE = pytest.mark.many
COMMANDS = [
    ("resilience", "GYM", W, "--seconds", "600"),
    ("redraft", "GYM", W, "--without", "rower", "--seconds", "600"),
    ("draft", "GYM", "--week", "2026-W50", "--alternatives", "3"),
    ("why-not", "GYM", W, "mon", "front squat", "--seconds", "600"),
]
TOLD_HERE = pytest.mark.skipif(
    not Path("/proc/self/stat").exists(), reason="processor time of another is not told here"
)


@TOLD_HERE
@pytest.mark.parametrize("work", [2.0, pytest.param(1.0, marks=MORE), pytest.param(4.0, marks=MORE)])
def test_a_draft_is_stopped(work: float, own: Path, tmp_path: Path) -> None:
    stopped("draft", own, "--week", "2026-W50", "--seconds", "600", work=work, cwd=tmp_path)
    with open_store(own) as store:
        assert store.state("2026-W50").candidates == ()


@MORE
@TOLD_HERE
@pytest.mark.parametrize("work", [1.0, 1.5, 2.0, 2.5, 3.0, 4.0])
@pytest.mark.parametrize("command", COMMANDS, ids=lambda words: words[0])
def test_stopped_at_work(command: tuple[str, ...], work: float, drafted: Path, tmp_path: Path) -> None:
    stopped(*(drafted if word == "GYM" else word for word in command), work=work, cwd=tmp_path)
    with open_store(drafted) as store:
        assert [c.name for c in store.state(W).candidates] == ["A"]


def stopped(*words: object, work: float, cwd: Path) -> None:
    process = start(*words, cwd=cwd)
    busy(process, work)
    code, said = interrupt(process)
    assert code == 130
    assert said == "Stopped. Nothing was changed or written."
    assert not group(process)
    assert not list(cwd.iterdir())


def program(text: str, cwd: Path) -> subprocess.Popen[str]:
    """A program that runs what stands there as the command."""
    body = f"from planner import __main__, cli\n{text}\ncli.main = run\n__main__.main()\n"
    return subprocess.Popen(
        [sys.executable, "-c", body], cwd=cwd, env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True,
    )  # fmt: skip


TWO_SEARCHES = """
from ortools.sat.python import cp_model
from planner.solve.search.solver import Budget, at_once, solve_layer

def search(seed):
    model = cp_model.CpModel()  # more pigeons than holes, and nothing said of how many there are
    sits = [[model.new_bool_var("") for _ in range(19)] for _ in range(20)]
    for pigeon in sits:
        model.add_bool_or(pigeon)
    for hole in zip(*sits):
        for i in range(20):
            for j in range(i):
                model.add_bool_or(~hole[i], ~hole[j])
    return solve_layer(model, None, Budget(1e6, seed, wall_s=1e6), presolve=False)

def run():
    print("at work", flush=True)
    print(list(at_once(search, [1, 2, 3])))
"""


FREEING = """
import os, signal, time
class Freed:
    def __del__(self):
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(0.1)

def run():
    freed = Freed()
    del freed
    time.sleep(60)
"""


def test_a_stop_that_comes_while_something_is_freed(tmp_path: Path) -> None:
    """Python cannot raise it there, and would print where it was; the command ends all the same."""
    process = program(FREEING, tmp_path)
    _, said = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 130
    assert said == "Stopped. Nothing was changed or written.\n"


def test_two_searches_at_once_are_stopped(tmp_path: Path) -> None:
    process = program(TWO_SEARCHES, tmp_path)
    assert process.stdout is not None
    assert process.stdout.readline() == "at work\n"
    time.sleep(1)  # both have begun; were they done, the exit code would tell
    code, said = interrupt(process)
    assert code == 130
    assert said == "Stopped. Nothing was changed or written."


THREE_FILES = """
import os, signal
from pathlib import Path
from planner.load.writing import write_file

def run():
    write_file(Path("first.html"), "one")
    replace = Path.replace
    Path.replace = lambda self, other: (os.kill(os.getpid(), signal.SIGINT), replace(self, other))
    write_file(Path("second.html"), "two")
    write_file(Path("third.html"), "three")
"""


def test_what_was_kept_before_is_said(tmp_path: Path) -> None:
    """Ctrl-C comes as the second of three files takes its place: that one is whole, and told of."""
    process = program(THREE_FILES, tmp_path)
    _, said = process.communicate()
    assert process.returncode == 130, said
    assert said == "Stopped. Kept before that: first.html; second.html.\n"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["first.html", "second.html"]


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="what another waits with is not told here")
def test_what_lays_out_does_not_hear_ctrl_c() -> None:
    """Blocked from before they begin: one that is still importing would print where it was."""
    with pdf_pool.printer(2, processes=2):
        children = multiprocessing.active_children()
        blocked = [
            int(line.split()[1], 16)
            for child in children
            for line in Path(f"/proc/{child.pid}/status").read_text().splitlines()
            if line.startswith("SigBlk:")
        ]
    assert len(blocked) == 2
    assert all(mask >> (signal.SIGINT - 1) & 1 for mask in blocked)


def test_stopped_while_laying_out_pdf(week: Path, tmp_path: Path) -> None:
    pytest.importorskip(
        "weasyprint", reason="the extra pdf is not installed", exc_type=(ImportError, OSError)
    )
    process = start("sheets", week, "--to", tmp_path / "out", "--format", "pdf", cwd=tmp_path)
    deadline = time.monotonic() + PATIENCE_S
    while len(group(process)) < 2 and time.monotonic() < deadline:  # the others lay out
        time.sleep(0.02)
    code, said = interrupt(process)
    assert code == 130
    assert said == "Stopped. Nothing was changed or written."
    deadline = time.monotonic() + PATIENCE_S
    while group(process) and time.monotonic() < deadline:  # the last one ends once it reads that we are gone
        time.sleep(0.02)
    assert not group(process)
    assert not list(tmp_path.iterdir())


# What is said does not come out --------------------------------------------------------------------------

SAYING = {"a table": ("catalogue", "schemes"), "lines": ("schema", "gym"), "help": ("--help",)}


def shell(words: tuple[str, ...], redirect: str, **env: str) -> subprocess.CompletedProcess[str]:
    command = f'"{sys.executable}" -m planner {" ".join(words)} {redirect}'
    bash = ["bash", "-o", "pipefail", "-c", command]
    clean = {**os.environ, "PYTHONPATH": str(ROOT), **env}
    return subprocess.run(bash, env=clean, capture_output=True, text=True, check=False)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
@pytest.mark.parametrize("what", SAYING)
def test_a_full_device(what: str) -> None:
    done = shell(SAYING[what], ">/dev/full")
    assert done.returncode == 74
    assert done.stderr.startswith("what the command says cannot be written: No space left on device")
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("what", ["a table", "help"])
def test_whoever_reads_has_gone(what: str) -> None:
    done = shell(SAYING[what], "| true")
    assert done.returncode in {0, 74}  # 0 where all was written before the other end closed
    assert done.stderr == ""


def test_a_terminal_that_cannot_show_every_sign(kept: Path) -> None:
    done = shell(("compare", str(kept), "A", "B"), "", PYTHONIOENCODING="ascii", LC_ALL="C")
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    assert done.stdout.isascii()
