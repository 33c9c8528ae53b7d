"""What a scan left to a person: each unsure mark with its picture for a yes or no, and the paper's line in focus."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from beeledger.base.text import counted
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.words import Words

SCAN = "scan"
"""In a draft's place: the marks of its scan that are not settled."""
WIDTH = 380
_ROOM = 352
_BOX_TIMES = 1.6


class ScanPanel(Stack):
    """Y and N settle the mark that is shown, Space goes to the next, Escape back to the typing."""

    went = Signal(str)
    """The hive of the mark that is shown."""
    left = Signal()

    def __init__(self) -> None:
        super().__init__(ground="sunk")
        self.setObjectName("rounds.scan")
        self.pictures: Callable[[str], dict[str, bytes]] = lambda _uid: {}
        self._sheet: Sheet | None = None
        self._cut: dict[str, bytes] = {}
        self._of = ""
        self._at = 0
        self.title = Words("", weight=600)
        self.asked = Words("", wrap=True)
        self.box = QLabel()
        self.yes = Button("Yes, marked", lambda: self.settle(marked=True), kind="quiet")
        self.no = Button("No", lambda: self.settle(marked=False), kind="quiet")
        self.next = Button("Next", self.go_on, kind="quiet")
        self.line_name = Words("", weight=600)
        self.line = QLabel()
        self.head = QLabel()
        self._lay_out()
        self.hide()

    def questions(self) -> list[dict[str, Any]]:
        """The marks that are not settled."""
        return list(self._sheet.place.get(SCAN, ())) if self._sheet else []

    def show_sheet(self, sheet: Sheet) -> None:
        """Another round, or the same again."""
        self._sheet = sheet
        if sheet.head.source != "scan":
            self.hide()
            return
        if self._of != sheet.head.uid:
            self._of, self._cut, self._at = sheet.head.uid, self.pictures(sheet.head.uid), 0
        self.setFixedWidth(look.px(WIDTH))
        self.show()
        self._tell()

    def show_row(self, row: int) -> None:
        """The paper's line of the hive in focus; the head of the sheet with the first."""
        if self._sheet is None or self.isHidden() or not 0 <= row < len(self._sheet.lines):
            return
        line = self._sheet.lines[row]
        self.line_name.setText(f"On paper, {line.mark}")
        self._put(self.line, str(line.colony_id), 1.0)
        self._put(self.head, "head" if row == 0 else "", 1.0)

    def settle(self, *, marked: bool) -> None:
        """The mark that is shown is one, or is none."""
        open_now = self.questions()
        if not open_now or self._sheet is None:
            return
        one = open_now.pop(self._at)
        self._sheet.place[SCAN] = open_now
        row = next((at for at, line in enumerate(self._sheet.lines) if line.colony_id == one["colony"]), None)
        if marked and row is not None:
            entry = replace(self._sheet.lines[row].typed, **{one["field"]: one["value"]})
            self._sheet.put_entries({row: entry})
        self._sheet.keep()
        self._at = min(self._at, max(0, len(open_now) - 1))
        self._tell()
        if not open_now:
            self.left.emit()

    def go_on(self) -> None:
        """The next mark."""
        self._at = (self._at + 1) % max(1, len(self.questions()))
        self._tell()

    def come(self) -> bool:
        """Take the keys to the marks; False when none is left."""
        if self.isHidden() or not self.questions():
            return False
        self.setFocus()
        self._tell()
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Y, N, Space, Escape."""
        does: dict[int, Callable[[], None]] = {
            Qt.Key.Key_Y: lambda: self.settle(marked=True),
            Qt.Key.Key_N: lambda: self.settle(marked=False),
            Qt.Key.Key_Space: self.go_on,
            Qt.Key.Key_Escape: self.left.emit,
        }
        do = does.get(event.key()) if not event.modifiers() else None
        if do is None:
            super().keyPressEvent(event)
        else:
            do()

    def _tell(self) -> None:
        open_now = self.questions()
        for piece in (self.asked, self.box, self.yes, self.no, self.next):
            piece.setVisible(bool(open_now))
        self.title.setText(
            f"The scan: {counted(len(open_now), 'mark')} to settle" if open_now else "The scan"
        )
        if not open_now:
            return
        one = open_now[self._at]
        read = "a mark" if one["says"] == "marked" else "no mark"
        self.asked.setText(
            f"{one['hive']}, {one['what']}: read as {read}, but {one['why']}. Is it marked? Y or N"
        )
        self._put(self.box, one["picture"], _BOX_TIMES)
        if self.hasFocus():
            self.went.emit(one["hive"])
            self.setFocus()

    def _put(self, label: QLabel, name: str, times: float) -> None:
        picture = QPixmap()
        if not picture.loadFromData(self._cut.get(name, b"")):
            label.clear()
            return
        wide = min(look.px(_ROOM), round(picture.width() * times))
        label.setPixmap(picture.scaledToWidth(wide, Qt.TransformationMode.SmoothTransformation))

    def _lay_out(self) -> None:
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        band = Band(self.title, ground="sunk")
        band.air()
        self.add(band)
        buttons = QWidget()
        across = QHBoxLayout(buttons)
        across.setContentsMargins(0, 0, 0, 0)
        for button in (self.yes, self.no, self.next):
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            across.addWidget(button)
        across.addStretch(1)
        for piece in (self.asked, self.box, buttons, self.line_name, self.line, self.head):
            piece.setContentsMargins(12, 4, 12, 4)
            self.add(piece)
        self.add(QWidget(), 1)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
