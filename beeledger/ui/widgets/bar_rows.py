"""Two bars a row over the days of a season, beside the lines of a table that scrolls with them."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import Enum

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollBar, QSizePolicy, QWidget

from beeledger.base.dates import long, short
from beeledger.ui.widgets import look
from beeledger.ui.widgets.canvas import Canvas, ChartTable, Spot
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.painting import fill, hairline, paint_text, upright
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.scales import Scale, month_starts, month_word

_BAR = 10
_DAYS = (8, 15, 22)


class Kind(Enum):
    """How a bar is drawn."""

    ENDS = "ends"
    """Pale, with firm ends."""
    FULL = "full"
    PALE = "pale"
    DASHED = "dashed"


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar from a day to a day; ``words`` stand after it where there is room."""

    first: date
    last: date
    kind: Kind
    words: str = ""
    lower: bool = False
    """In the second of the row's two lines."""


class BarRows(Canvas):
    """The bars of the rows a table shows, line for line."""

    def __init__(self, table: RecordTable, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self._table = table
        self._bars: dict[Hashable, tuple[Bar, ...]] = {}
        self._first = date(2000, 1, 1)
        self._last = date(2000, 12, 31)
        self._today: date | None = None
        self.setAccessibleName("Time line")
        table.verticalScrollBar().valueChanged.connect(self.update)
        table.selectionModel().selectionChanged.connect(lambda *_: self.update())
        table.records.modelReset.connect(self.update)

    def set_bars(
        self, bars: Mapping[Hashable, Sequence[Bar]], first: date, last: date, today: date | None = None
    ) -> None:
        """Show other bars by the id of their row, from ``first`` to ``last``; ``today`` gets its line."""
        self._bars = {row_id: tuple(row) for row_id, row in bars.items()}
        self._first, self._last, self._today = first, last, today
        self.describe(f"{len(self._bars)} rows from {long(first)} to {long(last)}")

    def table(self) -> ChartTable:
        rows = []
        for row in self._table.records.rows_shown():
            name = row.cells[0].text
            rows += [
                (name, long(bar.first), long(bar.last), bar.words or bar.kind.value)
                for bar in self._bars.get(row.id, ())
            ]
        return ChartTable((self._table.columns[0].title, "From", "Until", "What"), tuple(rows))

    def sizeHint(self) -> QSize:
        return QSize(look.px(480), look.px(300))

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        head = self._table.horizontalHeader().height()
        across = Scale(self._first.toordinal(), self._last.toordinal() + 1, 0, room.width())
        fill(painter, QRect(0, 0, room.width(), head), "sunk")
        self._paint_rows(painter, room, head, across)
        self._paint_calendar(painter, room, head, across)
        for line in range(self._table.records.rowCount()):
            self._paint_bars(painter, head, line, across)
        if self._today is not None and self._first <= self._today <= self._last:
            self._paint_today(painter, room, head, round(across.at(self._today.toordinal() + 0.5)))
        fill(painter, QRect(0, 0, 1, room.height()), "line5")

    def _row_rect(self, head: int, line: int) -> QRect:
        y = head + self._table.rowViewportPosition(line)
        return QRect(0, y, self.width(), self._table.rowHeight(line))

    def _paint_rows(self, painter: QPainter, room: QRect, head: int, _across: Scale) -> None:
        painter.save()
        painter.setClipRect(QRect(0, head, room.width(), room.height() - head))
        chosen = set(self._table.chosen())
        for line, row in enumerate(self._table.records.rows_shown()):
            rect = self._row_rect(head, line)
            if row.id in chosen:
                fill(painter, rect, "accentsoft")
            hairline(painter, 0, rect.bottom(), rect.width(), "line5" if (line + 1) % 5 == 0 else "line")
        painter.restore()

    def _paint_calendar(self, painter: QPainter, room: QRect, head: int, across: Scale) -> None:
        half = head // 2
        for start in month_starts(self._first, self._last):
            x = round(across.at(start.toordinal()))
            upright(painter, x, 0, room.height(), "line5")
            month = QRect(x + look.px(4), look.px(1), look.px(60), half)
            word = month_word(start)
            if month.left() + look.metrics("small", 600).horizontalAdvance(word) < room.width():
                paint_text(painter, month, word, "ink2", role="small", weight=600)
            self._paint_days(painter, room, head, start, across)
        hairline(painter, 0, head - 1, room.width(), "line5")

    def _paint_days(self, painter: QPainter, room: QRect, head: int, start: date, across: Scale) -> None:
        half, wide = head // 2, look.px(12)
        for day in _DAYS:
            at = round(across.at(start.replace(day=day).toordinal()))
            upright(painter, at, head, room.height() - head, "line")
            if across.at(8) - across.at(1) >= look.px(20) and at + wide <= room.width():
                place = QRect(at - wide, half, 2 * wide, half)
                paint_text(painter, place, str(day), "ink3", role="small", align=Align.CENTRE)

    def _paint_bars(self, painter: QPainter, head: int, line: int, across: Scale) -> None:
        rect = self._row_rect(head, line)
        if rect.bottom() < head or rect.top() > self.height():
            return
        painter.save()
        painter.setClipRect(QRect(0, head, self.width(), self.height() - head))
        high = look.px(_BAR)
        for bar in self._bars.get(self._table.records.row_at(line).id, ()):
            x = round(across.at(max(bar.first, self._first).toordinal()))
            right = round(across.at(min(bar.last, self._last).toordinal() + 1))
            y = rect.top() + (rect.height() // 2 + look.px(3) if bar.lower else look.px(8))
            place = QRect(x, y, max(3, right - x), high)
            paint_bar(painter, place, bar.kind)
            self._paint_words(painter, place, bar.words)
            said = f"{bar.words or bar.kind.value}, {long(bar.first)} to {long(bar.last)}"
            self.spots.append(Spot(QRectF(place).center(), said))
        painter.restore()

    def _paint_words(self, painter: QPainter, bar: QRect, words: str) -> None:
        """After the bar, or before it where the season ends too soon after it."""
        wide = look.metrics("small").horizontalAdvance(words) + 1
        left = bar.right() + look.px(6)
        if left + wide > self.width():
            left = max(look.px(4), bar.left() - look.px(6) - wide)
        room = QRect(left, bar.top() - look.px(4), wide, bar.height() + look.px(8))
        paint_text(painter, room, words, "ink2", role="small")

    def _paint_today(self, painter: QPainter, room: QRect, head: int, x: int) -> None:
        fill(painter, QRect(x - 1, head // 2, 2, room.height() - head // 2), "accent")
        words = short(self._today) if self._today else ""
        width = look.metrics("small", 600).horizontalAdvance(words) + look.px(12)
        place = QRect(x - width // 2, head // 2, width, head - head // 2 - 1)
        fill(painter, place, "accent")
        paint_text(painter, place, words, "accentink", role="small", weight=600, align=Align.CENTRE)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        line = self._table.rowAt(round(event.position().y()) - self._table.horizontalHeader().height())
        if line >= 0:
            self._table.choose([self._table.records.row_at(line).id], scroll=False)

    def wheelEvent(self, event: QWheelEvent) -> None:
        bar = self._table.verticalScrollBar()
        bar.setValue(bar.value() - event.angleDelta().y() // 2)


def paint_bar(painter: QPainter, rect: QRect, kind: Kind) -> None:
    """One bar of a kind; keys under the rows draw the same."""
    tokens = look.current()
    if kind is Kind.ENDS:
        pale = QColor(tokens.colour("c3"))
        pale.setAlphaF(0.30)
        painter.fillRect(rect, pale)
        fill(painter, QRect(rect.left(), rect.top(), 2, rect.height()), "c3")
        fill(painter, QRect(rect.right() - 1, rect.top(), 2, rect.height()), "c3")
        return
    colour = tokens.colour("c1")
    pen = QPen(colour, 1)
    if kind is Kind.DASHED:
        pen.setDashPattern([4, 3])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    else:
        ground = QColor(tokens.colour("c1"))
        ground.setAlphaF(0.75 if kind is Kind.FULL else 0.25)
        painter.fillRect(rect, ground)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(rect.adjusted(0, 0, -1, -1))


class TableWithBars(QWidget):
    """A table and its bars side by side, scrolled by one bar at the right."""

    def __init__(self, table: RecordTable, bars: BarRows, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = table
        self.bars = bars
        table.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        inner = table.verticalScrollBar()
        self._outer = QScrollBar(Qt.Orientation.Vertical)
        inner.rangeChanged.connect(self._span)
        inner.valueChanged.connect(self._outer.setValue)
        self._outer.valueChanged.connect(inner.setValue)
        table.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(table)
        row.addWidget(bars, 1)
        row.addWidget(self._outer)
        table.shown_changed.connect(self._fit)
        self._span(0, 0)
        self._fit()

    def _fit(self) -> None:
        """The table is as wide as its columns ask; the bars take the rest."""
        self.table.setFixedWidth(self.table.natural_width())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_outer"):
            self.table.measure()
            self._fit()

    def _span(self, low: int, high: int) -> None:
        self._outer.setRange(low, high)
        self._outer.setPageStep(self.table.viewport().height())
        self._outer.setVisible(high > low)
