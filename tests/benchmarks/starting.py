"""From the start of the process until Today is painted and takes a key, beside an empty window."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from tests.benchmarks.farms import Farms
from tests.benchmarks.figures import Figure, ms, ratio_of_medians

HERE = Path(__file__).parent
RUNS = 10


def figures(farms: Farms) -> list[Figure]:
    """Ten alternating runs of each, after one of each that fills the caches."""
    copy = farms.copy("start")
    scripts = {"ours": HERE / "our_start.py", "bare": HERE / "bare_start.py"}
    for script in scripts.values():
        _ready_after(script, copy, farms.folder)
    taken: dict[str, list[float]] = {name: [] for name in scripts}
    for _ in range(RUNS):
        for name, script in scripts.items():
            taken[name].append(_ready_after(script, copy, farms.folder))
    how = f"{ms(taken['ours'])} against {ms(taken['bare'])} for an empty window, {RUNS} alternating runs, medians"
    return [
        Figure(
            "start: Today painted and taking a key",
            ratio_of_medians(taken["ours"], taken["bare"]),
            1.6,
            "×",
            how,
        )
    ]


def _ready_after(script: Path, ledger: Path, folder: Path) -> float:
    """Seconds from the start of the interpreter until it says that it is ready."""
    root = HERE.parent.parent
    desk = {
        "BEELEDGER_DESK": str(folder / "start-desk"),
        "PYTHONPATH": str(root),
        "QT_QPA_PLATFORM": "offscreen",
    }
    command = [sys.executable, str(script), str(ledger)]
    begun = time.perf_counter()
    with subprocess.Popen(command, env={**os.environ, **desk}, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        for line in child.stdout:
            if line.strip() == "ready":
                taken = time.perf_counter() - begun
                child.communicate()
                if child.returncode == 0:
                    return taken
    raise RuntimeError(f"{script.name} did not come to its ready line")
