"""An evening at the desk: real keys into the window, each counted, and farms whose sheets are typed.

The sheets are of the kind that a crew brings home; their hives and figures are made up here.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import Boxes, NewColony, found_colonies
from beeledger.operations.queens import NewQueen
from beeledger.operations.sites import NewSite, add_site
from tests.builders.yards import SPRING, Yard
from tests.ui.places.sitting import Seat, seated

DOUBLE = Boxes("national", 2, 11, "national_brood", 2, 10)
SINGLE = Boxes("national", 1, 11, "national_brood", 2, 10)


class Typist:
    """Presses keys wherever the focus is, and counts them; a chord is one key."""

    def __init__(self, seat: Seat) -> None:
        self.seat = seat
        self.pressed = 0

    def type(self, text: str) -> None:
        """Words and figures as they are typed; a line end is Enter."""
        for letter in text:
            if letter == "\n":
                self.press("Return")
            else:
                self.pressed += 1
                QTest.keyClicks(focus(), letter)

    def press(self, *chords: str) -> None:
        """Keys by their names: "Ctrl+N", "F2", "Return"."""
        for chord in chords:
            self.pressed += 1
            keys = QKeySequence(chord)[0]
            QTest.keyClick(focus(), keys.key(), keys.keyboardModifiers())

    def lines(self, *lines: str) -> None:
        """Quick lines, each taken with Enter."""
        for line in lines:
            self.type(f"{line}\n")

    def settle(self) -> None:
        """Wait for what was asked for."""
        self.seat.settle()

    def open(self, site: str, day: str = "", **more: str) -> Any:
        """A new round at a site; gives its sheet once the grid is there."""
        self.press("Ctrl+N")
        self.settle()
        self.type(site)
        if day:
            self.press("Tab", "Ctrl+A")
            self.type(day)
        for name, words in more.items():
            self.seat.place.form.form.fields[name].set_value(words)
        self.press("Return")
        self.seat.until(lambda: self.seat.place.stack.currentWidget() is self.seat.place.pane)
        return self.seat.place.pane.sheet


def focus() -> Any:
    """Where the keys go."""
    widget = QApplication.focusWidget()
    assert widget is not None, "nothing has the focus"
    return widget


@contextmanager
def evening(
    ledger: Ledger, qtbot: Any, folder: Path, size: tuple[int, int] = (1256, 828)
) -> Iterator[Typist]:
    """Sit down at Rounds."""
    with seated(ledger, "rounds", qtbot, folder, size) as seat:
        seat.place.setFocus(Qt.FocusReason.OtherFocusReason)
        try:
            yield Typist(seat)
        finally:
            seat.desk._settle.stop()  # the seat stops the workers, not the desk


def double_yard(
    ledger: Ledger, name: str, marks: list[str], *, boxes: Boxes = DOUBLE, year: int = 2025
) -> Yard:
    """A site whose hives have two brood boxes and two supers, walked as named."""
    site = perform(ledger, add_site, NewSite(name)).result
    colonies = [
        NewColony(mark, site, SPRING, queen=NewQueen(hatch_year=year), stand=stand, boxes=boxes)
        for stand, mark in enumerate(marks, start=1)
    ]
    ids = perform(ledger, found_colonies, colonies).result
    return Yard(ledger, site, dict(zip(marks, ids, strict=True)))


def on(day: int, month: int) -> date:
    """A day of the season the tests live in."""
    return date(2026, month, day)
