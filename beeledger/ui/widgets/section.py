"""A section that folds: its head still says the point when it is shut."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.icons import paint_icon
from beeledger.ui.widgets.painting import fill, paint_text
from beeledger.ui.widgets.wrapping import wrapped

_HEAD = 32
_SIDE = 11
_BELOW = 18
"""A line of a summary below the title."""


def _start() -> int:
    """Where the title begins."""
    return look.px(16) + look.px(_SIDE) + look.px(8)


class SectionHead(QAbstractButton):
    """Fold mark, title, and at the right the summary; one that has no room there stands below, whole."""

    def __init__(self, title: str, parent: QWidget | None = None, *, first: bool = False) -> None:
        super().__init__(parent)
        self.summary = ""
        self.first = first
        self.setText(title)
        self.setCheckable(True)
        self.setChecked(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        width = look.metrics("base", 600).horizontalAdvance(self.text()) + look.px(60)
        return QSize(width, self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(80), self._height())

    def say(self, summary: str) -> None:
        """Change the summary."""
        self.summary = summary
        self.updateGeometry()
        self.update()

    def _height(self) -> int:
        below = len(self._below()) * look.px(_BELOW)
        return look.px(_HEAD) + (below + look.px(4) if below else 0)

    def _below(self) -> list[str]:
        """The lines of a summary that does not fit beside the title."""
        room = self.width() - _start() - look.px(16)
        beside = room - look.metrics("base", 600).horizontalAdvance(self.text()) - look.px(12)
        if look.metrics("small").horizontalAdvance(self.summary) <= beside:
            return []
        return wrapped(self.summary, room, role="small")

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._height() != self.height():
            self.updateGeometry()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        if not self.first:
            fill(painter, QRect(0, 0, self.width(), 1), "line5")
        side, start, head = look.px(_SIDE), _start(), look.px(_HEAD)
        place = QRectF(look.px(16), (head - side) / 2, side, side)
        paint_icon(painter, place, "fold" if self.isChecked() else "unfold", "ink2")
        room = QRect(start, 0, self.width() - start - look.px(16), head)
        taken = paint_text(painter, room, self.text(), "ink", weight=600, shorten=True)
        below = self._below()
        if not below:
            rest = room.adjusted(taken + look.px(12), 0, 0, 0)
            paint_text(painter, rest, self.summary, "ink2", role="small", align=Align.RIGHT)
        for at, line in enumerate(below):
            under = QRect(start, head - look.px(2) + at * look.px(_BELOW), room.width(), look.px(_BELOW))
            paint_text(painter, under, line, "ink2", role="small")
        if self.hasFocus():
            pen = QPen(look.current().colour("accent"), 2)
            pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            painter.setPen(pen)
            painter.drawRect(self.rect().adjusted(1, 2, -1, -1))
        painter.end()


class Section(QWidget):
    """A head and a body under a ``line5``; no box around."""

    folded = Signal(bool)

    def __init__(
        self,
        title: str,
        body: QWidget | None = None,
        summary: str = "",
        *,
        first: bool = False,
        inset: int = 0,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.head = SectionHead(title, self, first=first)
        self.body = QWidget(self)
        self._inside = QVBoxLayout(self.body)
        self._inside.setContentsMargins(look.px(inset), 0, look.px(inset), look.px(8))
        self._inside.setSpacing(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.body)
        self.head.toggled.connect(self._toggled)
        if body is not None:
            self.add(body)
        self.say(summary)

    def add(self, widget: QWidget, stretch: int = 0) -> None:
        """Put a piece under what is in the body already."""
        self._inside.addWidget(widget, stretch)

    def clear(self) -> None:
        """Take everything out of the body."""
        while self._inside.count():
            item = self._inside.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def say(self, summary: str) -> None:
        """The words at the right of the head."""
        self.head.say(summary)
        self._describe()

    def fold(self, *, shut: bool) -> None:
        """Fold or unfold."""
        self.head.setChecked(not shut)

    def is_folded(self) -> bool:
        """Whether only the head shows."""
        return not self.head.isChecked()

    def _toggled(self, open_: bool) -> None:  # noqa: FBT001  # Qt's signal
        self.body.setVisible(open_)
        self._describe()
        self.folded.emit(not open_)

    def _describe(self) -> None:
        state = "open" if self.head.isChecked() else "folded"
        words = ", ".join(word for word in (self.head.text(), self.head.summary, state) if word)
        self.head.setAccessibleName(words)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "head"):
            self.head.updateGeometry()
