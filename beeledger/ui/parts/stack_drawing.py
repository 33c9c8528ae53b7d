"""The boxes of a hive drawn from the side, with their words at the right; the drawing only repeats them."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import paint_text

_BROOD, _SUPER, _CAP, _WIDE = 56, 34, 7, 84


@dataclass(frozen=True, slots=True)
class Box:
    """One box: how many frames it holds, how many are drawn full, and what is said of it."""

    brood: bool
    frames: int
    full: float = 0.0
    words: str = ""
    second: str = ""
    """Under the words: when it was looked at."""
    excluder_below: bool = False


class StackDrawing(QWidget):
    """Floor, brood boxes, supers, lid; boxes are given from the bottom up."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._boxes: tuple[Box, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Boxes")

    def say(self, boxes: tuple[Box, ...]) -> None:
        """Show other boxes, from the bottom up."""
        self._boxes = boxes
        words = [box.words or ("brood box" if box.brood else "super") for box in boxes]
        self.setAccessibleDescription(
            "from the bottom: " + "; ".join(words) if words else "no boxes on record"
        )
        self.updateGeometry()
        self.update()

    def boxes(self) -> tuple[Box, ...]:
        """What is drawn, from the bottom up."""
        return self._boxes

    def sizeHint(self) -> QSize:
        height = sum(_BROOD if box.brood else _SUPER for box in self._boxes)
        return QSize(look.px(194), look.px(min(height, 240) + 2 * _CAP + 24))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(194), self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._boxes:
            self._paint_stack(painter)
        painter.end()

    def _paint_stack(self, painter: QPainter) -> None:
        whole = sum(_BROOD if box.brood else _SUPER for box in self._boxes)
        squeeze = min(1.0, 240 / whole)
        left, wide = look.px(16), look.px(_WIDE)
        y = self.height() - look.px(12)
        pen = QPen(look.current().colour("ink2"), 1.5)
        painter.setPen(pen)
        y -= look.px(_CAP)
        painter.drawRect(QRectF(left - 3, y, wide + 6, look.px(_CAP)))
        for foot in (left, left + wide):
            painter.drawLine(foot, y + look.px(_CAP), foot, y + look.px(_CAP) + 5)
        for box in self._boxes:
            height = round(look.px(_BROOD if box.brood else _SUPER) * squeeze)
            if box.excluder_below:
                self._paint_excluder(painter, left, y, wide)
            y -= height
            self._paint_box(painter, QRect(left, y, wide, height), box)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(left - 3, y - look.px(_CAP), wide + 6, look.px(_CAP)))

    def _paint_box(self, painter: QPainter, rect: QRect, box: Box) -> None:
        painter.setPen(QPen(look.current().colour("ink2"), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(rect))
        token: Token = "c1" if box.brood else "c2"
        full = min(box.frames, round(box.full))
        first = (box.frames - full) // 2
        step = (rect.width() - look.px(8)) / max(1, box.frames)
        for at in range(box.frames):
            strip = QRectF(
                rect.left() + look.px(4) + at * step + 1,
                rect.top() + 4,
                max(2.0, step - 2),
                rect.height() - 8,
            )
            _paint_frame(painter, strip, token, full=first <= at < first + full)
        words = QRect(
            rect.right() + look.px(12), rect.top(), self.width() - rect.right() - look.px(14), rect.height()
        )
        if not box.second:
            paint_text(painter, words, box.words, "ink", role="small", shorten=True)
            return
        line = look.px(16)
        top = rect.top() + (rect.height() - 2 * line) // 2
        upper = QRect(words.left(), top, words.width(), line)
        paint_text(painter, upper, box.words, "ink", role="small", shorten=True)
        paint_text(painter, upper.translated(0, line), box.second, "ink3", role="small", shorten=True)

    def _paint_excluder(self, painter: QPainter, left: int, y: int, wide: int) -> None:
        pen = QPen(look.current().colour("ink2"), 1.5)
        pen.setDashPattern([3, 2])
        painter.setPen(pen)
        painter.drawLine(left - 8, y, left + wide + 8, y)


def _paint_frame(painter: QPainter, strip: QRectF, token: Token, *, full: bool) -> None:
    if full:
        colour = QColor(look.current().colour(token))
        painter.setPen(QPen(colour, 1))
        colour.setAlphaF(0.35)
        painter.setBrush(colour)
    else:
        painter.setPen(QPen(look.current().colour("line5"), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(strip)
