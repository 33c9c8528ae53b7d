"""The set-up of packaging/: pins, the environment with and without pip, wheels, the screen, Qt's libraries."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import environment
import pytest
import screen
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

PINS = environment.PINS.read_text(encoding="utf-8")


def _pinned(*, dev: bool) -> dict[str, str]:
    pairs = (pin.split("==") for pin in environment.pins(PINS, dev=dev))
    return {canonicalize_name(name): version for name, version in pairs}


@pytest.mark.parametrize("dev", [False, True])
def test_everything_the_project_asks_for_is_pinned_at_a_version_it_allows(dev):
    project = tomllib.loads((environment.ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = project["dependencies"] + (project["optional-dependencies"]["dev"] if dev else [])
    pinned = _pinned(dev=dev)
    for requirement in map(Requirement, asked):
        version = pinned[canonicalize_name(requirement.name)]
        assert requirement.specifier.contains(version), requirement


def test_what_runs_the_suite_is_what_is_pinned():
    from importlib.metadata import version

    running = {name: version(name) for name in _pinned(dev=True)}
    assert running == _pinned(dev=True)


def test_a_pin_with_a_marker_or_a_range_is_refused():
    for line in ("reportlab>=5", 'tzdata==2026.6; sys_platform == "win32"', "reportlab"):
        with pytest.raises(environment.SetUpFailed, match="name==version"):
            environment.pins(f"{line}\n{environment.DEV_MARK}\n", dev=False)


def test_pins_without_the_dividing_line_are_refused():
    with pytest.raises(environment.SetUpFailed, match="lost the line"):
        environment.pins("reportlab==5.1.0\n", dev=True)


def _wheel(folder: Path, version: str) -> None:
    folder.mkdir(exist_ok=True)
    info = f"skep-{version}.dist-info"
    with zipfile.ZipFile(folder / f"skep-{version}-py3-none-any.whl", "w") as wheel:
        wheel.writestr("skep.py", f"version = {version!r}\n")
        wheel.writestr(f"{info}/METADATA", f"Metadata-Version: 2.1\nName: skep\nVersion: {version}\n")
        wheel.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(f"{info}/RECORD", "")


def _skep_in(python: Path) -> str:
    asked = [python, "-c", "import skep; print(skep.version)"]
    return subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()


@pytest.fixture
def python_without_ensurepip(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A Python as Debian ships it: ``-m venv`` leaves half an environment behind and fails."""
    real = sys._base_executable
    shim = tmp_path / "python-without-ensurepip"
    shim.write_text(
        f"""#!/bin/sh
case "$*" in
  *--without-pip*) ;;
  *"-m venv"*) for last; do :; done; mkdir -p "$last/bin"; ln -s {real} "$last/bin/python"; exit 1 ;;
esac
exec {real} "$@"
"""
    )
    shim.chmod(0o755)
    monkeypatch.setattr(sys, "executable", str(shim))


@pytest.mark.usefixtures("python_without_ensurepip")
def test_without_ensurepip_the_environment_is_filled_from_outside_and_kept(tmp_path, monkeypatch):
    pins = tmp_path / "pins.txt"
    monkeypatch.setattr(environment, "PINS", pins)
    home, wheels = tmp_path / "venv", tmp_path / "wheels"
    _wheel(wheels, "1.0")
    pins.write_text(f"skep==1.0\n{environment.DEV_MARK}\n")
    python = environment.ready(dev=False, folder=home, wheels=wheels)
    assert not environment.runs([python, "-m", "pip", "--version"])
    assert _skep_in(python) == "1.0"

    elsewhere = subprocess.run(
        [python, "-c", "import beeledger; print(beeledger.__path__[0])"],
        cwd=tmp_path, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert Path(elsewhere.stdout.strip()) == environment.ROOT / "beeledger"

    # A second start installs nothing: the wheels may be gone.
    (wheels / "skep-1.0-py3-none-any.whl").unlink()
    assert environment.ready(dev=False, folder=home, wheels=wheels) == python

    _wheel(wheels, "1.1")
    pins.write_text(f"skep==1.1\n{environment.DEV_MARK}\n")
    assert _skep_in(environment.ready(dev=False, folder=home, wheels=wheels)) == "1.1"


@pytest.mark.usefixtures("python_without_ensurepip")
def test_a_wheel_that_is_missing_is_said_and_tried_again_at_the_next_start(tmp_path, monkeypatch, capfd):
    pins = tmp_path / "pins.txt"
    monkeypatch.setattr(environment, "PINS", pins)
    home, wheels = tmp_path / "venv", tmp_path / "wheels"
    wheels.mkdir()
    pins.write_text(f"skep==1.0\n{environment.DEV_MARK}\n")
    with pytest.raises(environment.SetUpFailed, match="folder wheels"):
        environment.ready(dev=False, folder=home, wheels=wheels)
    assert "skep==1.0" in capfd.readouterr().err
    _wheel(wheels, "1.0")
    assert _skep_in(environment.ready(dev=False, folder=home, wheels=wheels)) == "1.0"


def test_a_display_that_is_dead_is_found_out_in_a_child():
    dead = {**os.environ, "DISPLAY": ":987", "QT_QPA_PLATFORM": "xcb"}
    assert screen.screen_wanted(dead)
    assert not screen.screen_answers(Path(sys.executable), dead)


def test_a_session_that_asks_for_no_screen_gets_none():
    assert not screen.screen_wanted({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"})
    assert screen.screen_wanted({"DISPLAY": ":0"})


def test_linux_without_a_named_display_has_no_screen(monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    assert not screen.screen_wanted({})
    assert screen.screen_wanted({"WAYLAND_DISPLAY": "wayland-0"})


# The form of ldd's listing, from glibc 2.36; two libraries made missing by hand.
LISTING = """
	linux-vdso.so.1 (0x00007f3628307000)
	libGL.so.1 => /lib/x86_64-linux-gnu/libGL.so.1 (0x00007f3620000000)
	libEGL.so.1 => not found
	libxcb-cursor.so.0 => not found
	libEGL.so.1 => not found
"""


def test_missing_libraries_are_named_by_package_for_screen_and_for_none():
    gone = screen.not_found(LISTING)
    assert gone == ["libEGL.so.1", "libxcb-cursor.so.0"]
    assert screen.packages(screen.lacking(gone, screen=False)) == ["libegl1"]
    assert screen.packages(screen.lacking(gone, screen=True)) == ["libegl1", "libxcb-cursor0"]


def test_who_may_not_install_is_told_the_command(monkeypatch):
    monkeypatch.setattr(screen, "missing_libraries", lambda _python: ["libEGL.so.1"])
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    said = screen.mend_libraries(Path(sys.executable), screen=False)
    assert said[1] == "Install them with: sudo apt-get install --yes --no-install-recommends libegl1"


def test_nothing_is_missing_where_this_suite_runs():
    gone = screen.missing_libraries(Path(sys.executable))
    assert screen.lacking(gone, screen=False) == []


def test_where_ldd_is_missing_each_library_is_tried(monkeypatch):
    monkeypatch.setattr(screen.shutil, "which", lambda _name: None)
    monkeypatch.setattr(screen, "PACKAGES", {"libskep.so.9": "libskep9", "libz.so.1": "zlib1g"})
    assert screen.missing_libraries(Path(sys.executable)) == ["libskep.so.9"]


def test_an_older_python_is_turned_away_with_a_sentence(tmp_path):
    for name in ("run", "test"):
        text = (environment.ROOT / "packaging" / name).read_text(encoding="utf-8")
        older = text.replace("sys.version_info[:2]", "(3, 10)")
        assert older != text
        script = tmp_path / name
        script.write_text(older)
        done = subprocess.run([sys.executable, script], capture_output=True, text=True, check=False)
        assert done.returncode == 1
        assert "this is Python 3.10" in done.stderr
        assert "Traceback" not in done.stderr
