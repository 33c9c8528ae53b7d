"""A row that goes on in the next line where the pane is too narrow: acts, chips, keys of a chart."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget

from beeledger.ui.widgets import look


class FlowLayout(QLayout):
    """Lays widgets out from the left and wraps them."""

    def __init__(self, parent: QWidget | None = None, *, gap: int = 8) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._arrange(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._arrange(rect, move=True)

    def sizeHint(self) -> QSize:
        hints = [item.sizeHint() for item in self._shown()]
        gap = look.px(self._gap)
        width = sum(hint.width() for hint in hints) + gap * max(0, len(hints) - 1)
        return QSize(width, max((hint.height() for hint in hints), default=0))

    def minimumSize(self) -> QSize:
        hints = [item.minimumSize() for item in self._shown()]
        return QSize(
            max((hint.width() for hint in hints), default=0),
            max((hint.height() for hint in hints), default=0),
        )

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _arrange(self, rect: QRect, *, move: bool) -> int:
        gap = look.px(self._gap)
        x, y, tallest = rect.left(), rect.top(), 0
        for item in self._shown():
            hint = item.sizeHint()
            if x > rect.left() and x + hint.width() > rect.left() + rect.width():
                x, y, tallest = rect.left(), y + tallest + gap, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), hint))
            x += hint.width() + gap
            tallest = max(tallest, hint.height())
        return y + tallest - rect.top()


class Flow(QWidget):
    """A widget around the layout, as high as its lines need."""

    def __init__(self, *widgets: QWidget, gap: int = 8, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.flow = FlowLayout(self, gap=gap)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        for widget in widgets:
            self.flow.addWidget(widget)

    def set_widgets(self, *widgets: QWidget) -> None:
        """Show other widgets; the old ones end."""
        while (item := self.flow.takeAt(0)) is not None:
            old = item.widget()
            if old is not None:
                old.hide()
                old.deleteLater()
        for widget in widgets:
            self.flow.addWidget(widget)
        self.updateGeometry()
