"""Paints a row of a record table from its ready cells: ground, rule, mark, figure."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QToolTip,
    QWidget,
)

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align, Cell, Column
from beeledger.ui.widgets.marks import mark_size, paint_disc, paint_mark
from beeledger.ui.widgets.painting import (
    disc_size,
    fill,
    hairline,
    mark_rect,
    paint_interval,
    paint_runs,
    paint_text,
    runs_width,
    upright,
)
from beeledger.ui.widgets.record_header import FIRST_INSET, INSET, left_inset
from beeledger.ui.widgets.record_model import CELL_ROLE

BAR = 3
TICK_ROOM = 30
_TICK = 14


class RecordDelegate(QStyledItemDelegate):
    """Knows the columns and the row under the pointer; keeps no data of its own."""

    def __init__(
        self, columns: Sequence[Column], parent: QWidget, *, lines: int, dense: bool, ticks: bool
    ) -> None:
        super().__init__(parent)
        self._columns = tuple(columns)
        self._lines = lines
        self._dense = dense
        self._ticks = ticks
        self.hovered = -1
        self.focused = -1

    def row_height(self) -> int:
        """Height of a row at the text size in force."""
        return look.px(41) if self._lines == 2 else look.row_height(grid=self._dense)

    def room(self, rect: QRect, column: int) -> QRect:
        """Where the text of a cell may stand."""
        left = left_inset(column, self._columns[column], TICK_ROOM if self._ticks else 0)
        return rect.adjusted(left, 0, -look.px(INSET), -1)

    def sizeHint(self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(option.rect.width(), self.row_height())

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        rect: QRect = option.rect
        state: QStyle.StateFlag = option.state
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        cell: Cell = index.data(CELL_ROLE)
        self._ground(painter, rect, index, cell, chosen=chosen)
        if self._ticks and index.column() == 0:
            _tick_box(painter, tick_rect(rect), ticked=chosen)
        room = self.room(rect, index.column())
        if self._lines == 2:
            self._two_lines(painter, room, cell, self._columns[index.column()])
        else:
            self._content(painter, room, cell, self._columns[index.column()])

    def helpEvent(
        self,
        event: QHelpEvent,
        view: QAbstractItemView,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> bool:
        """The whole sentence where it was shortened, or the cell's own word of explanation."""
        if event.type() != QEvent.Type.ToolTip or not index.isValid():
            return super().helpEvent(event, view, option, index)
        cell: Cell = index.data(CELL_ROLE)
        words = cell.tip or (cell.text if self.is_shortened(view.visualRect(index), index) else "")
        QToolTip.showText(event.globalPos(), words, view)
        return True

    def is_shortened(self, rect: QRect, index: QModelIndex | QPersistentModelIndex) -> bool:
        """Whether the cell's words do not fit its column."""
        column = self._columns[index.column()]
        return cell_width(index.data(CELL_ROLE), column) > self.room(rect, index.column()).width()

    def _ground(
        self,
        painter: QPainter,
        rect: QRect,
        index: QModelIndex | QPersistentModelIndex,
        cell: Cell,
        *,
        chosen: bool,
    ) -> None:
        row = index.row()
        fill(painter, rect, "accentsoft" if chosen else "hover" if row == self.hovered else "paper")
        if cell.tint:
            fill(painter, rect.adjusted(0, 0, 0, -1), cell.tint)
        if cell.bar:
            fill(painter, QRect(rect.left(), rect.top(), 2, rect.height() - 1), cell.bar)
        hairline(painter, rect.left(), rect.bottom(), rect.width(), "line5" if (row + 1) % 5 == 0 else "line")
        if self._columns[index.column()].group_end:
            upright(painter, rect.right(), rect.top(), rect.height())
        if row == self.focused:
            hairline(painter, rect.left(), rect.top(), rect.width(), "accent")
            hairline(painter, rect.left(), rect.bottom() - 1, rect.width(), "accent")
        if chosen and index.column() == 0:
            fill(painter, QRect(rect.left(), rect.top(), BAR, rect.height()), "accent")

    def _two_lines(self, painter: QPainter, room: QRect, cell: Cell, column: Column) -> None:
        half = (room.height() - look.px(4)) // 2
        upper = QRect(room.left(), room.top() + look.px(3), room.width(), half)
        self._content(painter, upper, cell, column)
        if cell.second:
            indent = _indent(cell, column)
            lower = QRect(room.left() + indent, upper.bottom() + 1, room.width() - indent, half)
            align = cell.align or column.align
            paint_text(painter, lower, cell.second, "ink2", role="small", align=align, shorten=column.slack)

    def _content(self, painter: QPainter, room: QRect, cell: Cell, column: Column) -> None:
        if cell.last:
            paint_text(painter, room, cell.last, "ink3", role="small")
        if cell.interval:
            paint_interval(painter, room, cell.interval)
        align = cell.align or column.align
        if cell.runs:
            paint_runs(painter, room, cell.runs, align=align, shorten=column.slack)
        elif cell.text or cell.mark or cell.disc:
            _words(painter, room, cell, column, align)


def _words(painter: QPainter, room: QRect, cell: Cell, column: Column, align: Align) -> None:
    x = room.left()
    indent = _indent(cell, column)
    if align is Align.RIGHT:
        taken = indent + look.metrics("base", cell.weight).horizontalAdvance(cell.text)
        x = max(room.left(), room.left() + room.width() - taken)
    if cell.mark:
        paint_mark(painter, mark_rect(x, room, mark_size()), cell.mark)
    elif cell.disc:
        paint_disc(painter, mark_rect(x, room, disc_size()), cell.disc)
    left = x + indent if (cell.mark or cell.disc or align is not Align.RIGHT) else room.left()
    place = QRect(left, room.top(), room.left() + room.width() - left, room.height())
    paint_text(painter, place, cell.text, cell.ink, weight=cell.weight, align=align, shorten=column.slack)


def _indent(cell: Cell, column: Column) -> int:
    if cell.mark or column.marks:
        return mark_size() + look.px(8)
    return disc_size() + look.px(6) if cell.disc else 0


def cell_width(cell: Cell, column: Column) -> int:
    """Width a cell asks for without the insets."""
    if cell.runs:
        return runs_width(cell.runs)
    width = _indent(cell, column) + look.metrics("base", cell.weight).horizontalAdvance(cell.text)
    if cell.last:
        width += look.px(8) + look.metrics("small").horizontalAdvance(cell.last)
    if cell.second:
        second = _indent(cell, column) + look.metrics("small").horizontalAdvance(cell.second)
        width = max(width, second)
    return width


def tick_rect(rect: QRect) -> QRectF:
    """Where the tick box stands in the first cell of a row."""
    side = look.px(_TICK)
    return QRectF(
        rect.left() + look.px(FIRST_INSET), rect.top() + (rect.height() - 1 - side) // 2, side, side
    )


def _tick_box(painter: QPainter, rect: QRectF, *, ticked: bool) -> None:
    tokens = look.current()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(tokens.colour("accent" if ticked else "edge"), 1))
    painter.setBrush(tokens.colour("accent" if ticked else "paper"))
    painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 2, 2)
    if ticked:
        pen = QPen(tokens.colour("accentink"), look.px(18) / 10)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        w, x, y = rect.width(), rect.left(), rect.top()
        painter.drawPolyline([QPointF(x + w * a, y + w * b) for a, b in _TICK_SHAPE])
    painter.restore()


_TICK_SHAPE = ((0.24, 0.52), (0.43, 0.71), (0.77, 0.30))
