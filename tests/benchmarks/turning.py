"""The window, turned by hand: from an event to the end of its painting."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from beeledger.ui.desk.desk import Desk
    from beeledger.ui.frame.window import Window

PATIENCE_S = 60.0


def opened(ledger: Path, folder: Path) -> tuple[Desk, Window]:
    """The window at 1366×768 without a screen, at a desk of its own."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    os.environ["BEELEDGER_DESK"] = str(folder)
    from beeledger.ui.frame import memory
    from beeledger.ui.frame.app import make_app, make_desk
    from beeledger.ui.frame.window import Window, dress
    from tests.benchmarks.farms import clock

    make_app()
    desk = make_desk(ledger, clock())
    dress(desk)
    window = Window(desk)
    window.resize(1366, 768)
    window.show()
    window.open_place("today")
    settle(desk)
    memory.settle_in()  # as the program does once its window is there
    return desk, window


def settle(desk: Desk) -> None:
    """Turn the event loop until nothing is being read and nothing is left to paint."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    end = time.monotonic() + PATIENCE_S
    quiet = 0
    while quiet < 2:
        waiting = bool(desk.workers.waiting)
        # What the workers deliver is an event: waiting for it leaves the processor to them.
        more = (
            QEventLoop.ProcessEventsFlag.WaitForMoreEvents
            if waiting
            else QEventLoop.ProcessEventsFlag.AllEvents
        )
        QApplication.processEvents(more)
        quiet = 0 if waiting else quiet + 1
        if time.monotonic() > end:
            raise TimeoutError("the window did not come to rest")


def seconds(desk: Desk, event: Callable[[], object]) -> float:
    """From an event until all that it changed is read and painted."""
    begun = time.perf_counter()
    event()
    settle(desk)
    return time.perf_counter() - begun


def on_thread(event: Callable[[], object]) -> float:
    """Seconds that the window's thread works from an event until what it changed is painted."""
    from PySide6.QtWidgets import QApplication

    begun = time.thread_time()
    event()
    QApplication.processEvents()
    return time.thread_time() - begun
