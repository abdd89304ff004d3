"""The wheel carries all it needs: built, installed on its own, and run from another folder."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from planner import paths

ROOT = Path(__file__).parents[1]
pytestmark = pytest.mark.slow
CLEAN = {k: v for k, v in os.environ.items() if k not in {paths.HOME_VARIABLE, "PYTHONPATH", "PYTHONHOME"}}


def sh(*words: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(word) for word in words], cwd=cwd, env=CLEAN, capture_output=True, text=True, check=False
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built in a folder of its own."""
    folder = tmp_path_factory.mktemp("wheel")
    made = sh(sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", folder, ROOT, cwd=folder)
    if "No matching distribution found for hatchling" in made.stderr:
        pytest.skip("the builder cannot be fetched here: no package registry")
    assert made.returncode == 0, made.stderr
    (found,) = folder.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The ``bin`` folder of an environment with the wheel; libraries are those of the tests."""
    folder = tmp_path_factory.mktemp("env")
    assert sh(sys.executable, "-m", "venv", "--without-pip", folder, cwd=folder).returncode == 0
    bin_folder = folder / ("Scripts" if os.name == "nt" else "bin")
    python = bin_folder / "python"
    done = sh(
        sys.executable, "-m", "pip", "--python", python, "install", "-q", "--no-deps", wheel, cwd=folder
    )
    assert done.returncode == 0, done.stderr
    import pydantic

    libraries = Path(pydantic.__file__).parents[1]
    site = Path(
        sh(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=folder).stdout.strip()
    )
    # Only the folder is added: what is installed there by reference, such as this checkout, stays out.
    (site / "libraries.pth").write_text(f"{libraries}\n", encoding="utf-8")
    where = sh(python, "-c", "import planner; print(planner.__file__)", cwd=folder)
    assert where.stdout.startswith(str(folder)), where.stdout + where.stderr
    return bin_folder


def test_the_wheel_has_every_data_file_and_nothing_else(wheel: Path) -> None:
    if shutil.which("git") is None or not (ROOT / ".git").exists():
        pytest.skip("not a clone, so there is no list to compare with")
    listed = sh(
        "git", "ls-files", "--cached", "--others", "--exclude-standard", *paths.FOLDERS, cwd=ROOT
    ).stdout.splitlines()
    there = {name for name in listed if (ROOT / name).exists()}
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
    prefix = "planner/_data/"
    assert {name.removeprefix(prefix) for name in names if name.startswith(prefix)} == there
    tops = {name.split("/")[0] for name in names}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"planner"}
    assert "planner/py.typed" in names


def test_the_installed_program_drafts_from_another_folder(installed: Path, tmp_path: Path) -> None:
    done = sh(installed / "planner", "draft", "demo", "--week", "2026-W49", "--json", "w.json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert sorted(p.name for p in tmp_path.iterdir()) == ["w.json", "week-2026-W49.html"]
    audited = sh(installed / "planner", "audit", "w.json", "--gym", "demo", cwd=tmp_path)
    assert audited.returncode == 0, audited.stdout + audited.stderr


def test_the_installed_program_starts_a_gym_and_says_its_version(installed: Path, tmp_path: Path) -> None:
    assert sh(installed / "planner", "init", "mine", cwd=tmp_path).returncode == 0
    assert (tmp_path / "mine" / "gym.yaml").exists()
    import planner

    said = sh(installed / "python", "-m", "planner", "--version", cwd=tmp_path)
    assert said.stdout == f"planner {planner.__version__}\n"
