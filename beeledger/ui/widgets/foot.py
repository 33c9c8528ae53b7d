"""Feet: sums under a table, and the band with the main button under a card."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Align, Run
from beeledger.ui.widgets.painting import fill, paint_runs, paint_text, runs_width
from beeledger.ui.widgets.panes import Band
from beeledger.ui.widgets.record_header import INSET
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import RunWords, spoken
from beeledger.ui.widgets.wrapping import wrapped_runs

_PAD = 16
_LINE = 20
"""A line of a foot that has more than one."""


class TableFoot(QWidget):
    """How many, sums or means, and on how many they rest; sums stand under their columns.

    What has no room in one line goes on in the next; a sum whose column has stepped out is said in words.
    """

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
            table.horizontalHeader().sectionResized.connect(self._fit)
            table.horizontalScrollBar().valueChanged.connect(self.update)

    def say(self, runs: Sequence[Run], right: Sequence[Run] = ()) -> None:
        """Words from the left, and words at the right."""
        self._runs, self._right = tuple(runs), tuple(right)
        self._describe()

    def set_sums(self, sums: Mapping[str, str]) -> None:
        """Figures by the key of the column they stand under."""
        self._sums = dict(sums)
        if self._table is not None:
            self._table.make_room(self._sums)
        self._describe()

    def _describe(self) -> None:
        heads = {column.key: column.title for column in (self._table.columns if self._table else ())}
        sums = [f"{heads.get(key, key)} {value}" for key, value in self._sums.items()]
        self.setAccessibleName(" ".join([spoken(self._runs), *sums, spoken(self._right)]).strip())
        self._fit()

    def _fit(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(look.px(200), look.px(self._units) + (self._count() - 1) * look.px(_LINE))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(80), self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.sizeHint().height() != self.height():
            self.updateGeometry()

    def _count(self) -> int:
        left, right, sums = self._lines()
        return max(1, len(left) + len(right) + sums)

    def _lines(self) -> tuple[list[tuple[Run, ...]], list[tuple[Run, ...]], int]:
        """The lines from the left, those at the right, and the lines the sums need below; all in one if it fits."""
        runs, places = self._said(), self._places()
        room = self.width() - 2 * look.px(_PAD)
        wide = runs_width(runs)
        sums = int(bool(places) and look.px(_PAD) + wide > min(place.left() for place, *_ in places))
        beside = wide + look.px(_PAD) + runs_width(self._right) <= room
        if not self._right or (beside and not sums):
            return wrapped_runs(runs, room), [], sums
        return wrapped_runs(runs, room), wrapped_runs(self._right, room), sums

    def _said(self) -> tuple[Run, ...]:
        gone = [
            Run(f"{column.title} {self._sums[column.key]}", "ink", gap=10)
            for at, column in enumerate(self._table.columns if self._table else ())
            if self._sums.get(column.key) and self._table and self._table.isColumnHidden(at)
        ]
        return (*self._runs, *gone)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        left, right, sums = self._lines()
        count = max(1, len(left) + len(right) + sums)
        pad, line = look.px(_PAD), look.px(_LINE)
        height = self.height() - 1 if count == 1 else line
        top = 1 if count == 1 else (self.height() - count * line) // 2
        room = QRect(pad, top, self.width() - 2 * pad, height)
        for at, runs in enumerate([*left, *right]):
            align = Align.LEFT if at < len(left) else Align.RIGHT
            paint_runs(painter, room.translated(0, at * line), runs, align=align)
        if not right:
            paint_runs(painter, room, self._right, align=Align.RIGHT)
        y = top + (count - 1) * line if sums else top
        for place, value, align in self._places():
            put = QRect(place.left(), y, place.width(), height)
            paint_text(painter, put, value, "ink", weight=600, align=align)
        painter.end()

    def _places(self) -> list[tuple[QRect, str, Align]]:
        """Each sum with the room under its column."""
        if self._table is None:
            return []
        head, made = self._table.horizontalHeader(), []
        for at, column in enumerate(self._table.columns):
            value = self._sums.get(column.key, "")
            if not value or self._table.isColumnHidden(at):
                continue
            align = Align.RIGHT if column.align is Align.RIGHT else Align.LEFT
            inset = look.px(INSET) if align is Align.LEFT else 0
            x, width = head.sectionViewportPosition(at), head.sectionSize(at) - look.px(INSET)
            made.append((QRect(x + inset, 0, width - inset, self.height()), value, align))
        return made

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
        self.first = RunWords(wrap=True)
        self.second = RunWords(wrap=True)
        self.second.hide()
        self._words = QWidget()
        self._stack(self._words)
        self.row.addWidget(self._words, 1)
        for button in buttons:
            self.row.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)

    def say(self, runs: Sequence[Run], second: Sequence[Run] = ()) -> None:
        """One or two lines of words."""
        self.first.say(runs)
        self.second.say(second)
        self.second.setVisible(bool(second))

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self._height())

    def _height(self) -> int:
        return max(look.px(self._units), self._words.sizeHint().height() + look.px(6))

    def _stack(self, words: QWidget) -> None:
        column = QVBoxLayout(words)
        column.setContentsMargins(look.px(4), 0, 0, 0)
        column.setSpacing(0)
        column.addStretch(1)
        column.addWidget(self.first)
        column.addWidget(self.second)
        column.addStretch(1)
