"""The installed program is the same program: everything under resources ships, nothing else does."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from beeledger import __version__

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout, built without network."""
    folder = tmp_path_factory.mktemp("dist")
    _run([sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)], ROOT)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder into which pip has installed the wheel, and nothing else."""
    folder = tmp_path_factory.mktemp("installed")
    # The environment may have been made without a pip of its own: the Python it was made from has one.
    pip = [sys._base_executable, "-m", "pip", "--disable-pip-version-check"]
    quiet = ["--quiet", "--no-deps", "--no-index", "--no-compile", "--root-user-action=ignore"]
    _run([*pip, "install", *quiet, "--target", str(folder), str(wheel)], folder)
    return folder


def _run(command: list[str], folder: Path) -> str:
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def _files(place: str) -> set[str]:
    paths = (path for path in (ROOT / place).rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(ROOT).as_posix() for path in paths}


def test_the_wheel_holds_the_package_the_resources_and_the_scenario_and_nothing_else(wheel):
    held = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    beside = _files("resources") | _files("sample_db")
    assert held == _files("beeledger") | {f"beeledger/{name}" for name in beside}


def test_the_installed_program_finds_its_own_resources(installed):
    ask = (
        f"import sys; sys.path.insert(0, {str(installed)!r})\n"
        "from beeledger.base.resources import ROOT, resource\n"
        "import beeledger\n"
        "assert resource('fonts', 'Inter-Regular.ttf').stat().st_size > 100_000\n"
        "print(ROOT); print(beeledger.__version__)"
    )
    said = _run([sys.executable, "-c", ask], installed.parent).split()
    assert said == [str(installed / "beeledger" / "resources"), __version__]


def test_the_installed_program_makes_a_ledger(installed, tmp_path):
    ask = (
        f"import sys; sys.path.insert(0, {str(installed)!r})\n"
        "import beeledger\n"
        "from beeledger.base.clock import FarmClock\n"
        "from beeledger.database.opening import open_ledger\n"
        "ledger = open_ledger('farm.beeledger', FarmClock())\n"
        "print(beeledger.__file__); print(ledger.last_act()); ledger.close()"
    )
    said = _run([sys.executable, "-W", "error", "-c", ask], tmp_path).split()
    assert said == [str(installed / "beeledger" / "__init__.py"), "0"]
    assert (tmp_path / "farm.beeledger").stat().st_size > 10_000


def test_the_installed_program_builds_a_sample_farm(installed, tmp_path):
    ask = (
        f"import sys; sys.path.insert(0, {str(installed)!r})\n"
        "from beeledger.cli.main import main\n"
        "size = ['--colonies', '5', '--sites', '1', '--years', '1']\n"
        "sys.exit(main(['sample', '--into', 'sample.beeledger', *size]) or main(['check', 'sample.beeledger']))"
    )
    said = _run([sys.executable, "-W", "error", "-c", ask], tmp_path)
    assert said.startswith("Built sample.beeledger: ")
    assert "holds  the sum of the acts gives the present rows" in said


def test_the_installed_program_tests_itself(installed, tmp_path):
    ask = (
        f"import sys; sys.path.insert(0, {str(installed)!r})\n"
        "from beeledger.cli.main import main\n"
        "sys.exit(main(['self-test']))"
    )
    said = _run([sys.executable, "-W", "error", "-c", ask], tmp_path)
    *steps, last = said.splitlines()
    assert {step[0] for step in steps} == {"✓"}
    assert len(steps) == 12
    assert last == "The program does its work here."
