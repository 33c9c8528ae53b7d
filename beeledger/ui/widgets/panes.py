"""Panes that meet on a line of one pixel, and the bands of fixed height over and under them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QSplitter, QSplitterHandle, QVBoxLayout, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import fill


class _Handle(QSplitterHandle):
    """The line itself; the grip around it reaches a few pixels further than what is drawn."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.contentsRect(), "line5")
        painter.end()


class Panes(QSplitter):
    """Panes side by side (or one over the other) that meet on a ``line5``."""

    def __init__(self, *panes: QWidget, upright: bool = False, parent: QWidget | None = None) -> None:
        way = Qt.Orientation.Vertical if upright else Qt.Orientation.Horizontal
        super().__init__(way, parent)
        self.setHandleWidth(1)
        self.setChildrenCollapsible(False)
        self._parts: tuple[int, ...] = ()
        self._moved = False
        self.splitterMoved.connect(self._moved_by_hand)
        for pane in panes:
            self.addWidget(pane)

    def share(self, *parts: int) -> None:
        """The sizes at the start; what is left goes to the first pane only."""
        self._parts = parts
        self.setSizes([look.px(part) for part in parts])
        for at in range(self.count()):
            self.setStretchFactor(at, 1 if at == 0 else 0)

    def _moved_by_hand(self, _place: int, _handle: int) -> None:
        self._moved = True

    def _squeeze(self) -> None:
        """Where the text is too large for the sizes asked for, every pane gives up its share of the room."""
        asked = [look.px(part) for part in self._parts]
        room = self.width() if self.orientation() is Qt.Orientation.Horizontal else self.height()
        room -= self.count() - 1
        if asked and not self._moved and sum(asked) > room > 0:
            self.setSizes([room * part // sum(asked) for part in asked])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._squeeze()

    def createHandle(self) -> QSplitterHandle:
        return _Handle(self.orientation(), self)


class Band(QWidget):
    """A row of fixed height on its ground, with a line above or below: tool rows, feet, the top line."""

    def __init__(
        self,
        *widgets: QWidget,
        height: int = 40,
        ground: Token = "paper",
        line: str = "below",
        inset: int = 12,
        right: Sequence[QWidget] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._units = height
        self._ground: Token = ground
        self._line = line
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.row = QHBoxLayout(self)
        self.row.setContentsMargins(look.px(inset), 0, look.px(inset), 0)
        self.row.setSpacing(look.px(8))
        for widget in widgets:
            self.add(widget)
        if right:
            self.air()
        for widget in right:
            self.add(widget)

    def add(self, widget: QWidget, stretch: int = 0) -> None:
        """Put a piece at the right of what stands there."""
        self.row.addWidget(widget, stretch, Qt.AlignmentFlag.AlignVCenter)

    def air(self) -> None:
        """Push what follows to the right."""
        self.row.addStretch(1)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), look.px(self._units))

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), look.px(self._units))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), self._ground)
        if self._line == "below":
            fill(painter, QRect(0, self.height() - 1, self.width(), 1), "line5")
        elif self._line == "above":
            fill(painter, QRect(0, 0, self.width(), 1), "line5")
        painter.end()

    def set_ground(self, ground: Token) -> None:
        """Tint the band, as a fresh act tints the top line."""
        self._ground = ground
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


class Stack(QWidget):
    """Pieces one under another without air between them, on paper or another ground; ``grows`` takes the room."""

    def __init__(
        self,
        *widgets: QWidget,
        ground: Token = "paper",
        grows: QWidget | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._ground: Token = ground
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(0)
        for widget in widgets:
            self.column.addWidget(widget, 1 if widget is grows else 0)

    def add(self, widget: QWidget, stretch: int = 0) -> None:
        """Put a piece under what stands there."""
        self.column.addWidget(widget, stretch)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), self._ground)
        painter.end()
