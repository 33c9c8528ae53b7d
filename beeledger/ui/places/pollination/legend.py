"""What the bars mean, under the time line."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.bar_rows import Kind, paint_bar
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.painting import fill, paint_text

_WORDS = (
    (Kind.ENDS, "bloom, as looked at"),
    (Kind.FULL, "hives on site"),
    (Kind.PALE, "came home"),
    (Kind.DASHED, "promised"),
)


class Legend(QWidget):
    """A foot with the four kinds of bars and their words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sums = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Key: " + ", ".join(words for _, words in _WORDS))

    def say(self, sums: str) -> None:
        """What the contracts shown add up to, at the right."""
        self._sums = sums
        self.setAccessibleDescription(sums)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(look.px(300), look.px(36))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(80), look.px(36))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        x = look.px(16)
        for kind, words in _WORDS:
            bar = QRect(x, (self.height() - look.px(10)) // 2, look.px(28), look.px(10))
            paint_bar(painter, bar, kind)
            room = QRect(bar.right() + look.px(8), 0, look.px(200), self.height())
            x = room.left() + paint_text(painter, room, words, "ink2", role="small") + look.px(24)
        if x + look.metrics("small", 600).horizontalAdvance(self._sums) < self.width() - look.px(16):
            place = self.rect().adjusted(0, 0, -look.px(16), 0)
            paint_text(painter, place, self._sums, "ink", role="small", weight=600, align=Align.RIGHT)
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()
