"""Pages as they will be printed: white in both looks, one under another, nearer or farther."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QPainter, QPaintEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.painting import fill

STEPS = (25, 33, 50, 67, 75, 100, 125, 150, 200, 300)
_GAP = 16


class _Sheets(QWidget):
    """Paints the pages under one another on the sunk ground."""

    def __init__(self) -> None:
        super().__init__()
        self.pages: tuple[QImage, ...] = ()
        self.scale = 1.0

    def placed(self) -> list[QRect]:
        """Where each page stands."""
        gap = look.px(_GAP)
        placed, y = [], gap
        for page in self.pages:
            width, height = round(page.width() * self.scale), round(page.height() * self.scale)
            placed.append(QRect(max(gap, (self.width() - width) // 2), y, width, height))
            y += height + gap
        return placed

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, event.rect(), "sunk")
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        for page, rect in zip(self.pages, self.placed(), strict=True):
            if rect.intersects(event.rect()):
                fill(painter, rect.adjusted(-1, -1, 1, 1), "line5")
                painter.fillRect(rect, Qt.GlobalColor.white)
                painter.drawImage(rect, page)
        painter.end()


class PagePreview(QScrollArea):
    """Shows page images. ``dpi`` is the resolution they were made at; 100 % is true size."""

    zoomed = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sheets = _Sheets()
        self._dpi = 96.0
        self._percent = 100
        self.setWidget(self._sheets)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(False)
        self.setAccessibleName("Preview")

    def set_pages(self, pages: Sequence[QImage], dpi: float) -> None:
        """Show other pages, made at ``dpi`` dots an inch."""
        self._sheets.pages = tuple(pages)
        self._dpi = dpi
        self.setAccessibleDescription(f"{len(pages)} {'page' if len(pages) == 1 else 'pages'}")
        self._fit()
        self.verticalScrollBar().setValue(0)

    def page_count(self) -> int:
        """How many pages are shown."""
        return len(self._sheets.pages)

    def percent(self) -> int:
        """The zoom in force."""
        return self._percent

    def zoom(self, percent: int) -> None:
        """Show at ``percent`` of true size."""
        self._percent = max(STEPS[0], min(STEPS[-1], percent))
        self._fit()
        self.zoomed.emit(self._percent)

    def nearer(self) -> None:
        """One step larger."""
        self.zoom(next((step for step in STEPS if step > self._percent), STEPS[-1]))

    def farther(self) -> None:
        """One step smaller."""
        self.zoom(next((step for step in reversed(STEPS) if step < self._percent), STEPS[0]))

    def fit_width(self) -> None:
        """As large as the pane is wide."""
        if self._sheets.pages:
            widest = max(page.width() for page in self._sheets.pages)
            room = self.viewport().width() - 2 * look.px(_GAP)
            self.zoom(int(100 * room / widest * self._dpi / self.logicalDpiX()))

    def _fit(self) -> None:
        self._sheets.scale = self._percent / 100 * self.logicalDpiX() / self._dpi
        gap = look.px(_GAP)
        widths = [round(page.width() * self._sheets.scale) for page in self._sheets.pages]
        heights = [round(page.height() * self._sheets.scale) for page in self._sheets.pages]
        width = max(self.viewport().width(), max(widths, default=0) + 2 * gap)
        height = max(self.viewport().height(), sum(heights) + gap * (len(heights) + 1))
        self._sheets.resize(width, height)
        self._sheets.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            (self.nearer if event.angleDelta().y() > 0 else self.farther)()
        else:
            super().wheelEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.nearer()
        elif event.key() == Qt.Key.Key_Minus:
            self.farther()
        else:
            super().keyPressEvent(event)
