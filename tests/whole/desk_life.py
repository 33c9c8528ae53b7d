"""A desk with its window at which someone does anything for a while: run as a program by the test of two desks.

Prints one JSON line for each act tried (what came of it), each act of the other desk it heard of, and each that
its History showed, with the moment (seconds since 1970).
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from time import time
from typing import Any

os.environ["QT_QPA_PLATFORM"] = "offscreen"

TURN_S = 12
"""How long a desk stays at History before it goes round the other places, and the other way about."""
VISIT_S = 2
LEAST = 3
"""Acts each desk does before it leaves, however slow the computer."""


class Life:
    """One desk: acts one after the other, with pauses, and looks about."""

    def __init__(self, target: str, name: str, seconds: float, seed: int, pause_ms: int, ready: Path) -> None:
        from beeledger.base.clock import FixedClock
        from beeledger.ui.frame.app import make_app, make_desk
        from beeledger.ui.frame.registry import PLACES
        from beeledger.ui.frame.window import Window, dress
        from tests.whole.any_act import Chance

        self.app = make_app()
        clock = FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC), "Europe/London")
        self.desk = make_desk(target, clock)
        self.desk.change_settings(desk=name)
        dress(self.desk)
        self.window = Window(self.desk)
        self.window.resize(1366, 768)
        self.window.show()
        self.dice, self.seconds, self.pause_ms = Random(seed), seconds, pause_ms
        self.until, self.ready, self.name = 0.0, ready, name
        self.chance = Chance(self.desk.ledger, self.dice, clock.today(), name)
        self.places = [place.key for place in PLACES]
        self.offset = TURN_S * (seed % 2)
        self.seen: set[int] = set()
        self.own: list[int] = []
        self.trying = ""
        self.desk.changed.connect(self._heard)
        self.desk.said.connect(self._said)

    def live(self) -> None:
        """Until the time is over; then what is under way is finished."""
        from PySide6.QtCore import QTimer

        self.desk.start()
        self.window.open_place("history")
        looking, walking = QTimer(), QTimer()
        looking.timeout.connect(self._look)
        walking.timeout.connect(self._walk)
        looking.start(20)
        walking.start(VISIT_S * 1000)
        self.ready.joinpath(f"{self.name}.ready").touch()
        self._begin()
        self.app.exec()
        looking.stop()
        walking.stop()
        self.window.close()
        self.desk.close()

    def say(self, **what: Any) -> None:
        """One line for who watches."""
        sys.stdout.write(json.dumps(what | {"at": time()}) + "\n")
        sys.stdout.flush()

    def _begin(self) -> None:
        """Once both desks sit there, however long the computer took to open their windows."""
        from PySide6.QtCore import QTimer

        if len(list(self.ready.glob("*.ready"))) < 2:
            QTimer.singleShot(50, self._begin)
            return
        self.until = time() + self.seconds
        self._later()

    def _later(self) -> None:
        from PySide6.QtCore import QTimer

        QTimer.singleShot(int(min(self.dice.expovariate(1 / self.pause_ms), 4 * self.pause_ms)), self._try)

    def _try(self) -> None:
        if time() >= self.until and len(self.own) >= LEAST:
            self.say(left=True)
            self.app.exit()
        elif self.own and self.dice.random() < 0.15:
            self.trying = "undo"
            self.desk.undo(self.dice.choice(self.own[-6:]), then=self._done)
        else:
            self._wish(self.chance.wish())

    def _wish(self, wish: Any) -> None:
        def refused(refusal: Any) -> None:
            self.say(tried=wish.operation.__name__, refused=[found.sentence() for found in refusal.findings])
            self.trying = ""
            again = wish.again(list(refusal.findings)) if self.dice.random() < 0.7 else None
            if again is None:
                self._later()
            else:
                self._wish(again)

        self.trying = wish.operation.__name__
        self.desk.act(wish.operation, *wish.said, owner=self.window, then=self._done, refused=refused)

    def _done(self, done: Any) -> None:
        self.say(tried=self.trying, act=done.act, kind=done.kind)
        self.own.append(done.act)
        self.trying = ""
        self._later()

    def _said(self, saying: Any) -> None:
        """An act that could not be done, or an undo that was refused, is told in the window's own line."""
        if saying.tone == "now" and self.trying:
            self.say(tried=self.trying, refused=[f"{saying.text} {saying.remedy}"])
            self.trying = ""
            self._later()

    def _heard(self, done: Any) -> None:
        if done.kind == "news":
            self.say(heard=done.act)

    def _look(self) -> None:
        """Which acts History shows now that it did not show before."""
        place = self.window.place
        if place.key != "history":
            return
        for act in set(place.lines) - self.seen:
            self.say(shown=act)
        self.seen |= set(place.lines)

    def _walk(self) -> None:
        at_history = int((time() + self.offset) // TURN_S) % 2 == 0
        key = "history" if at_history else self.dice.choice(self.places)
        if key != self.window.place.key:
            self.say(place=key)
            self.window.open_place(key)


@contextmanager
def _quiet() -> Iterator[None]:
    """The platform without a screen says at every window what it cannot do."""
    from PySide6.QtCore import qInstallMessageHandler

    def told(_kind: Any, _where: Any, text: str) -> None:
        if not text.startswith("This plugin does not support"):
            sys.stderr.write(f"{text}\n")

    before = qInstallMessageHandler(told)
    try:
        yield
    finally:
        qInstallMessageHandler(before)


if __name__ == "__main__":
    with _quiet():
        target, name, seconds, seed, pause_ms, ready = sys.argv[1:]
        Life(target, name, float(seconds), int(seed), int(pause_ms), Path(ready)).live()
