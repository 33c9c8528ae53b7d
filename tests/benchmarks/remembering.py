"""Peak memory after every place was visited and every document printed once."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.benchmarks.farms import Farms
from tests.benchmarks.figures import Figure

ROOT = Path(__file__).parent.parent.parent


def figures(farms: Farms) -> list[Figure]:
    """In a process of its own."""
    command = [
        sys.executable,
        "-m",
        "tests.benchmarks.visit_all",
        str(farms.copy("visit")),
        str(farms.folder),
    ]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=True, cwd=ROOT)
    kilobytes, places, papers = map(int, done.stdout.split()[-3:])
    how = f"highest resident size by getrusage: {places} places visited, {papers} documents printed"
    return [Figure("memory", kilobytes / 1024, 350, "MB", how)]
