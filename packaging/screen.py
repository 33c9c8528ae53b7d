"""What Qt needs of the computer: a screen that answers, and a few system libraries.

Qt ends the whole process when it cannot reach a display or lacks a library, and nothing in Python
can catch that. So both are found out from outside, before the program starts.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path

# Library file -> Debian and Ubuntu package; read off `ldd` and `dpkg -S` on Debian 12 for Qt 6.11.3.
WITHOUT_SCREEN = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11.so.6": "libx11-6",
    "libxcb.so.1": "libxcb1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libz.so.1": "zlib1g",
    "libzstd.so.1": "libzstd1",
    "libstdc++.so.6": "libstdc++6",
}
ON_A_SCREEN = {
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
}
PACKAGES = WITHOUT_SCREEN | ON_A_SCREEN
BLIND = {"offscreen", "minimal", "vnc", "linuxfb"}

# Run by the environment's Python: which of the libraries named as arguments cannot be loaded.
_TRY_EACH = """
import ctypes, sys
for name in sys.argv[1:]:
    try:
        ctypes.CDLL(name)
    except OSError:
        print(name)
"""
_QT_FILES = """
import importlib.util, pathlib
spec = importlib.util.find_spec("PySide6")
home = pathlib.Path(next(iter(spec.submodule_search_locations)))
for name in ("QtWidgets.abi3.so", "QtPrintSupport.abi3.so", "QtSvg.abi3.so",
             "Qt/plugins/platforms/libqoffscreen.so", "Qt/plugins/platforms/libqxcb.so"):
    print(home / name)
"""
_OPEN_A_SCREEN = "from PySide6.QtWidgets import QApplication; QApplication([]); print('seen')"


def screen_wanted(surroundings: Mapping[str, str] = os.environ) -> bool:
    """Whether the session names a screen at all; whether it answers is another question."""
    if surroundings.get("QT_QPA_PLATFORM", "").split(":")[0] in BLIND:
        return False
    named = surroundings.get("DISPLAY") or surroundings.get("WAYLAND_DISPLAY")
    return bool(named) or not sys.platform.startswith("linux")


def screen_answers(python: Path, surroundings: Mapping[str, str] = os.environ) -> bool:
    """Whether a window could be shown: tried in a child process that may die of it."""
    if not screen_wanted(surroundings):
        return False
    try:
        child = subprocess.run(
            [python, "-c", _OPEN_A_SCREEN],
            env=dict(surroundings), capture_output=True, text=True, timeout=30, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return False
    return child.returncode == 0 and "seen" in child.stdout


def missing_libraries(python: Path) -> list[str]:
    """The system libraries Qt would not find, by file name, sorted; empty where that is not Linux."""
    if not sys.platform.startswith("linux"):
        return []
    if shutil.which("ldd"):
        files = _output([python, "-c", _QT_FILES]).split()
        return not_found(_output(["ldd", *files]))
    return sorted(_output([python, "-c", _TRY_EACH, *PACKAGES]).split())


def not_found(ldd: str) -> list[str]:
    """The libraries that a listing of ``ldd`` says are not there."""
    lines = (line.split("=>") for line in ldd.splitlines() if "=> not found" in line)
    return sorted({left.strip() for left, _ in lines})


def packages(libraries: Iterable[str]) -> list[str]:
    """The Debian packages that hold ``libraries``, sorted; a library not on the list is named itself."""
    return sorted({PACKAGES.get(name, name) for name in libraries})


def lacking(libraries: Iterable[str], *, screen: bool) -> list[str]:
    """Of ``libraries`` those that matter: the screen's own are not needed where there is no screen."""
    return [name for name in libraries if screen or name not in ON_A_SCREEN]


def mend_libraries(python: Path, *, screen: bool) -> list[str]:
    """Install the missing packages where that is allowed; the sentences to print, empty when all is there."""
    gone = lacking(missing_libraries(python), screen=screen)
    if not gone:
        return []
    named = packages(gone)
    command = ["apt-get", "install", "--yes", "--no-install-recommends", *named]
    sentence = f"Qt lacks these system libraries: {', '.join(gone)}. Packages: {' '.join(named)}."
    if not (shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0):
        return [sentence, f"Install them with: sudo {' '.join(command)}"]
    print(f"{sentence} Installing them ...", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in (["apt-get", "update", "--quiet=2"], [*command, "--quiet=2"]):
        subprocess.run(step, env=quiet, stdout=subprocess.DEVNULL, check=False)
    left = lacking(missing_libraries(python), screen=screen)
    return [f"Still missing: {', '.join(left)}. Install: {' '.join(packages(left))}"] if left else []


def _output(command: list[str | Path]) -> str:
    done = subprocess.run(
        command, capture_output=True, text=True, env={**os.environ, "LC_ALL": "C"}, check=False
    )
    return done.stdout
