"""A drop-down whose mark is our own drawing."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QComboBox, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.icons import paint_icon


class Choice(QComboBox):
    """Keys and words; ``free`` lets other words be typed."""

    def __init__(
        self, options: Sequence[tuple[str, str]] = (), *, free: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setEditable(free)
        self.set_options(options)

    def set_options(self, options: Sequence[tuple[str, str]]) -> None:
        """Offer other keys and words; the chosen key stays if it is still there."""
        kept = self.currentData()
        self.clear()
        for key, word in options:
            self.addItem(word, key)
        at = self.findData(kept)
        if at >= 0:
            self.setCurrentIndex(at)

    def key(self) -> str:
        """The key of what is chosen; empty when words of one's own stand there."""
        at = self.currentIndex()
        typed = self.isEditable() and self.currentText() != self.itemText(at)
        return "" if at < 0 or typed else str(self.itemData(at))

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        side = look.px(11)
        painter = QPainter(self)
        place = QRectF(self.width() - look.px(8) - side, (self.height() - side) / 2, side, side)
        paint_icon(painter, place, "fold", "ink2" if self.isEnabled() else "ink3")
        painter.end()
