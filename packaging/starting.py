"""What the two commands do: set up, then open the office or run the tests."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Sequence
from pathlib import Path

import environment
import screen

ROOT = environment.ROOT
OUT = ROOT / "out"
WITH_WINDOW = ["open", "--sample-copy"]
WITHOUT_WINDOW = ["headless", "--out", str(OUT)]


def open_the_office() -> int:
    """The window on a copy of the sample farm; without a screen the daily jobs, written to ``out``."""
    try:
        python = environment.ready(dev=False)
    except environment.SetUpFailed as failed:
        print(failed)
        return 1
    wanted = screen.screen_wanted()
    for sentence in screen.mend_libraries(python, screen=wanted):
        print(sentence, flush=True)
    if screen.screen_answers(python):
        return _beeledger(python, WITH_WINDOW, dict(os.environ))
    if wanted:
        print("The display does not answer.", flush=True)
    print(f"No screen: doing the daily jobs without one, into the folder {OUT.name} ...", flush=True)
    code = _beeledger(python, WITHOUT_WINDOW, {**os.environ, "QT_QPA_PLATFORM": "offscreen"})
    for file in sorted(path for path in OUT.rglob("*") if path.is_file()):
        print(f"  {file.relative_to(ROOT)}  {file.stat().st_size / 1000:,.0f} kB")
    return code


def run_the_tests(arguments: Sequence[str]) -> int:
    """The suite, offscreen; the whole of it on two workers, a part of it (any argument) on one."""
    try:
        python = environment.ready(dev=True)
    except environment.SetUpFailed as failed:
        print(failed)
        return 1
    for sentence in screen.mend_libraries(python, screen=False):
        print(sentence, flush=True)
    workers = [] if arguments or (os.cpu_count() or 1) < 2 else ["-n", "2", "--dist", "worksteal"]
    command = [str(python), "-m", "pytest", *workers, *arguments]
    surroundings = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    return subprocess.run(command, cwd=ROOT, env=surroundings, check=False).returncode


def _beeledger(python: Path, arguments: Sequence[str], surroundings: dict[str, str]) -> int:
    """Run the program as a person would: ``python -m beeledger ...`` from the root."""
    command = [str(python), "-m", "beeledger", *arguments]
    return subprocess.run(command, cwd=ROOT, env=surroundings, check=False).returncode
