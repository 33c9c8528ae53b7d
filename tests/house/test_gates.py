"""The gates of the suite have been seen red: what should fail a test does, and the binding under it is sound."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

# What each of these leaves behind or says must fail it.
LOUD = """
import logging, threading, warnings
from PySide6.QtCore import QRunnable, QThreadPool, qWarning
from PySide6.QtWidgets import QLabel

gate, kept = threading.Event(), []

def test_log(): logging.getLogger("hive").warning("light")
def test_warning(): warnings.warn("light", UserWarning, stacklevel=1)
def test_qt_warning(qapp): qWarning(b"light")
def test_window(qapp):
    kept.append(QLabel("Round"))
    kept[0].show()
def test_thread():
    threading.Thread(target=lambda: gate.wait(60)).start()
def test_quiet(qapp, qtbot):
    gate.set()
    label = QLabel("Round")
    qtbot.addWidget(label)
    label.show()
    logging.getLogger("hive").info("opened")
"""


def test_what_is_left_behind_or_said_aloud_fails_the_test(tmp_path):
    (tmp_path / "test_loud.py").write_text(LOUD)
    config = ["-c", str(ROOT / "pyproject.toml"), "--rootdir", str(tmp_path), "-p", "tests.conftest"]
    command = [sys.executable, "-m", "pytest", *config, "-rA", "--tb=no", str(tmp_path / "test_loud.py")]
    done = subprocess.run(
        command,
        cwd=ROOT,
        capture_output=True,
        text=True,
        env=dict(os.environ, PYTHONPATH=str(ROOT)),
        check=False,
    )
    lines = [
        line.split(" - ")[0] for line in done.stdout.splitlines() if line.startswith(("FAILED", "ERROR"))
    ]
    red = {line.rpartition("::")[2] for line in lines}
    assert red == {"test_log", "test_warning", "test_qt_warning", "test_window", "test_thread"}, done.stdout
    assert done.returncode == 1


@pytest.mark.usefixtures("qapp")
def test_the_binding_takes_no_reference_of_none():
    # PySide6 6.12.0 on Python 3.10 and 3.11 lost one at each call that returns None, until the process aborted.
    from PySide6.QtWidgets import QLabel

    label = QLabel()
    before = sys.getrefcount(None)
    for _ in range(1000):
        label.setText("brood")
    assert sys.getrefcount(None) > before - 100
