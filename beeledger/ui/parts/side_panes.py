"""A pane with a narrower one beside it, shared anew for each width of the window until a person draws the line."""

from __future__ import annotations

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.panes import Panes


class SidePanes(Panes):
    """``side`` is ``wanted`` wide at the base text size, but never more than ``most`` per cent of the whole."""

    def __init__(self, main: QWidget, side: QWidget, *, wanted: int, most: int) -> None:
        super().__init__(main, side)
        self._side = side
        self._wanted = wanted
        self._most = most
        self._drawn = False
        self.splitterMoved.connect(self._draw)

    def _draw(self, _at: int, _which: int) -> None:
        self._drawn = True

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if not self._drawn:
            most = self.width() * self._most // 100
            side = max(min(look.px(self._wanted), most), self._side.minimumSizeHint().width())
            self.setSizes([self.width() - side - self.handleWidth(), side])
