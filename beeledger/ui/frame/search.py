"""What the search field finds, in a list below it; arrows choose, Enter opens, Escape leaves."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from beeledger.queries.search import Hit, find
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.top_line import SearchField
from beeledger.ui.widgets import look

_KINDS = {
    "hive": "hive", "site": "site", "queen": "queen", "batch": "batch", "lot": "lot", "contract": "contract",
    "ended": "ended colony", "place": "place",
}  # fmt: skip


class SearchList(QWidget):
    """The hits below the field, painted; a sheet of the window and not a window of its own."""

    def __init__(self, desk: Desk, field: SearchField, window: QWidget) -> None:
        super().__init__(window)
        self.setObjectName("search.list")
        self.setAccessibleName("Found")
        self._desk = desk
        self._field = field
        self._window = window
        self._hits: list[Hit] = []
        self._at = 0
        field.textEdited.connect(self._ask)
        field.installEventFilter(self)
        self.hide()

    @property
    def hits(self) -> list[Hit]:
        """What is listed."""
        return list(self._hits)

    def _ask(self, text: str) -> None:
        if not text.strip():
            self.hide()
            return
        self._desk.read(find, text, owner=self, then=self._show, key="find")

    def _show(self, hits: list[Hit]) -> None:
        text = self._field.text().strip().lower()
        places = [
            Hit("place", 0, entry.title, "", entry.key)
            for entry in PLACES
            if text and entry.title.lower().startswith(text)
        ]
        self._hits = places + hits
        self._at = 0
        if not text or not self._field.hasFocus():
            self.hide()
            return
        corner = self._field.mapTo(self._window, QPoint(0, self._field.height() + 2))
        rows = max(1, len(self._hits))
        self.setGeometry(QRect(corner, QSize(max(self._field.width(), look.px(420)), rows * self._row() + 2)))
        self.setAccessibleDescription(self._words(self._hits[0]) if self._hits else "nothing found")
        self.show()
        self.raise_()
        self.update()

    def _row(self) -> int:
        return look.px(26)

    def _words(self, hit: Hit) -> str:
        return f"{_KINDS[hit.kind]} {hit.name}, {hit.detail}".strip(", ")

    def _open(self, number: int) -> None:
        if not 0 <= number < len(self._hits):
            return
        hit = self._hits[number]
        self.hide()
        self._field.clear()
        self._desk.open_place(hit.place, None if hit.kind == "place" else hit.id)

    def _key(self, event: QKeyEvent) -> bool:
        key = event.key()
        if key == Qt.Key.Key_Escape:
            self.hide()
            self._field.clear()
            self._field.clearFocus()
            return True
        if not self.isVisible():
            return False
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self._at)
            return True
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(key))
        if step is None:
            return False
        self._at = min(max(0, self._at + step), len(self._hits) - 1)
        if self._hits:
            self.setAccessibleDescription(self._words(self._hits[self._at]))
        self.update()
        return True

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        """Keys typed in the field steer the list; leaving the field folds it away."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._key(event)
        if event.type() == QEvent.Type.FocusOut and not self.underMouse():
            self.hide()
        return False

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click opens what it is on."""
        self._open(int(event.position().y() // self._row()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The row under the pointer."""
        self._at = int(event.position().y() // self._row())
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Rows: kind, name, detail."""
        painter = QPainter(self)
        now = look.current()
        painter.fillRect(self.rect(), now.colour("edge"))
        painter.fillRect(self.rect().adjusted(1, 1, -1, -1), now.colour("paper"))
        row = self._row()
        inset = look.px(10)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        if not self._hits:
            painter.setPen(now.colour("ink2"))
            painter.setFont(look.font())
            painter.drawText(self.rect().adjusted(inset, 0, 0, 0), flags, "Nothing of that name or number")
        for number, hit in enumerate(self._hits):
            rect = QRect(1, 1 + number * row, self.width() - 2, row)
            if number == self._at:
                painter.fillRect(rect, now.colour("accentsoft"))
                painter.fillRect(QRect(1, rect.top(), 3, row), now.colour("accent"))
            painter.setFont(look.font("small"))
            painter.setPen(now.colour("ink3"))
            painter.drawText(rect.adjusted(inset, 0, 0, 0), flags, _KINDS[hit.kind])
            painter.setFont(look.font("base", 600))
            painter.setPen(now.colour("ink"))
            left = look.px(96)
            painter.drawText(rect.adjusted(left, 0, 0, 0), flags, hit.name)
            left += look.metrics("base", 600).horizontalAdvance(hit.name) + look.px(10)
            painter.setFont(look.font())
            painter.setPen(now.colour("ink2"))
            room = rect.width() - left - inset
            painter.drawText(
                rect.adjusted(left, 0, 0, 0),
                flags,
                look.metrics().elidedText(hit.detail, Qt.TextElideMode.ElideRight, room),
            )
