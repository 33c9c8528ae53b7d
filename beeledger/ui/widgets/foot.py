"""Feet: sums under a table, and the band with the main button under a card."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Align, Run
from beeledger.ui.widgets.painting import fill, paint_runs, paint_text
from beeledger.ui.widgets.panes import Band
from beeledger.ui.widgets.record_header import INSET
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import RunWords, spoken


class TableFoot(QWidget):
    """How many, sums or means, and on how many they rest; sums stand under their columns."""

    def __init__(
        self, table: RecordTable | None = None, *, height: int = 32, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._table = table
        self._units = height
        self._runs: tuple[Run, ...] = ()
        self._sums: dict[str, str] = {}
        self._right: tuple[Run, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        if table is not None:
            table.horizontalHeader().sectionResized.connect(self.update)
            table.horizontalScrollBar().valueChanged.connect(self.update)

    def say(self, runs: Sequence[Run], right: Sequence[Run] = ()) -> None:
        """Words from the left, and words at the right."""
        self._runs, self._right = tuple(runs), tuple(right)
        self._describe()

    def set_sums(self, sums: Mapping[str, str]) -> None:
        """Figures by the key of the column they stand under."""
        self._sums = dict(sums)
        self._describe()

    def _describe(self) -> None:
        heads = {column.key: column.title for column in (self._table.columns if self._table else ())}
        sums = [f"{heads.get(key, key)} {value}" for key, value in self._sums.items()]
        self.setAccessibleName(" ".join([spoken(self._runs), *sums, spoken(self._right)]).strip())
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(look.px(200), look.px(self._units))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(80), look.px(self._units))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        pad = look.px(16)
        room = QRect(pad, 1, self.width() - 2 * pad, self.height() - 1)
        taken = paint_runs(painter, room, self._right, align=Align.RIGHT) if self._right else 0
        paint_runs(painter, room.adjusted(0, 0, -taken - (pad if taken else 0), 0), self._runs, shorten=True)
        self._paint_sums(painter)
        painter.end()

    def _paint_sums(self, painter: QPainter) -> None:
        if self._table is None:
            return
        head = self._table.horizontalHeader()
        for at, column in enumerate(self._table.columns):
            value = self._sums.get(column.key, "")
            if not value:
                continue
            x = head.sectionViewportPosition(at)
            room = QRect(x, 1, head.sectionSize(at) - look.px(INSET), self.height() - 1)
            align = Align.RIGHT if column.align is Align.RIGHT else Align.LEFT
            inset = look.px(INSET) if align is Align.LEFT else 0
            paint_text(painter, room.adjusted(inset, 0, 0, 0), value, "ink", weight=600, align=align)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


class ActFoot(Band):
    """What holds or what is chosen at the left, plain buttons and the one main button at the right."""

    def __init__(
        self,
        *buttons: Button,
        height: int = 48,
        inset: int = 12,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(height=height, ground="sunk", line="above", inset=inset, parent=parent)
        self.first = RunWords(shorten=True)
        self.second = RunWords(shorten=True)
        self.second.hide()
        words = QWidget()
        self._stack(words)
        self.row.addWidget(words, 1)
        for button in buttons:
            self.row.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)

    def say(self, runs: Sequence[Run], second: Sequence[Run] = ()) -> None:
        """One or two lines of words."""
        self.first.say(runs)
        self.second.say(second)
        self.second.setVisible(bool(second))

    def _stack(self, words: QWidget) -> None:
        column = QVBoxLayout(words)
        column.setContentsMargins(look.px(4), 0, 0, 0)
        column.setSpacing(0)
        column.addStretch(1)
        column.addWidget(self.first)
        column.addWidget(self.second)
        column.addStretch(1)
