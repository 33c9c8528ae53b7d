"""The list of places at the left: painted rows in groups, what waits beside a place, folded to icons."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QToolTip, QWidget

from beeledger.ui.frame.registry import PLACES
from beeledger.ui.widgets import look
from beeledger.ui.widgets.icons import paint_icon
from beeledger.ui.widgets.look import Token

WIDE, NARROW = 184, 48
_ROW, _AIR, _TOP = 28, 12, 54


class PlaceList(QWidget):
    """The places; ``chosen`` tells the key of the one wanted."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("places")
        self.setAccessibleName("Places")
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._current = PLACES[0].key
        self._hover = ""
        self._folded = False
        self._farm = ("", "")
        self._waiting: dict[str, tuple[str, bool]] = {}

    def set_farm(self, name: str, line: str) -> None:
        """The farm's name and one line of its size, at the top."""
        self._farm = (name, line)
        self.update()

    def set_current(self, key: str) -> None:
        """Mark the place that is in front."""
        self._current = key
        self.setAccessibleDescription(f"{key.capitalize()} is open")
        self.update()

    def set_waiting(self, waiting: Mapping[str, tuple[str, bool]]) -> None:
        """What waits beside each place: words ("3 drafts"), and whether something is short."""
        self._waiting = dict(waiting)
        self.update()

    def fold(self, *, folded: bool) -> None:
        """Fold to icons or open wide."""
        self._folded = folded
        self.updateGeometry()
        self.update()

    @property
    def folded(self) -> bool:
        """Whether only icons are shown."""
        return self._folded

    def rect_of(self, key: str) -> QRect:
        """Where a place's row is painted."""
        return next((rect for name, rect in self._rows() if name == key), QRect())

    def _rows(self) -> list[tuple[str, QRect]]:
        rows = []
        top = look.px(_TOP)
        group = 0
        for entry in PLACES:
            if entry.group != group:
                top += look.px(_AIR)
                group = entry.group
            rows.append((entry.key, QRect(0, top, self.width(), look.px(_ROW))))
            top += look.px(_ROW)
        return rows

    def _at(self, y: int) -> str:
        return next((key for key, rect in self._rows() if rect.top() <= y <= rect.bottom()), "")

    def _paint_farm(self, painter: QPainter) -> None:
        now = look.current()
        name, line = self._farm
        painter.setFont(look.font("base", 600))
        painter.setPen(now.colour("ink"))
        if self._folded:
            short = "".join(word[0] for word in name.split()[:2])
            painter.drawText(QRect(0, 0, self.width(), look.px(48)), Qt.AlignmentFlag.AlignCenter, short)
            return
        inset = look.px(16)
        width = self.width() - inset - look.px(8)
        title = look.metrics("base", 600).elidedText(name, Qt.TextElideMode.ElideRight, width)
        painter.drawText(inset, look.px(21), title)
        painter.setFont(look.font("small"))
        painter.setPen(now.colour("ink2"))
        painter.drawText(inset, look.px(38), line)

    def _paint_row(self, painter: QPainter, key: str, title: str, rect: QRect) -> None:
        now = look.current()
        here = key == self._current
        if here or key == self._hover:
            painter.fillRect(rect, now.colour("paper" if here else "hover"))
        if here:
            painter.fillRect(QRect(0, rect.top(), 3, rect.height()), now.colour("accent"))
        side = look.px(16)
        left = (self.width() - side) // 2 if self._folded else look.px(16)
        token: Token = "accent" if here else "ink2"
        paint_icon(painter, QRectF(left, rect.center().y() - side / 2 + 0.5, side, side), key, token)
        words, short = self._waiting.get(key, ("", False))
        painter.setPen(now.colour("watch" if short else "ink2"))
        painter.setFont(look.font("small", 400))
        if self._folded:
            figure = words.split(" ")[0]
            painter.drawText(
                rect.adjusted(0, 0, -look.px(5), -look.px(9)),
                Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
                figure,
            )
            return
        painter.drawText(
            rect.adjusted(0, 0, -look.px(10), 0),
            Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
            words,
        )
        painter.setPen(now.colour("ink"))
        painter.setFont(look.font("base", 600 if here else 400))
        painter.drawText(
            rect.adjusted(look.px(42), 0, 0, 0),
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
            title,
        )

    def sizeHint(self) -> QSize:
        """As wide as the words, or as the icons."""
        return QSize(look.px(NARROW if self._folded else WIDE), look.px(600))

    def minimumSizeHint(self) -> QSize:
        """The same width; the height may shrink."""
        return QSize(self.sizeHint().width(), look.px(200))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Ground, farm, rows."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), look.current().colour("window"))
        painter.fillRect(QRect(self.width() - 1, 0, 1, self.height()), look.current().colour("line5"))
        self._paint_farm(painter)
        titles = {entry.key: entry.title for entry in PLACES}
        for key, rect in self._rows():
            self._paint_row(painter, key, titles[key], rect)
        if self.hasFocus():
            rect = self.rect_of(self._current).adjusted(1, 1, -2, -1)
            painter.setPen(look.current().colour("accent"))
            painter.drawRect(rect)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Hover."""
        key = self._at(round(event.position().y()))
        if key != self._hover:
            self._hover = key
            self.update()

    def leaveEvent(self, _event: QEvent) -> None:
        """No hover outside."""
        self._hover = ""
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click opens the place."""
        key = self._at(round(event.position().y()))
        if key:
            self.chosen.emit(key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down walk through the places."""
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        keys = [entry.key for entry in PLACES]
        self.chosen.emit(keys[(keys.index(self._current) + step) % len(keys)])

    def event(self, event: QEvent) -> bool:
        """When folded, the word stands in the tooltip."""
        if event.type() == QEvent.Type.ToolTip and self._folded:
            where = self.mapFromGlobal(self.cursor().pos())
            title = next((entry.title for entry in PLACES if entry.key == self._at(where.y())), "")
            words, _short = self._waiting.get(self._at(where.y()), ("", False))
            QToolTip.showText(self.cursor().pos(), f"{title}  {words}".strip(), self)
            return True
        return super().event(event)
