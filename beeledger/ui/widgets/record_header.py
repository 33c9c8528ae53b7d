"""The head of a record table: title, unit, the damson triangle of the sorted column."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHeaderView, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align, Column
from beeledger.ui.widgets.painting import fill, paint_text, triangle_down, triangle_up, upright

INSET = 8
TIGHT = 4
"""The inset at the left of a column of figures: its texts stand at the right."""
FIRST_INSET = 16
_TRIANGLE = 7


class RecordHeader(QHeaderView):
    """Paints its sections itself: a style sheet cannot set title and unit in two inks."""

    def __init__(
        self, columns: Sequence[Column], parent: QWidget, *, lines: int = 1, height: int = 0
    ) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._columns = tuple(columns)
        self._lines = lines
        self._lead = 0
        self._units = height or (36 if lines == 2 else 28)
        self.order: tuple[int, bool] | None = None
        self.setSectionsClickable(True)
        self.setHighlightSections(False)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(8)

    def set_lead(self, width: int) -> None:
        """Room at the left of the first column (the tick boxes)."""
        self._lead = width

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), look.px(self._units))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        whole = self.viewport().rect()
        fill(painter, whole, "sunk")
        painter.end()
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        fill(painter, QRect(0, whole.height() - 1, whole.width(), 1), "line5")
        self._triangle(painter)
        painter.end()

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        column = self._columns[logicalIndex]
        fill(painter, rect, "sunk")
        if column.group_end:
            upright(painter, rect.right(), rect.top(), rect.height())
        room = rect.adjusted(left_inset(logicalIndex, column, self._lead), 0, -look.px(INSET), -1)
        if self._lines == 2:
            self._two_lines(painter, room, column)
        else:
            self._one_line(painter, room, column)

    def _one_line(self, painter: QPainter, room: QRect, column: Column) -> None:
        title = look.metrics("small", 600).horizontalAdvance(column.title)
        gap = look.px(3) if column.unit else 0
        unit = look.metrics("small").horizontalAdvance(column.unit) if column.unit else 0
        whole = title + gap + unit
        x = room.left()
        if column.align is Align.RIGHT:
            x = room.left() + room.width() - whole
        elif column.align is Align.CENTRE:
            x = room.left() + (room.width() - whole) // 2
        place = QRect(x, room.top(), whole + 1, room.height())
        paint_text(painter, place, column.title, "ink2", role="small", weight=600)
        if column.unit:
            paint_text(painter, place, column.unit, "ink3", role="small", align=Align.RIGHT)

    def _two_lines(self, painter: QPainter, room: QRect, column: Column) -> None:
        half = room.height() // 2
        upper = QRect(room.left(), room.top() + look.px(2), room.width(), half)
        lower = QRect(room.left(), room.top() + half - look.px(1), room.width(), half)
        paint_text(painter, upper, column.title, "ink2", role="small", weight=600, align=column.align)
        paint_text(painter, lower, column.unit, "ink3", role="small", align=column.align)

    def _triangle(self, painter: QPainter) -> None:
        """Drawn after all sections: it may reach into the inset of the column before."""
        if self.order is None or self.isSectionHidden(self.order[0]):
            return
        at, descending = self.order
        column = self._columns[at]
        start = self.sectionViewportPosition(at) + left_inset(at, column, self._lead)
        end = self.sectionViewportPosition(at) + self.sectionSize(at) - look.px(INSET)
        taken = _title_run(column, two_lines=self._lines == 2)
        side = look.px(_TRIANGLE)
        right = column.align is Align.RIGHT
        x = end - taken - look.px(3) - side if right else start + taken + look.px(4)
        middle = self.height() // (4 if self._lines == 2 else 2) + (look.px(2) if self._lines == 2 else 0)
        shape = (triangle_down if descending else triangle_up)(x, middle - side * 0.35, side)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillPath(shape, look.current().colour("accent"))


def left_inset(at: int, column: Column, lead: int) -> int:
    """Air at the left of a column's texts, in pixels; ``lead`` is the room of the tick boxes."""
    if at == 0:
        return look.px(FIRST_INSET + lead)
    return look.px(TIGHT if column.align is Align.RIGHT else INSET)


def title_width(column: Column) -> int:
    """Width the head of a column asks for; at the left-aligned ones with room for the triangle."""
    room = look.px(12) if column.sorts and column.align is not Align.RIGHT else 0
    return _title_run(column, two_lines=False) + room


def _title_run(column: Column, *, two_lines: bool) -> int:
    width = look.metrics("small", 600).horizontalAdvance(column.title)
    if column.unit and not two_lines:
        width += look.px(4) + look.metrics("small").horizontalAdvance(column.unit)
    return width
