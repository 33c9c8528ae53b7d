"""Pictures of every place, taken without a screen: what the window looks like on a ledger."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from time import monotonic

from PySide6.QtCore import QEventLoop, QMessageLogContext, QtMsgType, qInstallMessageHandler
from PySide6.QtWidgets import QApplication

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.app import make_app, make_desk
from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.window import Window, dress

SIZE = (1440, 900)
_PATIENCE_S = 60.0
_QUIET_TURNS = 5
"""Turns of the event loop without waiting work after which a place has drawn all it read."""


def picture_places(target: str | Path, clock: Clock, folder: Path, look: str = "light") -> list[Path]:
    """Write a picture of each place, on a ledger, into ``folder``; returns the files in the places' order."""
    app = make_app()
    before = qInstallMessageHandler(_without_the_platforms_chat)
    desk = make_desk(target, clock)
    desk.settings = desk.settings.but(look=look)
    dress(desk)
    window = Window(desk)
    window.resize(*SIZE)
    window.show()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return list(_pictures(app, desk, window, folder, look))
    finally:
        window.close()
        desk.close()
        qInstallMessageHandler(before)


def _without_the_platforms_chat(_kind: QtMsgType, _where: QMessageLogContext, text: str) -> None:
    """The platform without a screen says at every window what it cannot do; all else is passed on."""
    if not text.startswith("This plugin does not support"):
        sys.stderr.write(f"{text}\n")


def _pictures(app: QApplication, desk: Desk, window: Window, folder: Path, look: str) -> Iterator[Path]:
    for number, place in enumerate(PLACES, start=1):
        window.open_place(place.key)
        _settle(app, desk)
        file = folder / f"{number:02d} {place.key} {look}.png"
        if not window.grab().save(str(file)):
            raise CannotNow(f"{file} cannot be written.", "Choose another folder.")
        yield file


def _settle(app: QApplication, desk: Desk) -> None:
    """Let the window work until nothing waits any more."""
    until, quiet = monotonic() + _PATIENCE_S, 0
    while quiet < _QUIET_TURNS and monotonic() < until:
        app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 20)
        quiet = 0 if desk.workers.waiting else quiet + 1
