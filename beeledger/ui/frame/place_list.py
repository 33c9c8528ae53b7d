"""The list of places at the left: painted rows in groups, what waits beside a place, folded to icons."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from beeledger.ui.frame.registry import PLACES, entry_of
from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.icons import paint_icon
from beeledger.ui.widgets.painting import fill, paint_text

WIDE, NARROW = 184, 48
_ROW, _AIR, _TOP = 28, 12, 54


class PlaceList(QWidget):
    """The places; ``chosen`` tells the key of the one wanted. Up and Down walk, Enter or Space opens."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("places")
        self.setAccessibleName("Places")
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self._current = PLACES[0].key
        self._cursor = self._current
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
        self._current = self._cursor = key
        self._describe()
        self.update()

    def set_waiting(self, waiting: Mapping[str, tuple[str, bool]]) -> None:
        """What waits beside each place: words ("3 drafts"), and whether something is short."""
        self._waiting = dict(waiting)
        self._describe()
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

    @property
    def cursor_key(self) -> str:
        """The place the keys are on."""
        return self._cursor

    def rect_of(self, key: str) -> QRect:
        """Where a place's row is painted."""
        return next((rect for name, rect in self._rows() if name == key), QRect())

    def said(self, key: str) -> str:
        """A place as a screen reader or a tooltip says it: its title, and what waits there."""
        words, _short = self._waiting.get(key, ("", False))
        return f"{entry_of(key).title}, {words}" if words else entry_of(key).title

    def _describe(self) -> None:
        here = " is open" if self._cursor == self._current else ""
        self.setAccessibleDescription(f"{self.said(self._cursor)}{here}")

    def _rows(self) -> list[tuple[str, QRect]]:
        row, air = self._pace()
        rows, top, group = [], look.px(_TOP), PLACES[0].group
        for entry in PLACES:
            if entry.group != group:
                top += air
                group = entry.group
            rows.append((entry.key, QRect(0, top, self.width(), row)))
            top += row
        return rows

    def _pace(self) -> tuple[int, int]:
        """Height of a row and of the air between groups: less of both in a window that is too low."""
        groups = len({entry.group for entry in PLACES}) - 1
        room = self.height() - look.px(_TOP) - look.px(8)
        row, air = look.px(_ROW), look.px(_AIR)
        if row * len(PLACES) + air * groups <= room:
            return row, air
        air = look.px(4)
        return max(look.px(18), min(row, (room - air * groups) // len(PLACES))), air

    def _at(self, y: float) -> str:
        return next((key for key, rect in self._rows() if rect.top() <= y <= rect.bottom()), "")

    def _paint_farm(self, painter: QPainter) -> None:
        name, line = self._farm
        if self._folded:
            short = "".join(word[0] for word in name.split()[:2])
            head = QRect(0, 0, self.width(), look.px(48))
            paint_text(painter, head, short, weight=600, align=Align.CENTRE)
            return
        inset = look.px(16)
        width = self.width() - inset - look.px(8)
        paint_text(painter, QRect(inset, look.px(7), width, look.px(19)), name, weight=600, shorten=True)
        paint_text(
            painter, QRect(inset, look.px(25), width, look.px(16)), line, "ink2", role="small", shorten=True
        )

    def _paint_row(self, painter: QPainter, key: str, title: str, rect: QRect) -> None:
        here = key == self._current
        if here or key == self._hover:
            fill(painter, rect, "paper" if here else "hover")
        if here:
            fill(painter, QRect(0, rect.top(), 3, rect.height()), "accent")
        side = look.px(16)
        left = look.px(10 if self._folded else 16)
        place = QRectF(left, rect.top() + (rect.height() - side) // 2, side, side)
        paint_icon(painter, place, key, "accent" if here else "ink2")
        if self._folded:
            self._paint_figure(painter, key, rect)
            return
        words, short = self._waiting.get(key, ("", False))
        room = rect.adjusted(look.px(42), 0, -look.px(10), 0)
        ink = "watch" if short else "ink2"
        taken = paint_text(painter, room, words, ink, role="small", align=Align.RIGHT)  # type: ignore[arg-type]  # a token
        room.setRight(room.right() - taken)
        paint_text(painter, room, title, weight=600 if here else 400)

    def _paint_figure(self, painter: QPainter, key: str, rect: QRect) -> None:
        words, short = self._waiting.get(key, ("", False))
        room = rect.adjusted(look.px(28), 0, -look.px(3), 0)
        figure = words.split(" ")[0]
        ink = "watch" if short else "ink2"
        paint_text(painter, room, figure, ink, role="small", weight=500, align=Align.RIGHT)  # type: ignore[arg-type]  # a token

    def sizeHint(self) -> QSize:
        """As wide as the words, or as the icons."""
        return QSize(look.px(NARROW if self._folded else WIDE), look.px(600))

    def minimumSizeHint(self) -> QSize:
        """The same width; the height may shrink."""
        return QSize(self.sizeHint().width(), look.px(200))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Ground, farm, rows, and the ring round the row the keys are on."""
        painter = QPainter(self)
        fill(painter, self.rect(), "window")
        fill(painter, QRect(self.width() - 1, 0, 1, self.height()), "line5")
        self._paint_farm(painter)
        for key, rect in self._rows():
            self._paint_row(painter, key, entry_of(key).title, rect)
        if self.hasFocus():
            pen = QPen(look.current().colour("accent"), 2)
            pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            painter.setPen(pen)
            painter.drawRect(self.rect_of(self._cursor).adjusted(1, 1, -2, -1))
        painter.end()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Hover."""
        key = self._at(event.position().y())
        if key != self._hover:
            self._hover = key
            self.update()

    def leaveEvent(self, _event: QEvent) -> None:
        """No hover outside."""
        self._hover = ""
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click opens the place."""
        key = self._at(event.position().y())
        if key and event.button() == Qt.MouseButton.LeftButton:
            self.chosen.emit(key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down walk through the places, Home and End to the ends, Enter or Space opens."""
        keys = [entry.key for entry in PLACES]
        at = keys.index(self._cursor)
        goes = {
            Qt.Key.Key_Down: at + 1, Qt.Key.Key_Up: at - 1, Qt.Key.Key_Home: 0, Qt.Key.Key_End: len(keys) - 1,
        }  # fmt: skip
        key = Qt.Key(event.key())
        if key in goes:
            self._cursor = keys[goes[key] % len(keys)]
            self._describe()
            self.update()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.chosen.emit(self._cursor)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keys begin at the place in front."""
        super().focusInEvent(event)
        self._cursor = self._current
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """No ring any more."""
        super().focusOutEvent(event)
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        """Another text size makes it wider."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()

    def event(self, event: QEvent) -> bool:
        """When folded, the word stands in the tooltip."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent) and self._folded:
            key = self._at(event.pos().y())
            QToolTip.showText(event.globalPos(), self.said(key) if key else "", self)
            return True
        return super().event(event)
