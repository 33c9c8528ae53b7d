"""The virtual environment beside the checkout: made once, filled from pins.txt, kept while that holds.

Only the standard library: this runs before anything is installed.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PINS = ROOT / "packaging" / "pins.txt"
WHEELS = ROOT / "wheels"
DEV_MARK = "# --- tests and checks only ---"
STAMP = "installed-pins.txt"


class SetUpFailed(Exception):
    """The set-up cannot go on; the text is a sentence for the person who started it."""


def pins(text: str, *, dev: bool) -> list[str]:
    """The pinned requirements; those below the mark only for tests and checks."""
    program, mark, checks = text.partition(DEV_MARK)
    if not mark:
        raise SetUpFailed("packaging/pins.txt has lost the line that divides it.")
    lines = [*program.splitlines(), *(checks.splitlines() if dev else [])]
    wanted = [line.strip() for line in lines if line.strip() and not line.startswith("#")]
    odd = [line for line in wanted if line.count("==") != 1 or any(c in line for c in "<>;[ ~")]
    if odd:
        raise SetUpFailed(f"packaging/pins.txt holds a line that is not name==version: {odd[0]}")
    return wanted


def python_in(folder: Path) -> Path:
    """The interpreter of an environment."""
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def runs(command: Sequence[str | Path]) -> bool:
    """Whether a command ends well; its output is not shown."""
    try:
        done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    except OSError:
        return False
    return done.returncode == 0


def ready(*, dev: bool, folder: Path = ROOT / ".venv", wheels: Path = WHEELS) -> Path:
    """The environment's interpreter, with everything pinned installed; makes what is missing."""
    wanted = pins(PINS.read_text(encoding="utf-8"), dev=dev)
    stamp = folder / STAMP
    if not _serves(folder):
        _say(f"Making the virtual environment {folder.name} ...")
        make(folder)
    have = stamp.read_text(encoding="utf-8").split() if stamp.exists() else []
    missing = [pin for pin in wanted if pin not in have]
    if missing:
        _say(f"Installing {len(missing)} packages into {folder.name}; once, about a minute ...")
        stamp.unlink(missing_ok=True)
        install(folder, wanted, wheels)
        kept = [pin for pin in have if _name(pin) not in {_name(other) for other in wanted}]
        stamp.write_text("\n".join([*wanted, *kept]) + "\n", encoding="utf-8")
    _know_the_program(folder)
    return python_in(folder)


def _know_the_program(folder: Path) -> None:
    """A line by which the environment finds the program from whatever folder it is started in."""
    inside = "Lib" if os.name == "nt" else f"lib/python{sys.version_info.major}.{sys.version_info.minor}"
    line = folder / inside / "site-packages" / "beeledger-checkout.pth"
    wanted = f"{ROOT}\n"
    if not line.exists() or line.read_text(encoding="utf-8") != wanted:
        line.write_text(wanted, encoding="utf-8")


def make(folder: Path) -> None:
    """An empty environment for this interpreter, with its own pip where Python can give it one."""
    if runs([sys.executable, "-m", "venv", "--clear", folder]):
        return
    # Debian and others ship venv without ensurepip: an environment without pip can still be made,
    # and filled by the pip that stands outside it.
    if not runs([sys.executable, "-m", "venv", "--clear", "--without-pip", folder]):
        raise SetUpFailed(
            "Python could not make a virtual environment. On Debian and Ubuntu: apt-get install python3-venv"
        )


def install(folder: Path, wanted: Sequence[str], wheels: Path = WHEELS) -> None:
    """Put the pinned packages into an environment, from the folder of wheels where there is one."""
    pip, surroundings = _pip(folder, wheels)
    source = ["--no-index", "--find-links", str(wheels)] if wheels.is_dir() else []
    quiet = ["--quiet", "--disable-pip-version-check", "--no-input", "--no-warn-script-location"]
    command = [*pip, "install", *quiet, *source, *wanted]
    if subprocess.run(command, env=surroundings, check=False).returncode != 0:
        where = f"the folder {wheels.name}" if source else "the package index"
        raise SetUpFailed(
            f"The packages could not be installed from {where}. What pip said stands above. Without network, "
            "put the wheels of packaging/pins.txt into a folder named wheels beside README.md."
        )


def _pip(folder: Path, wheels: Path) -> tuple[list[str], dict[str, str]]:
    """The command that is pip for this environment: its own, the running Python's, or a pip wheel."""
    inside = str(python_in(folder))
    surroundings = dict(os.environ)
    for command in ([inside, "-m", "pip"], [sys.executable, "-m", "pip", "--python", inside]):
        if runs([*command, "--version"]):
            return command, surroundings
    wheel = max(wheels.glob("pip-*.whl"), default=None)
    if wheel:  # a wheel of pip can be run as it lies
        return [inside, "-m", "pip"], {**surroundings, "PYTHONPATH": str(wheel)}
    raise SetUpFailed(
        "This Python has no pip (22.3 or later). On Debian and Ubuntu: apt-get install python3-pip; "
        "without network, put a pip wheel into the folder wheels."
    )


def _serves(folder: Path) -> bool:
    """Whether the environment starts and is of this Python; one that was moved or copied is not."""
    ask = f"import sys; sys.exit(sys.version_info[:2] != {sys.version_info[:2]!r})"
    return python_in(folder).exists() and runs([python_in(folder), "-c", ask])


def _name(pin: str) -> str:
    return pin.partition("==")[0].lower().replace("_", "-")


def _say(sentence: str) -> None:
    print(sentence, flush=True)
