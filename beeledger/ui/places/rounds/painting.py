"""How the entry grid is painted: two-line heads that teach the marks, cells with two places."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QHeaderView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from beeledger.ui.places.rounds.cells import GridCell
from beeledger.ui.places.rounds.columns import GridColumn
from beeledger.ui.places.rounds.model import GRID_CELL_ROLE, WHO, GridModel
from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.marks import mark_size, paint_disc
from beeledger.ui.widgets.painting import (
    disc_size,
    fill,
    hairline,
    mark_rect,
    paint_runs,
    paint_text,
    upright,
)

LEFT_INSET = 6
RIGHT_INSET = 7
HEAD_HEIGHT = 36
BAR = 3
_BETWEEN = 8
_FIRST_AIR = 6
_LAST_ROOM = 4
MARGIN_LEAST = 170
WHO_SAMPLES = {"st": "99", "hive": "99999", "queen": "yellow ’22"}
_LEFT_HEADS = frozenset({"queen", "rest"})


def section_width(model: GridModel, at: int) -> int:
    """The width a column asks for, from its widest expected values and what stands in the sheet."""
    ends = look.px(LEFT_INSET + RIGHT_INSET)
    bold, small = look.metrics("base", 600), look.metrics("small")
    heads = look.metrics("small", 600)
    column = model.column(at)
    last, today = model.widest(at)
    if column is None:
        key, title, second = WHO[at]
        plain = look.metrics("base", 600 if key == "hive" else 400)
        width = max(plain.horizontalAdvance(WHO_SAMPLES[key]), plain.horizontalAdvance(today))
        width += disc_size() + look.px(6) if key == "queen" else 0
        width += look.px(_FIRST_AIR) if at == 0 else 0
        return max(width, heads.horizontalAdvance(title), small.horizontalAdvance(second)) + ends
    if column.key == "rest":
        return look.px(MARGIN_LEAST)
    head = max(heads.horizontalAdvance(column.title), small.horizontalAdvance(column.second))
    beside = small.horizontalAdvance(last) + look.px(_BETWEEN) if last else 0
    usual = beside + bold.horizontalAdvance(column.usual)
    return max(head, usual, bold.horizontalAdvance(column.widest), bold.horizontalAdvance(today)) + ends


def cell_need(model: GridModel, row: int, at: int) -> int:
    """The width that today's figure of one cell needs."""
    cell: GridCell = model.index(row, at).data(GRID_CELL_ROLE)
    wide = look.metrics("base", cell.weight).horizontalAdvance(cell.today)
    return wide + (disc_size() + look.px(6) if cell.disc else 0) + look.px(LEFT_INSET + RIGHT_INSET)


class GridHead(QHeaderView):
    """Title, and under it the mark and the unit."""

    def __init__(self, model: GridModel, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._model = model
        self.setSectionsClickable(False)
        self.setHighlightSections(False)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(look.px(18))

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), look.px(HEAD_HEIGHT))

    def paintSection(self, painter: QPainter, rect: QRect, logical: int) -> None:
        column = self._model.column(logical)
        key, title, second = (column.key, column.title, column.second) if column else WHO[logical]
        fill(painter, rect, "sunk")
        hairline(painter, rect.left(), rect.bottom(), rect.width(), "line5")
        if _ends_group(column, key):
            upright(painter, rect.right(), rect.top(), rect.height())
        align = Align.LEFT if key in _LEFT_HEADS else Align.RIGHT
        room = rect.adjusted(look.px(LEFT_INSET), 0, -look.px(RIGHT_INSET), 0)
        half = rect.height() // 2
        upper = QRect(room.left(), rect.top() + look.px(2), room.width(), half - look.px(2))
        lower = QRect(room.left(), rect.top() + half - look.px(1), room.width(), half - look.px(1))
        if not second:
            upper = QRect(room.left(), rect.top() + look.px(2), room.width(), half - look.px(2))
        paint_text(painter, upper, title, "ink2", role="small", weight=600, align=align)
        paint_text(painter, lower, second, "ink2", role="small", align=align, shorten=key == "rest")


def _ends_group(column: GridColumn | None, key: str) -> bool:
    return key == "queen" if column is None else column.group_end


class GridDelegate(QStyledItemDelegate):
    """Paints the cells; knows which line has the focus, the cell under the keys and what is being typed in it."""

    def __init__(self, model: GridModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = model
        self.row = -1
        self.focused: tuple[int, int] | None = None
        """The cell with the focus ring; None while the quick line has the keys."""
        self.typing: str | None = None
        """The text being typed into that cell."""
        self.problem = ""

    def sizeHint(self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(option.rect.width(), look.row_height(grid=True))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        rect: QRect = option.rect
        cell: GridCell = index.data(GRID_CELL_ROLE)
        row, at = index.row(), index.column()
        column = self._model.column(at)
        state: QStyle.StateFlag = option.state
        chosen = bool(state & QStyle.StateFlag.State_Selected) or row == self.row
        fill(painter, rect, "accentsoft" if chosen else "paper")
        if cell.tint:
            fill(painter, rect.adjusted(0, 0, 0, -1), cell.tint)
        if cell.bar:
            fill(painter, QRect(rect.left(), rect.top(), 2, rect.height() - 1), cell.bar)
        hairline(painter, rect.left(), rect.bottom(), rect.width(), "line5" if (row + 1) % 5 == 0 else "line")
        if _ends_group(column, WHO[at][0] if column is None else ""):
            upright(painter, rect.right(), rect.top(), rect.height())
        if row == self.row and at == 0:
            fill(painter, QRect(rect.left(), rect.top(), BAR, rect.height()), "accent")
        self._content(painter, rect, cell, column, (row, at))

    def _content(
        self,
        painter: QPainter,
        rect: QRect,
        cell: GridCell,
        column: GridColumn | None,
        place: tuple[int, int],
    ) -> None:
        room = rect.adjusted(look.px(LEFT_INSET), 0, -look.px(RIGHT_INSET), -1)
        here = self.focused == place
        if here and self.typing is not None:
            self._typed(painter, room)
        elif column is not None and column.key == "rest":
            _margin(painter, room, cell)
        else:
            _figures(painter, room, cell, left=column is None and WHO[place[1]][0] == "queen")
        if here:
            painter.setPen(QPen(look.current().colour("accent"), 2))
            painter.drawRect(rect.adjusted(1, 1, -1, -2))

    def _typed(self, painter: QPainter, room: QRect) -> None:
        text = self.typing or ""
        ink: look.Token = "now" if self.problem else "ink"
        column = self._model.column(self.focused[1]) if self.focused else None
        align = Align.LEFT if column is not None and column.key == "rest" else Align.RIGHT
        shown = text
        metrics = look.metrics("base", 600)
        while metrics.horizontalAdvance(shown) > room.width() - 2 and len(shown) > 1:
            shown = shown[1:]  # the end is what is being typed
        width = paint_text(painter, room, shown, ink, weight=600, align=align)
        x = room.left() + width if align is Align.LEFT else room.right() + 1
        fill(painter, QRect(x + 1, room.top() + 3, 1, room.height() - 6), "ink")


def _figures(painter: QPainter, room: QRect, cell: GridCell, *, left: bool) -> None:
    if cell.last and _fits_beside(room, cell):
        paint_text(painter, room, cell.last, "ink3", role="small")
    if left:
        x = room.left()
        if cell.disc:
            paint_disc(painter, mark_rect(x, room, disc_size()), cell.disc)
            x += disc_size() + look.px(6)
        place = QRect(x, room.top(), room.right() - x + 1, room.height())
        paint_text(painter, place, cell.today, cell.ink, weight=cell.weight)
        return
    if cell.today:
        paint_text(painter, room, cell.today, cell.ink, weight=cell.weight, align=Align.RIGHT)


def _fits_beside(room: QRect, cell: GridCell) -> bool:
    """Whether the last figure has room beside today's; today's comes first."""
    today = look.metrics("base", cell.weight).horizontalAdvance(cell.today) if cell.today else 0
    return look.metrics("small").horizontalAdvance(cell.last) + today + look.px(_LAST_ROOM) <= room.width()


def _margin(painter: QPainter, room: QRect, cell: GridCell) -> None:
    if not cell.runs:
        return
    marked = cell.runs[0].mark is not None
    indent = 0 if marked else mark_size() + look.px(8)
    paint_runs(painter, room.adjusted(indent, 0, 0, 0), cell.runs, shorten=True)
