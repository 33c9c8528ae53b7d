"""The table of figures runs on a small farm, and says what misses its bar. Its figures are no tests."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.benchmarks.figures import Figure, p95, ratio_of_medians, table

ROOT = Path(__file__).parent.parent.parent


def test_a_figure_over_its_bar_is_told_as_missed():
    said = table(
        [Figure("start", 1.7, 1.6, "×", "ten runs"), Figure("memory", 349.9, 350, "MB", "one visit")]
    )
    lines = said.splitlines()
    assert ("1.70×" in lines[1], "MISSED" in lines[1]) == (True, True)
    assert ("349.90 MB" in lines[2], "holds" in lines[2]) == (True, True)


def test_the_95th_of_a_hundred_is_the_95th_by_nearest_rank():
    # Nearest rank: ordinal ceil(0.95 · n) (Hyndman and Fan 1996, definition 1).
    assert p95(range(1, 101)) == 95
    assert p95([7.0]) == 7.0
    assert ratio_of_medians([2.0, 9.0, 4.0], [2.0, 1.0, 3.0]) == 2.0


@pytest.mark.timeout(120)
def test_the_table_is_printed_for_a_small_farm(tmp_path: Path):
    sizes = ["--colonies", "40", "--sites", "4", "--years", "2", "--folder", str(tmp_path)]
    command = [
        sys.executable,
        str(ROOT / "packaging" / "bench"),
        *sizes,
        "--only",
        "asking",
        "--only",
        "posting",
    ]
    done = subprocess.run(
        command,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr
    for what in ("the colony list", "Today, ten years", "a round posted"):
        assert any(line.startswith(what) and "×" in line for line in done.stdout.splitlines()), done.stdout
