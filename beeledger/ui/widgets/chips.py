"""Chips over a table: a filter that is on or off, and can be taken away if it has a cross."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.icons import paint_icon
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import paint_text

_PAD = 9


class Chip(QAbstractButton):
    """One chip; ``on`` is its ground, its ink and its spoken state."""

    removed = Signal()

    def __init__(
        self, text: str, *, on: bool = False, removable: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._removable = removable
        self.setText(text)
        self.setCheckable(True)
        self.setChecked(on)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        if removable:
            self.setAccessibleDescription("Delete takes this filter away")

    def sizeHint(self) -> QSize:
        width = look.metrics("small", 500).horizontalAdvance(self.text()) + 2 * look.px(_PAD)
        return QSize(width + (look.px(15) if self._removable else 0), look.px(24))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        ground, border, ink = self._tokens()
        width = 2 if self.hasFocus() else 1
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(look.current().colour(border), width))
        painter.setBrush(look.current().colour(ground))
        half = width / 2
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(half, half, -half, -half), 3, 3)
        pad = look.px(_PAD)
        room = QRect(pad, 0, self.width() - 2 * pad - (look.px(15) if self._removable else 0), self.height())
        paint_text(painter, room, self.text(), ink, role="small", weight=500, align=Align.LEFT)
        if self._removable:
            paint_icon(painter, self._cross(), "close", "ink2")
        painter.end()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._removable and event.position().x() >= self._cross().left() - look.px(3):
            self.setDown(False)
            self.removed.emit()
            event.accept()
            return
        super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self._removable and event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.removed.emit()
            return
        super().keyPressEvent(event)

    def _cross(self) -> QRectF:
        side = look.px(11)
        return QRectF(self.width() - look.px(8) - side, (self.height() - side) / 2, side, side)

    def _tokens(self) -> tuple[Token, Token, Token]:
        border: Token = "accent" if self.hasFocus() else "accentline" if self.isChecked() else "line5"
        if self.isChecked():
            return "accentsoft", border, "ink"
        return ("hover" if self.underMouse() else "paper"), border, "ink2"


class Chips(QWidget):
    """A row of chips by key. With ``one`` exactly one is on, as a choice of view."""

    changed = Signal(list)
    """The keys that are on."""
    removed = Signal(object)

    def __init__(self, *, one: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._one = one
        self._chips: dict[Hashable, Chip] = {}
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(look.px(8))

    def set_chips(self, chips: Sequence[tuple[Hashable, str]], on: Sequence[Hashable] = ()) -> None:
        """Show fixed chips: key and word of each, and which are on."""
        for key in list(self._chips):
            self.take_away(key)
        for key, word in chips:
            self.add(key, word, on=key in on)

    def add(self, key: Hashable, word: str, *, on: bool = False, removable: bool = False) -> Chip:
        """Add one chip; an old one of the same key is replaced."""
        self.take_away(key)
        chip = Chip(word, on=on, removable=removable)
        chip.clicked.connect(lambda _on=False, key=key: self._clicked(key))
        chip.removed.connect(lambda key=key: self._remove(key))
        self._chips[key] = chip
        self._row.addWidget(chip)
        return chip

    def take_away(self, key: Hashable) -> None:
        """Remove a chip without telling."""
        chip = self._chips.pop(key, None)
        if chip is not None:
            self._row.removeWidget(chip)
            chip.hide()
            chip.deleteLater()

    def on(self) -> list[Hashable]:
        """The keys that are on."""
        return [key for key, chip in self._chips.items() if chip.isChecked()]

    def choose(self, key: Hashable) -> None:
        """Switch a chip on as if it had been clicked."""
        self._chips[key].setChecked(True)
        self._clicked(key)

    def _clicked(self, key: Hashable) -> None:
        if self._one:
            for other, chip in self._chips.items():
                chip.setChecked(other == key)
        self.changed.emit(self.on())

    def _remove(self, key: Hashable) -> None:
        self.take_away(key)
        self.removed.emit(key)
        self.changed.emit(self.on())
