"""The proof of a label: true size by the screen's own dots, on white in both looks, with its measures drawn."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.painting import fill, paint_text

_MM_AN_INCH = 25.4
_TOP, _SIDE, _FOOT = 38, 56, 20
_LEAST_DPI, _MOST_DPI = 60.0, 400.0
"""A screen that tells of other dots than these does not know its own size."""


class LabelProof(QWidget):
    """One label. Where the pane is too narrow it is drawn smaller, and says so."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._image = QImage()
        self._mm = (90.0, 50.0)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName("Label proof")

    def say(self, png: bytes, width_mm: float, height_mm: float, words: str) -> None:
        """Show another label; ``words`` are what stands on it, for screen readers."""
        self._image = QImage.fromData(png)
        self._mm = (width_mm, height_mm)
        self.setAccessibleDescription(words)
        self.updateGeometry()
        self.update()

    def scale(self, width: int) -> float:
        """How large it is drawn in a pane of ``width``: 1 is true size."""
        room = width - look.px(16) - look.px(_SIDE)
        return min(1.0, max(0.2, room / self._dots(self._mm[0])))

    def sizeHint(self) -> QSize:
        width = round(self._dots(self._mm[0])) + look.px(16 + _SIDE)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(200), look.px(120))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return round(self._dots(self._mm[1]) * self.scale(width)) + look.px(_TOP + _FOOT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        if not self._image.isNull():
            self._paint(painter)
        painter.end()

    def _paint(self, painter: QPainter) -> None:
        scale = self.scale(self.width())
        wide, high = (self._dots(side) * scale for side in self._mm)
        left = max(look.px(16), round((self.width() - look.px(_SIDE - 16) - wide) / 2))
        place = QRect(left, look.px(_TOP), round(wide), round(high))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(place, Qt.GlobalColor.white)
        painter.drawImage(QRectF(place), self._image)
        painter.setPen(QPen(look.current().colour("edge"), 1))
        painter.drawRect(place.adjusted(-1, -1, 0, 0))
        self._paint_measures(painter, place, scale)

    def _paint_measures(self, painter: QPainter, place: QRect, scale: float) -> None:
        painter.setPen(QPen(look.current().colour("ink3"), 1))
        y, x, tick = place.top() - look.px(10), place.right() + look.px(10), look.px(4)
        painter.drawLine(place.left(), y, place.right(), y)
        for end in (place.left(), place.right()):
            painter.drawLine(end, y - tick, end, y + tick)
        painter.drawLine(x, place.top(), x, place.bottom())
        for end in (place.top(), place.bottom()):
            painter.drawLine(x - tick, end, x + tick, end)
        words = f"{self._mm[0]:g} mm" + ("" if scale == 1.0 else f", drawn at {scale:.0%}")
        width = look.metrics("small").horizontalAdvance(words) + look.px(12)
        over = QRect(place.center().x() - width // 2, y - look.px(9), width, look.px(18))
        fill(painter, over, "sunk")
        paint_text(painter, over, words, "ink2", role="small", align=Align.CENTRE)
        beside = QRect(x + look.px(6), place.center().y() - look.px(9), look.px(_SIDE), look.px(18))
        paint_text(painter, beside, f"{self._mm[1]:g} mm", "ink2", role="small")

    def _dots(self, mm: float) -> float:
        """Device independent pixels of a length, by the screen's real dots where it knows them."""
        screen = self.screen()
        dpi = screen.physicalDotsPerInchX() / screen.devicePixelRatio() if screen else 96.0
        if not _LEAST_DPI <= dpi <= _MOST_DPI:
            dpi = float(self.logicalDpiX())
        return mm / _MM_AN_INCH * dpi

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()
