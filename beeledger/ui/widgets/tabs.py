"""Tabs in one line, parted by short lines, the current one underlined in damson."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import fill, paint_text, upright

_PAD = 16
_GAP = 8
_MORE = 36
"""Room for the count of tabs that do not fit, at either side."""


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab: its key, its name and how far it is ("19 of 30")."""

    key: Hashable
    name: str
    state: str = ""
    state_ink: Token = "ink2"


class Tabs(QWidget):
    """The tabs; left and right arrows walk through them."""

    chosen = Signal(object)

    def __init__(self, tabs: Sequence[Tab] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tabs: tuple[Tab, ...] = ()
        self._current: Hashable | None = None
        self._by_key = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Tabs")
        self.set_tabs(tabs)

    def set_tabs(self, tabs: Sequence[Tab]) -> None:
        """Show other tabs; the current one stays if it is still there, else the first is taken."""
        self._tabs = tuple(tabs)
        keys = [tab.key for tab in self._tabs]
        if self._current not in keys:
            self._current = keys[0] if keys else None
        self._describe()
        self.updateGeometry()

    def current(self) -> Hashable | None:
        """The key of the current tab."""
        return self._current

    def choose(self, key: Hashable) -> None:
        """Go to a tab; nothing is told when it is the current one."""
        if key != self._current and any(tab.key == key for tab in self._tabs):
            self._current = key
            self._describe()
            self.chosen.emit(key)

    def sizeHint(self) -> QSize:
        return QSize(sum(_width(tab) for tab in self._tabs), look.px(40))

    def minimumSizeHint(self) -> QSize:
        """Room for the current tab; the others are counted at its sides where they do not fit."""
        widest = max((_width(tab) for tab in self._tabs if tab.key == self._current), default=0)
        return QSize(min(self.sizeHint().width(), widest + 2 * look.px(_MORE)), look.px(40))

    def place_of(self, key: Hashable) -> QPoint | None:
        """The middle of a tab; None when it is not there."""
        for tab, rect in self._placed():
            if tab.key == key:
                return rect.center()
        return None

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        for at, (tab, rect) in enumerate(self._placed()):
            if at:
                upright(painter, rect.left(), look.px(11), rect.height() - look.px(22))
            here = tab.key == self._current
            room = rect.adjusted(look.px(_PAD), 0, -look.px(_PAD), -look.px(2))
            taken = paint_text(painter, room, tab.name, "ink" if here else "ink2", weight=600)
            if tab.state:
                rest = room.adjusted(taken + look.px(_GAP), 0, 0, 0)
                paint_text(painter, rest, tab.state, tab.state_ink, role="small")
            if here:
                fill(painter, QRect(rect.left(), rect.bottom() - 2, rect.width(), 3), "accent")
                if self._by_key:
                    ring = rect.adjusted(3, look.px(5), -4, -look.px(5))
                    painter.setPen(QPen(look.current().colour("accent"), 2))
                    painter.drawRect(ring)
        for room, _tab, hidden in self._hidden():
            paint_text(painter, room, f"+{hidden}", "ink2", role="small")
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        for tab, rect in self._placed():
            if rect.contains(event.position().toPoint()):
                self.choose(tab.key)
                return
        for room, tab, _hidden in self._hidden():
            if room.contains(event.position().toPoint()):
                self.choose(tab.key)
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        keys = [tab.key for tab in self._tabs]
        if step is None or self._current not in keys:
            super().keyPressEvent(event)
            return
        self.choose(keys[max(0, min(len(keys) - 1, keys.index(self._current) + step))])

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._by_key = event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._by_key = False
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()

    def _placed(self) -> list[tuple[Tab, QRect]]:
        first, end = self._shown()
        placed, x = [], look.px(_MORE) if first else 0
        for tab in self._tabs[first:end]:
            width = _width(tab)
            placed.append((tab, QRect(x, 0, width, self.height())))
            x += width
        return placed

    def _shown(self) -> tuple[int, int]:
        """The stretch of tabs there is room for: all of them, else those about the current one."""
        widths = [_width(tab) for tab in self._tabs]
        if sum(widths) <= self.width() or not widths:
            return 0, len(widths)
        room = self.width() - 2 * look.px(_MORE)
        here = next(at for at, tab in enumerate(self._tabs) if tab.key == self._current)
        first, end = 0, here + 1
        while first < here and sum(widths[first:end]) > room:
            first += 1
        while end < len(widths) and sum(widths[first : end + 1]) <= room:
            end += 1
        return first, end

    def _hidden(self) -> list[tuple[QRect, Tab, int]]:
        """Where the tabs without room are counted, the next of them, and how many they are."""
        first, end = self._shown()
        wide, left = look.px(_MORE), look.px(_GAP)
        told = []
        if first:
            told.append((QRect(left, 0, wide - left, self.height()), self._tabs[first - 1], first))
        if end < len(self._tabs):
            x = self._placed()[-1][1].right() + 1 + left
            told.append((QRect(x, 0, wide - left, self.height()), self._tabs[end], len(self._tabs) - end))
        return told

    def _describe(self) -> None:
        for tab in self._tabs:
            if tab.key == self._current:
                self.setAccessibleDescription(f"{tab.name}, {tab.state}".strip(", "))
        self.update()


def _width(tab: Tab) -> int:
    width = look.metrics("base", 600).horizontalAdvance(tab.name) + 2 * look.px(_PAD)
    if tab.state:
        width += look.px(_GAP) + look.metrics("small").horizontalAdvance(tab.state)
    return width
