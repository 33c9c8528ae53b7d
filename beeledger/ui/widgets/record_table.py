"""One table for all places: ready rows, filtered as you type, sorted by their head.

Make it with its columns, ``set_rows`` with ready rows, and connect ``chosen_changed`` to the card.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence

from PySide6.QtCore import QEvent, QItemSelection, QItemSelectionModel, QModelIndex, QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QTableView, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Cell, Column, Row
from beeledger.ui.widgets.column_fit import shared
from beeledger.ui.widgets.record_delegate import TICK_ROOM, RecordDelegate, cell_width, tick_rect
from beeledger.ui.widgets.record_header import FIRST_INSET, INSET, RecordHeader, left_inset, title_width
from beeledger.ui.widgets.record_model import ID_ROLE, Index, RecordModel

_KEEP = QItemSelectionModel.SelectionFlag.NoUpdate
_WHOLE = QItemSelectionModel.SelectionFlag.Rows
_NAME = 40
"""Letters of the longest name that a column makes room for."""
_SET = QItemSelectionModel.SelectionFlag.ClearAndSelect | _WHOLE
_WALKS = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Home, Qt.Key.Key_End)


class RecordTable(QTableView):
    """Rows by id. Choice and scrolling are kept by id through new rows, filters and sorting."""

    chosen_changed = Signal(list)
    """The ids of the chosen rows, in the order shown."""
    opened = Signal(object)
    """The id of a row opened with Enter or a double click."""
    typed = Signal(str)
    """Letters typed while the table has the focus: they belong to the filter box."""
    shown_changed = Signal(int, int)
    """Rows shown, and rows there are."""

    def __init__(
        self,
        columns: Sequence[Column],
        parent: QWidget | None = None,
        *,
        lines: int = 1,
        head: bool = True,
        head_lines: int = 1,
        head_height: int = 0,
        dense: bool = False,
        ticks: bool = False,
        many: bool = True,
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._lines = lines
        self._ticks = ticks
        self._restoring = False
        self._told: list[Hashable] = []
        self._wanted: set[Hashable] = set()
        self._words = ""
        self._keep: Callable[[Row], bool] | None = None
        self._natural: list[int] = []
        self._sums: dict[str, int] = {}
        self.records = RecordModel(self.columns)
        self.records.setParent(self)
        self._delegate = RecordDelegate(self.columns, self, lines=lines, dense=dense, ticks=ticks)
        self._head = RecordHeader(self.columns, self, lines=head_lines, height=head_height)
        self._head.set_lead(TICK_ROOM if ticks else 0)
        self._head.setVisible(head)
        self._dress(many=many)
        self.selectionModel().selectionChanged.connect(self._tell)
        self._head.sectionClicked.connect(self._sort_clicked)
        self.doubleClicked.connect(self._open)
        self.measure()

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show ``rows``; what was chosen stays chosen where it is still there."""
        with _Kept(self):
            self.records.set_rows(rows)
        self.measure()
        self._count()

    def filter(self, words: str = "", keep: Callable[[Row], bool] | None = None) -> None:
        """Show only rows with all of ``words`` that also pass ``keep``."""
        self._words, self._keep = words, keep
        self._refilter()

    def filter_words(self, words: str) -> None:
        """Change the words of the filter and leave the rest of it."""
        self._words = words
        self._refilter()

    def filter_by(self, keep: Callable[[Row], bool] | None) -> None:
        """Change the condition of the filter and leave its words."""
        self._keep = keep
        self._refilter()

    def sort_by(self, key: str | None, *, descending: bool = False) -> None:
        """Sort by the column of that key; None for the order the rows came in. KeyError if there is none."""
        at = None if key is None else self._column(key)
        with _Kept(self):
            self.records.set_order(None if at is None else (at, descending))
        self._head.order = self.records.order
        self._head.viewport().update()
        self._fit()

    def chosen(self) -> list[Hashable]:
        """The ids of the chosen rows, in the order shown."""
        lines = sorted({index.row() for index in self.selectionModel().selectedRows()})
        return [self.records.row_at(line).id for line in lines]

    def choose(self, ids: Iterable[Hashable], *, scroll: bool = True) -> None:
        """Choose exactly these rows; those not shown are left out."""
        lines = sorted(line for line in map(self.records.line_of, ids) if line is not None)
        self.selectionModel().select(self._selection(lines), _SET)
        if lines:
            first = self.records.index(lines[0], 0)
            self.selectionModel().setCurrentIndex(first, _KEEP)
            if scroll:
                self.scrollTo(first)

    def take_current(self) -> None:
        """Choose the row the keys are on, else the first, where none is chosen; ticks stay as they are."""
        index = self.currentIndex() if self.currentIndex().isValid() else self.records.index(0, 0)
        if not self._ticks and index.isValid() and not self.chosen():
            self.selectionModel().setCurrentIndex(index, _SET)

    def current_id(self) -> Hashable | None:
        """The id of the row the keys are on."""
        index = self.currentIndex()
        return self.records.row_at(index.row()).id if index.isValid() else None

    def natural_width(self) -> int:
        """How wide the columns ask to be without slack."""
        return sum(self._natural)

    def measure(self) -> None:
        """Set the heights and widths from the text size in force and from the widest texts."""
        height = self._delegate.row_height()
        self.verticalHeader().setMinimumSectionSize(height)
        self.verticalHeader().setDefaultSectionSize(height)
        self._natural = [self._width(at) for at in range(len(self.columns))]
        self._head.updateGeometry()
        self.updateGeometries()
        self._fit()

    def _dress(self, *, many: bool) -> None:
        modes = QAbstractItemView.SelectionMode
        self.setModel(self.records)
        self.setItemDelegate(self._delegate)
        self.setHorizontalHeader(self._head)
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        mode = modes.ExtendedSelection if many else modes.SingleSelection
        self.setSelectionMode(mode)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setMouseTracking(True)
        self.setCornerButtonEnabled(False)

    def _refilter(self) -> None:
        with _Kept(self):
            self.records.set_filter(self._words, self._keep)
        self._count()

    def _count(self) -> None:
        self.shown_changed.emit(self.records.rowCount(), len(self.records.all_rows()))

    def _column(self, key: str) -> int:
        for at, column in enumerate(self.columns):
            if column.key == key:
                return at
        raise KeyError(key)

    def _sort_clicked(self, section: int) -> None:
        column = self.columns[section]
        if column.sorts:
            self.sort_by(column.key, descending=self.records.order == (section, False))

    def _open(self, index: QModelIndex) -> None:
        self.opened.emit(self.records.row_at(index.row()).id)

    def _tell(self) -> None:
        if self._restoring:
            return
        chosen = self.chosen()
        self._wanted = set(chosen)
        if chosen != self._told:
            self._told = chosen
            self.chosen_changed.emit(list(chosen))

    def _selection(self, lines: Sequence[int]) -> QItemSelection:
        selection = QItemSelection()
        last = len(self.columns) - 1
        start = 0
        for at, line in enumerate(lines):
            if at + 1 == len(lines) or lines[at + 1] != line + 1:
                selection.select(self.records.index(lines[start], 0), self.records.index(line, last))
                start = at + 1
        return selection

    def _width(self, at: int) -> int:
        column = self.columns[at]
        left = left_inset(at, column, TICK_ROOM if self._ticks else 0)
        sample = look.metrics("base", 600).horizontalAdvance(column.sample)
        wide = max(sample + (cell_width(Cell(), column) if column.marks else 0), title_width(column))
        if not column.slack:
            wide = max(wide, self._widest(at))
        elif column.whole:
            wide = max(wide, min(self._widest(at), look.metrics("base", 600).averageCharWidth() * _NAME))
        return left + wide + look.px(INSET) + 1

    def _widest(self, at: int) -> int:
        """The widest of the longest texts: measuring every one would take too long."""
        column = self.columns[at]
        cells = {_drawn(row.cells[at]): row.cells[at] for row in self.records.all_rows()}
        longest = sorted(cells.values(), key=lambda cell: _letters(cell, column), reverse=True)[:24]
        return max((cell_width(cell, column) for cell in longest), default=0)

    def make_room(self, sums: Mapping[str, str]) -> None:
        """Sums that stand under their columns need as much room as they are wide."""
        metrics, air = look.metrics("base", 600), look.px(INSET) * 2
        self._sums = {key: metrics.horizontalAdvance(value) + air for key, value in sums.items()}
        self._fit()

    def _fit(self) -> None:
        room, kept = self.viewport().width(), self.records.order[0] if self.records.order else -1
        sums = [self._sums.get(column.key, 0) for column in self.columns]
        natural = [max(wide, need) for wide, need in zip(self._natural, sums, strict=True)]
        widths = shared(self.columns, natural, room, kept)
        for at in range(len(self.columns)):
            if self.isColumnHidden(at) == (at in widths):
                self.setColumnHidden(at, at not in widths)
        for at, width in widths.items():
            self._head.resizeSection(at, width)
        gone = ", ".join(column.title for at, column in enumerate(self.columns) if at not in widths)
        self._head.setToolTip(f"No room here for: {gone}. The card shows what they say." if gone else "")

    def _hover(self, line: int) -> None:
        if line == self._delegate.hovered:
            return
        before, self._delegate.hovered = self._delegate.hovered, line
        for row in (before, line):
            if 0 <= row < self.records.rowCount():
                y = self.rowViewportPosition(row)
                self.viewport().update(0, y, self.viewport().width(), self.rowHeight(row))

    def _ringed(self) -> int:
        """The line the keys are on, where the tint of one chosen row does not say it already."""
        index = self.currentIndex()
        if not self.hasFocus() or not index.isValid():
            return -1
        ranges = self.selectionModel().selection()
        alone = ranges.count() == 1 and ranges.first().height() == 1 and ranges.first().top() == index.row()
        return -1 if alone else index.row()

    def paintEvent(self, event: QPaintEvent) -> None:
        self._delegate.focused = self._ringed()
        super().paintEvent(event)

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        self.viewport().update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        self._hover(self.rowAt(round(event.position().y())))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        index = self.indexAt(event.position().toPoint())
        if self._ticks and index.isValid() and self._on_tick(index, event.position().toPoint()):
            self.selectionModel().setCurrentIndex(index, _KEEP)
            self.selectionModel().select(index, QItemSelectionModel.SelectionFlag.Toggle | _WHOLE)
            return
        super().mousePressEvent(event)

    def _on_tick(self, index: QModelIndex, point: QPoint) -> bool:
        if index.column() != 0:
            return False
        return point.x() <= self.visualRect(index).left() + look.px(FIRST_INSET + TICK_ROOM - INSET)

    def tick_place(self, row_id: Hashable) -> QPoint | None:
        """The middle of a row's tick box in the viewport; None when the row is not shown."""
        line = self.records.line_of(row_id)
        if line is None or not self._ticks:
            return None
        return tick_rect(self.visualRect(self.records.index(line, 0))).center().toPoint()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._hover(-1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        index = self.currentIndex()
        plain = not event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        )
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and plain and self.records.rowCount():
            self.take_current()
            self._open(self.currentIndex() if self.currentIndex().isValid() else self.records.index(0, 0))
        elif event.key() == Qt.Key.Key_Space and index.isValid():
            self.selectionModel().select(index, QItemSelectionModel.SelectionFlag.Toggle | _WHOLE)
        elif plain and event.text().isprintable() and event.text().strip():
            self.typed.emit(event.text())
        else:
            super().keyPressEvent(event)
            if plain and event.key() in _WALKS:
                self.take_current()  # the only row there is: the key had nowhere to go

    def selectionCommand(
        self, index: Index, event: QEvent | None = None
    ) -> QItemSelectionModel.SelectionFlag:
        """Keys walk past ticks and leave them: the space bar, the tick and Shift change them."""
        if (
            self._ticks
            and isinstance(event, QKeyEvent)
            and not event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        ):
            return _KEEP
        return super().selectionCommand(index, event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self.records.rowCount():
            self.selectionModel().setCurrentIndex(self.records.index(0, 0), _KEEP)
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_head"):
            self.measure()


class _Kept:
    """Keeps choice, current row and scrolling by id over a reset of the model."""

    def __init__(self, table: RecordTable) -> None:
        self._table = table
        self._top: tuple[Hashable, int] | None = None
        self._current: Hashable | None = None

    def __enter__(self) -> None:
        table = self._table
        table._restoring = True  # noqa: SLF001  # one piece in two classes
        self._current = table.current_id()
        line = table.rowAt(0)
        if line > 0:
            self._top = (table.records.row_at(line).id, table.rowViewportPosition(line))

    def __exit__(self, *_error: object) -> None:
        table = self._table
        wanted = (table.records.line_of(row_id) for row_id in table._wanted)  # noqa: SLF001
        lines = sorted(line for line in wanted if line is not None)
        table.selectionModel().select(table._selection(lines), _SET)  # noqa: SLF001
        line = None if self._current is None else table.records.line_of(self._current)
        if line is not None:
            table.selectionModel().setCurrentIndex(table.records.index(line, 0), _KEEP)
        self._scroll()
        table._restoring = False  # noqa: SLF001
        kept = table._wanted  # noqa: SLF001
        table._tell()  # noqa: SLF001
        table._wanted = kept  # noqa: SLF001  # a row the filter hides is chosen again when it comes back

    def _scroll(self) -> None:
        if self._top is None:
            return
        line = self._table.records.line_of(self._top[0])
        if line is not None:
            bar = self._table.verticalScrollBar()
            self._table.updateGeometries()
            bar.setValue(line * self._table.rowHeight(line) - self._top[1])


def _drawn(cell: Cell) -> Hashable:
    """What the width of a cell depends on: equal cells are measured once."""
    return cell.text, cell.last, cell.second, cell.weight, cell.runs, cell.mark is None, not cell.disc


def _letters(cell: Cell, column: Column) -> int:
    if cell.runs:
        return sum(len(run.text) + 2 for run in cell.runs)
    before = 3 if column.marks or cell.mark or cell.disc else 0
    return max(len(cell.text) + len(cell.last) + before, len(cell.second))


__all__ = ["ID_ROLE", "RecordTable"]
