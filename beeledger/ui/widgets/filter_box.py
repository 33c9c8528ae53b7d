"""The field in which one types to filter: its icon inside, Ctrl+F to come here, Esc to clear."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.icons import paint_icon
from beeledger.ui.widgets.key_words import takes_back
from beeledger.ui.widgets.record_table import RecordTable


class FilterBox(QLineEdit):
    """Filters a bound table as letters arrive; Down goes to the table."""

    words_changed = Signal(str)
    left_down = Signal()

    def __init__(
        self,
        prompt: str = "Filter",
        parent: QWidget | None = None,
        *,
        icon: str = "filter",
        width: int = 200,
    ) -> None:
        super().__init__(parent)
        self._icon = icon
        self._units = width
        self.setPlaceholderText(prompt)
        self.setAccessibleName(prompt)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.textChanged.connect(self.words_changed)
        self.setTextMargins(look.px(24), 0, 0, 0)

    def bind(self, table: RecordTable) -> None:
        """Filter ``table`` by the words typed here, and take letters typed there."""
        self.words_changed.connect(table.filter_words)
        self.left_down.connect(lambda: self._down_to(table))
        table.typed.connect(self.take)

    def _down_to(self, table: RecordTable) -> None:
        table.setFocus(Qt.FocusReason.ShortcutFocusReason)
        table.take_current()

    def listen(self, where: QWidget) -> None:
        """Ctrl+F anywhere in ``where`` comes to this field."""
        shortcut = QShortcut(QKeySequence.StandardKey.Find, where)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.come)

    def come(self) -> None:
        """Take the focus and mark what is there, ready to be typed over."""
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    def take(self, letters: str) -> None:
        """Letters typed elsewhere: they are added here and the focus follows."""
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.setText(self.text() + letters)

    def sizeHint(self) -> QSize:
        prompt = look.metrics("base").horizontalAdvance(self.placeholderText()) + look.px(56)
        return QSize(max(look.px(self._units), prompt), look.px(28))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(96), look.px(28))

    def event(self, event: QEvent) -> bool:
        """Ctrl+Shift+Z is not for the field: it takes back the last act."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and takes_back(event)
        ):
            event.ignore()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        elif event.key() == Qt.Key.Key_Down:
            self.left_down.emit()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.setTextMargins(look.px(24), 0, 0, 0)
            self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        side = look.px(16)
        painter = QPainter(self)
        place = QRectF(look.px(8), (self.height() - side) / 2, side, side)
        paint_icon(painter, place, self._icon, "accent" if self.hasFocus() else "ink2")
        painter.end()
