"""Whatever is read: a value, or an error in words; never anything else, and never for long."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import strategies as st

from planner import paths
from planner.errors import DataError, NoPlanError, Place
from planner.language.files import sessions_in
from planner.language.reader import read_sessions
from planner.language.vocabulary import vocabulary_of
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym, read_week
from planner.load.rule_names import check_rule_names
from planner.load.rules import load_rules
from planner.load.yaml_file import read_yaml
from planner.problem.checks import check_rules, too_little
from planner.render.calendar import calendar_ics
from planner.render.html import week_html
from planner.weeks.setting import Setting
from tests.cli.test_life import SESSION
from tests.hostile.generated import SCALE, as_json, over, spoilt, texts, torn, values
from tests.hostile.test_cases import short
from tests.render.sample_week import sample_week

ROOT = Path(__file__).parents[2]
SIZES = [1, pytest.param(SCALE, marks=pytest.mark.many)]
sizes = pytest.mark.parametrize("scale", SIZES)

SHARED = paths.home().shared
GYM = yaml.safe_load((SHARED / "gyms/demo/gym.yaml").read_text(encoding="utf-8"))
GYM["class"]["start"] = "18:00"
GYM_TEXT = (SHARED / "gyms/demo/gym.yaml").read_bytes()
RULES = yaml.safe_load((paths.home().constraints / "rest.yaml").read_text(encoding="utf-8"))
WEEK = json.loads(sample_week().model_dump_json())


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue(SHARED / "catalogue")


def in_words(work: Callable[[], Any], file: Path) -> Any:
    """What the work gives; None where it says in words, and of the file, what is wrong."""
    try:
        return work()
    except DataError as error:
        refused, place = error, error.place or Place(file)
    except NoPlanError as error:
        refused, place = error, Place(file)
    short(str(refused))
    assert refused.exit_code in {2, 3}
    assert file.parent in place.file.parents
    return None


@sizes
def test_gyms(scale: int, catalogue, tmp_path: Path) -> None:
    """What loads is drawn up to the search's doorstep, and its checks by arithmetic."""
    rules = load_rules(paths.home().constraints)
    file = tmp_path / "gym.yaml"

    def check(content: bytes) -> None:
        file.write_bytes(content)
        gym = in_words(lambda: load_gym(tmp_path, catalogue), file)
        if gym is not None:
            in_words(lambda: drawn_up(Setting(catalogue, gym, rules, (), "2026-W49")), file)

    over(st.one_of(spoilt(GYM).map(as_json), torn(GYM_TEXT)), check, 50 * scale)


def drawn_up(setting: Setting) -> None:
    problem = setting.problem()
    check_rules(problem)
    for rule in problem.rules:
        too_little(problem, rule)


@sizes
def test_rules(scale: int, catalogue, tmp_path: Path) -> None:
    (tmp_path / "shipped").mkdir()
    shipped = tmp_path / "shipped" / "rest.yaml"
    shipped.write_bytes((paths.home().constraints / "rest.yaml").read_bytes())
    own = tmp_path / "rules.yaml"

    def check(content: bytes) -> None:
        own.write_bytes(content)

        def load() -> None:
            rules = load_rules(tmp_path / "shipped", tmp_path)
            check_rule_names(rules, catalogue, tmp_path / "shipped", tmp_path)

        in_words(load, own)

    changes = {"rules": [{"id": "easy-day", "off": True}, {"id": "heavy-pattern-rest", "weight": 3}]}
    over(st.one_of(spoilt(RULES).map(as_json), spoilt(changes).map(as_json)), check, 100 * scale)


@sizes
@pytest.mark.parametrize("name", ["schemes", "formats", "equipment", "drills", "movements/plate"])
def test_catalogues(name: str, scale: int, tmp_path: Path) -> None:
    folder = tmp_path / "catalogue"
    shutil.copytree(SHARED / "catalogue", folder)
    file = folder / f"{name}.yaml"
    good = yaml.safe_load(file.read_text(encoding="utf-8"))

    def check(content: bytes) -> None:
        file.write_bytes(content)
        in_words(lambda: load_catalogue(folder), folder / file.name)  # or what names its entries

    over(spoilt(good).map(as_json), check, 8 * scale)


@sizes
def test_weeks(scale: int, tmp_path: Path) -> None:
    """What reads as a week is drawn, and becomes a calendar."""
    file = tmp_path / "week.json"

    def check(content: bytes) -> None:
        file.write_bytes(content)
        week = in_words(lambda: read_week(file), file)
        if week is not None:
            in_words(lambda: (week_html(week), calendar_ics(week, "gym")), file)

    over(st.one_of(spoilt(WEEK).map(as_json), torn(as_json(WEEK)), values.map(as_json)), check, 80 * scale)


@sizes
def test_sessions(scale: int, catalogue, tmp_path: Path) -> None:
    gym = load_gym(SHARED / "gyms/demo", catalogue)
    vocabulary = vocabulary_of(catalogue, gym)
    (good,) = read_sessions(SESSION, vocabulary)
    value = good.model_dump(mode="json")

    def check(drawn: tuple[str, bytes]) -> None:
        file = tmp_path / drawn[0]
        file.write_bytes(drawn[1])
        in_words(lambda: sessions_in(file, vocabulary), file)

    data = st.one_of(spoilt(value).map(as_json), torn(as_json(value)))
    kinds = st.tuples(st.just("a.json"), data), st.tuples(st.just("a.txt"), torn(SESSION.encode()))
    over(st.one_of(*kinds), check, 100 * scale)


@sizes
def test_bytes(scale: int, tmp_path: Path) -> None:
    file = tmp_path / "any.yaml"

    def check(content: bytes) -> None:
        file.write_bytes(content)
        in_words(lambda: read_yaml(file), file)

    over(
        st.one_of(st.binary(max_size=200), texts.map(lambda t: t.encode("utf-8", "surrogatepass"))),
        check,
        60 * scale,
    )


BOMBS = {
    "aliases": "a: &a [x, x]\nb: &b [*a, *a]\n",
    "brackets": "[" * 100_000,
    "braces": "{a: " * 100_000,
    "dashes": "- " * 100_000,
    "indentation": "".join(" " * i + "a:\n" for i in range(1500)),
    "digits": "name: " + "9" * 1_500_000,
    "one word": "name: " + "x" * 1_500_000,
    "many keys": "".join(f"k{i}: 1\n" for i in range(150_000)),
    "many rules": "rules:\n" + "  - {id: x, kind: y}\n" * 50_000,
    "tags": "!!python/object/apply:os.system ['true']",
    "megabytes": "# \n" * 4_000_000,
}


@pytest.mark.skipif(os.name == "nt", reason="no limits can be set")
@pytest.mark.parametrize("file", ["gym.yaml", pytest.param("rules.yaml", marks=pytest.mark.slow)])
def test_bombs_end_in_bounded_memory_and_time(file: str, tmp_path: Path) -> None:
    """All in one process each, for it takes longer to start than to refuse."""
    bombs = tmp_path / "bombs.json"
    bombs.write_text(json.dumps(BOMBS), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-c", BOMBS_PROGRAM, str(tmp_path), file, str(bombs)],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    said = json.loads(done.stdout)
    assert list(said) == list(BOMBS)
    for bomb, message in said.items():
        assert message.startswith(str(tmp_path / file)), (bomb, message[:200])
        assert len(message) < 60 * 400, bomb


BOMBS_PROGRAM = """
import json, resource, sys
resource.setrlimit(resource.RLIMIT_AS, (3 << 30, 3 << 30))
resource.setrlimit(resource.RLIMIT_CPU, (90, 90))
from pathlib import Path
from planner import paths
from planner.errors import DataError
from planner.load.catalogue import load_catalogue
from planner.load.gym import load_gym
from planner.load.rules import load_rules

folder, name, bombs = Path(sys.argv[1]), sys.argv[2], json.loads(Path(sys.argv[3]).read_text())
catalogue = load_catalogue(paths.home().shared / "catalogue")
said = {}
for bomb, text in bombs.items():
    (folder / name).write_text(text)
    try:
        load_gym(folder, catalogue) if name == "gym.yaml" else load_rules(paths.home().constraints, folder)
    except DataError as error:
        said[bomb] = str(error)
print(json.dumps(said))
"""
