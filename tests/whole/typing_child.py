"""A desk that is typed at until it is killed: run as a program by the test of the plug pulled.

Prints one line a key, after the key: how often it has pressed, and a mark of the draft's body as the sheet holds it.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from datetime import UTC, datetime
from random import Random

os.environ["QT_QPA_PLATFORM"] = "offscreen"

LETTERS = "nqe 123456789.+-xlmcd;o?s"


def mark_of(body: dict[str, object]) -> str:
    """A draft's body as a short mark, so that two can be told apart."""
    return hashlib.sha256(json.dumps(body, sort_keys=True).encode()).hexdigest()[:16]


def main(target: str, seed: int) -> None:
    """Open a round and type at random for ever."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    from beeledger.base.clock import FixedClock
    from beeledger.ui.frame.app import make_app, make_desk
    from beeledger.ui.frame.window import Window, dress

    app = make_app()
    desk = make_desk(target, FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC)))
    dress(desk)
    window = Window(desk)
    window.show()
    window.activateWindow()
    window.open_place("rounds")
    place = window.place

    def until(condition: object) -> None:
        assert callable(condition)
        while not condition():
            app.processEvents()

    until(lambda: desk.workers.waiting == 0)
    until(
        lambda: (
            QApplication.focusWidget() is not None
            or app.processEvents() is not None
            or window.isActiveWindow()
        )
    )
    place._command("new")
    place.form.form.set_values({"site": "Fen End"})
    place.form.form.submit()
    until(lambda: place.stack.currentWidget() is place.pane)
    dice, pressed = Random(seed), 0
    while True:
        pane = place.pane
        widget = pane.grid if pane.mode == "cells" else pane.strip.line
        chance = dice.random()
        if chance < 0.12:
            QTest.keyClick(widget, Qt.Key.Key_Return)
        elif chance < 0.15:
            pane.command("toggle")
        elif chance < 0.18:
            QTest.keyClick(widget, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        else:
            QTest.keyClicks(widget, dice.choice(LETTERS))
        app.processEvents()
        pressed += 1
        sys.stdout.write(f"{pressed} {mark_of(pane.sheet.body()['lines'])}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
