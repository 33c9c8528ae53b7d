"""The entry grid: a table that is typed into cell by cell, with the focus ring only while it has the keys."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QItemSelection, QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QFocusEvent, QGuiApplication, QKeyEvent, QKeySequence, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QTableView

from beeledger.base.units import MINUS
from beeledger.ui.places.rounds.columns import GridColumn
from beeledger.ui.places.rounds.doing import clear, set_cell
from beeledger.ui.places.rounds.keys import command_of
from beeledger.ui.places.rounds.model import WHO, GridModel
from beeledger.ui.places.rounds.painting import MARGIN_LEAST, GridDelegate, GridHead, cell_need, section_width
from beeledger.ui.places.rounds.paste import paste_block, rows_as_text
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.places.rounds.state import Line
from beeledger.ui.widgets import look

_STEPS = {
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_PageUp: (-10, 0),
    Qt.Key.Key_PageDown: (10, 0),
}


class EntryGrid(QTableView):
    """Digits go straight in; Enter goes down or right; Del clears; commands go to the pane."""

    commanded = Signal(str)
    row_changed = Signal(int)
    said = Signal(str)
    """What is wrong with what is being typed; empty when nothing is."""
    question_asked = Signal(int, str)
    took_focus = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.cells = GridModel(self)
        self.enter_goes = "down"
        self.locked = False
        """Nothing is typed while the round is being posted."""
        self._painter = GridDelegate(self.cells, self)
        self._before: Line | None = None
        self._anchor = 0
        self._dress()
        self.setModel(self.cells)
        self.setItemDelegate(self._painter)
        head = GridHead(self.cells, self)
        self.setHorizontalHeader(head)
        self.cells.modelReset.connect(self.fit)
        self.cells.dataChanged.connect(self._grown)
        self.selectionModel().currentChanged.connect(self._moved)

    @property
    def row(self) -> int:
        """The line that the keys go to."""
        return self.currentIndex().row()

    @property
    def column(self) -> GridColumn | None:
        """The column under the keys; None at the left."""
        return self.cells.column(self.currentIndex().column()) if self.currentIndex().isValid() else None

    @property
    def typing(self) -> str | None:
        """What is being typed into the cell and cannot be taken or is not left yet."""
        return self._painter.typing

    def show_sheet(self, sheet: Sheet | None, row: int = 0) -> None:
        """Show another sheet, at a line."""
        self._painter.typing, self._painter.problem = None, ""
        self.cells.show_sheet(sheet)
        if sheet is not None:
            self.go(row, len(WHO))

    def go(self, row: int, at: int | None = None) -> None:
        """To a line, in the same column or another."""
        if not self.cells.rowCount():
            return
        kept = self.currentIndex().column() if at is None else at
        row = max(0, min(self.cells.rowCount() - 1, row))
        at = max(len(WHO), min(self.cells.columnCount() - 1, kept))
        self._anchor = row
        self.selectionModel().setCurrentIndex(
            self.cells.index(row, at), QItemSelectionModel.SelectionFlag.NoUpdate
        )
        if self.selectionModel().hasSelection():
            self.selectionModel().clearSelection()
        self._follow(row)

    def go_to_field(self, row: int, field: str) -> None:
        """To the cell of a field."""
        places = [at for at, column in enumerate(self.cells.columns) if field in column.fields]
        self.go(row, len(WHO) + (places[0] if places else len(self.cells.columns) - 1))

    def stretch(self) -> range:
        """The lines chosen; the one under the keys when none are."""
        rows = sorted({index.row() for index in self.selectionModel().selectedIndexes()})
        return range(rows[0], rows[-1] + 1) if rows else range(self.row, self.row + 1)

    def extend(self, step: int) -> None:
        """Choose a line more or less, from where the choosing began."""
        row = max(0, min(self.cells.rowCount() - 1, self.row + step))
        at = self.currentIndex().column()
        first, last = sorted((self._anchor, row))
        chosen = QItemSelection(
            self.cells.index(first, 0), self.cells.index(last, self.cells.columnCount() - 1)
        )
        flags = QItemSelectionModel.SelectionFlag
        self.selectionModel().setCurrentIndex(self.cells.index(row, at), flags.NoUpdate)
        self.selectionModel().select(chosen, flags.ClearAndSelect)
        self._follow(row)

    def wanted_width(self) -> int:
        """How wide the grid is with all its columns in view."""
        return sum(section_width(self.cells, at) for at in range(self.cells.columnCount())) + look.px(10)

    def fit(self) -> None:
        """Widths from the widest expected values; the margin takes the slack."""
        self.verticalHeader().setDefaultSectionSize(look.row_height(grid=True))
        last = self.cells.columnCount() - 1
        if last < 0:
            return
        widths = [section_width(self.cells, at) for at in range(last)]
        for at, width in enumerate(widths):
            self.setColumnWidth(at, width)
        self.setColumnWidth(last, max(look.px(MARGIN_LEAST), self.viewport().width() - sum(widths)))

    def resume(self, cell: object) -> None:
        """Go on with what stood half typed in a cell when the draft was kept: its column and text."""
        if not isinstance(cell, list) or len(cell) != 2:
            return
        keys = [column.key for column in self.cells.columns]
        if cell[0] in keys:
            self.go(self.row, len(WHO) + keys.index(cell[0]))
            self._type(str(cell[1]))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        name = command_of(event)
        if self.locked:
            event.ignore()
        elif name:
            self._settle()
            self.commanded.emit(name)
        elif event.matches(QKeySequence.StandardKey.Paste):
            self._paste()
        elif event.matches(QKeySequence.StandardKey.Copy):
            self._copy()
        elif not self._walked(event) and not self._edited(event):
            event.ignore()

    def event(self, event: QEvent) -> bool:
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and command_of(event)
        ):
            event.accept()
            return True
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.took_focus.emit()
        self._ring()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._settle()
        super().focusOutEvent(event)
        self._ring()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._settle()
        index = self.indexAt(event.position().toPoint())
        if index.isValid():
            self.go(index.row(), index.column())
        self.setFocus(Qt.FocusReason.MouseFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "cells"):
            self.fit()

    def _walked(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._enter(back=shift)
        elif key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
            self._along(-1 if key == Qt.Key.Key_Backtab else 1)
        elif key in _STEPS and shift and _STEPS[key][0]:
            self._settle()
            self.extend(_STEPS[key][0])
        elif key in _STEPS:
            if self._settle():
                down, right = _STEPS[key]
                self.go(self.row + down, self.currentIndex().column() + right)
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self._settle()
            self.go(self.row, len(WHO) if key == Qt.Key.Key_Home else self.cells.columnCount() - 1)
        else:
            return False
        return True

    def _enter(self, *, back: bool) -> None:
        if not self._settle():
            return
        if self.enter_goes == "down":
            self._down(-1 if back else 1)
        else:
            self._along(-1 if back else 1)

    def _down(self, step: int) -> None:
        """To the next cell of the column, and from the last to the first of the next column."""
        row, at = self.row + step, self.currentIndex().column()
        if row >= self.cells.rowCount() and at + 1 < self.cells.columnCount():
            row, at = 0, at + 1
        self.go(row, at)

    def _along(self, step: int) -> None:
        """To the next cell of the line, and from the last to the first of the next line."""
        if not self._settle():
            return
        row, at = self.row, self.currentIndex().column() + step
        if at >= self.cells.columnCount():
            row, at = row + 1, len(WHO)
        elif at < len(WHO):
            row, at = row - 1, self.cells.columnCount() - 1
        if 0 <= row < self.cells.rowCount():
            self.go(row, at)

    def _edited(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        text = event.text()
        if key == Qt.Key.Key_Delete or (key == Qt.Key.Key_Backspace and self.typing is None):
            self._clear()
        elif key == Qt.Key.Key_Escape and self.typing is not None:
            self._take_back()
        elif key == Qt.Key.Key_Backspace:
            self._type((self.typing or "")[:-1])
        elif text == "/" and self.typing is None and (self.column is None or self.column.key != "rest"):
            self.commanded.emit("find")
        elif text == "?" and (self.column is None or self.column.key != "rest"):
            self._ask()
        elif text.isprintable() and text and self.column is not None:
            self._type((self.typing or "") + text)
        else:
            return False
        return True

    def _type(self, text: str) -> None:
        """The cell's text after a key: taken at once when it can be read."""
        sheet, column = self.cells.sheet, self.column
        if sheet is None or column is None:
            return
        if self.typing is None:
            sheet.pause()
            self._before = sheet.lines[self.row]
        self._painter.typing = text
        self._painter.problem = set_cell(sheet, self.row, column, text.replace(MINUS, "-"), self._before)
        if self._painter.problem:  # what cannot be read yet is kept too
            sheet.place["cell"] = [column.key, text]
            sheet.keep()
        else:
            sheet.place.pop("cell", None)
        self.said.emit(self._painter.problem)
        self.update(self.currentIndex())

    def _settle(self) -> bool:
        """End the typing in the cell; False when what stands there cannot be read."""
        if self.typing is None:
            return True
        if self._painter.problem:
            self.said.emit(self._painter.problem)
            return False
        self._stop_typing()
        if self.cells.sheet is not None:
            self.cells.sheet.pause()
        return True

    def _stop_typing(self) -> None:
        self._painter.typing = None
        self._painter.problem = ""
        if self.cells.sheet is not None:
            self.cells.sheet.place.pop("cell", None)
        self.said.emit("")
        self.update(self.currentIndex())

    def _take_back(self) -> None:
        if self.cells.sheet is not None and self._before is not None:
            self.cells.sheet.put({self.row: self._before}, self.row, "")
        self._stop_typing()

    def _clear(self) -> None:
        self._stop_typing()
        sheet, column = self.cells.sheet, self.column
        if sheet is not None and column is not None:
            clear(sheet, [(row, column) for row in self.stretch()])

    def _ask(self) -> None:
        """Keep the line for the crew, asking about this cell."""
        if self._settle() and self.column is not None:
            sheet = self.cells.sheet
            value = self.column.show(sheet.lines[self.row].typed, sheet.habits) if sheet else ""
            self.question_asked.emit(self.row, f"{self.column.title.lower()} {value}".strip() + "?")

    def _paste(self) -> None:
        sheet = self.cells.sheet
        text = QGuiApplication.clipboard().text()
        if sheet is None or not text or self.column is None:
            return
        self._settle()
        problems = paste_block(sheet, self.row, self.cells.columns.index(self.column), text)
        self.said.emit(problems[0] if problems else "")

    def _copy(self) -> None:
        if self.cells.sheet is not None:
            QGuiApplication.clipboard().setText(rows_as_text(self.cells.sheet, self.stretch()))

    def _grown(self, first: QModelIndex, _last: QModelIndex) -> None:
        """A figure wider than was expected makes its column wider: figures are never cut."""
        for at in range(self.cells.columnCount() - 1):
            if self.columnWidth(at) < cell_need(self.cells, first.row(), at):
                self.fit()
                return

    def _moved(self, now: QModelIndex, before: QModelIndex) -> None:
        self._ring()
        self._repaint(before.row())
        if now.row() != before.row():
            self.cells.set_here(now.row())
            self.row_changed.emit(now.row())

    def _ring(self) -> None:
        index = self.currentIndex()
        self._painter.row = index.row()
        self._painter.focused = (index.row(), index.column()) if self.hasFocus() and index.isValid() else None
        self._repaint(index.row())

    def _repaint(self, row: int) -> None:
        """Only one line: a key never paints the whole grid anew."""
        high = self.rowHeight(row) if row >= 0 else 0
        if high:
            self.viewport().update(0, self.rowViewportPosition(row), self.viewport().width(), high)

    def _follow(self, row: int) -> None:
        self.scrollTo(self.cells.index(row, 0), QAbstractItemView.ScrollHint.EnsureVisible)

    def _dress(self) -> None:
        self.setObjectName("rounds.grid")
        self.setAccessibleName("Entry grid")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(look.px(12))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
