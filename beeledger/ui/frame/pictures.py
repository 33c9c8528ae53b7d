"""Pictures of every place, without a screen: for the headless run and for the pages about the program."""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication

from beeledger.base.clock import Clock
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.app import make_app, make_desk
from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.window import Window, dress

LONGEST_S = 20.0
"""A place that is still reading after this long is grabbed as it is."""
QUIET_TURNS = 3


def picture_places(
    target: str | Path,
    clock: Clock,
    folder: Path,
    *,
    looks: Sequence[str] = ("light",),
    size: tuple[int, int] = (1440, 900),
    places: Sequence[str] = (),
) -> list[Path]:
    """Grab each place of a ledger as a PNG named by place and look; returns the files."""
    make_app()
    desk = make_desk(target, clock)
    folder.mkdir(parents=True, exist_ok=True)
    made = []
    try:
        for look in looks:
            desk.settings = desk.settings.but(look=look)
            dress(desk)
            window = Window(desk)
            window.resize(*size)
            window.show()
            for entry in PLACES:
                if not places or entry.key in places:
                    window.open_place(entry.key)
                    settle(desk)
                    path = folder / f"{entry.key}-{look}.png"
                    window.grab().save(str(path))
                    made.append(path)
            window.hide()
            window.deleteLater()
    finally:
        desk.close()
    return made


def settle(desk: Desk) -> None:
    """Let the window turn until nothing is being read any more."""
    app = QApplication.instance()
    assert app is not None
    end = time.monotonic() + LONGEST_S
    quiet = 0
    while quiet < QUIET_TURNS and time.monotonic() < end:
        app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 50)
        quiet = 0 if desk.workers.waiting else quiet + 1
