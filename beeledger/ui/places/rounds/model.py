"""The item model of the entry grid: a shop window on a sheet, its cells prepared when a line changes."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from beeledger.ui.places.rounds.cells import GridCell, cells_of, who_cells
from beeledger.ui.places.rounds.columns import GridColumn
from beeledger.ui.places.rounds.sheet import EVERY_ROW, Sheet

GRID_CELL_ROLE = Qt.ItemDataRole.UserRole + 1
WHO = (("st", "St", ""), ("hive", "Hive", ""), ("queen", "Queen", "mark"))
"""The columns at the left that are not typed into: key, title, second line."""
_Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()


class GridModel(QAbstractTableModel):
    """Rows are lines, columns who and then the entry's columns. ``data`` only looks up."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.sheet: Sheet | None = None
        self.columns: tuple[GridColumn, ...] = ()
        self.here = -1
        """The line that has the focus."""
        self._rows: list[tuple[GridCell, ...]] = []

    def show_sheet(self, sheet: Sheet | None) -> None:
        """Show another sheet, or none."""
        self.beginResetModel()
        if self.sheet is not None and self._heard in self.sheet.heard:
            self.sheet.heard.remove(self._heard)
        self.sheet = sheet
        self.here = -1
        if sheet is not None:
            sheet.heard.append(self._heard)
        self._make_all()
        self.endResetModel()

    def set_here(self, row: int) -> None:
        """Another line has the focus."""
        before, self.here = self.here, row
        for at in {before, row}:
            self._make(at)

    def column(self, at: int) -> GridColumn | None:
        """The entry's column at a place in the grid; None for those at the left."""
        return self.columns[at - len(WHO)] if at >= len(WHO) else None

    def widest(self, at: int) -> tuple[str, str]:
        """The widest last figure and the widest text of a column as the sheet now stands, by their length."""
        cells = [row[at] for row in self._rows]
        return (
            max((cell.last for cell in cells), key=len, default=""),
            max((cell.today for cell in cells), key=len, default=""),
        )

    def rowCount(self, parent: _Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: _Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(WHO) + len(self.columns)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        cell = self._rows[index.row()][index.column()]
        if role == GRID_CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.today or " ".join(run.text for run in cell.runs)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return cell.spoken or cell.today
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is not Qt.Orientation.Horizontal or role != Qt.ItemDataRole.DisplayRole:
            return None
        return WHO[section][1] if section < len(WHO) else self.columns[section - len(WHO)].title

    def flags(self, index: _Index) -> Qt.ItemFlag:
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable if index.isValid() else Qt.ItemFlag(0)

    def _heard(self, rows: frozenset[int]) -> None:
        if rows == EVERY_ROW:
            assert self.sheet is not None
            if len(self.sheet.lines) != len(self._rows) or self.sheet.columns != self.columns:
                self.beginResetModel()
                self._make_all()
                self.endResetModel()
                return
            rows = frozenset(range(len(self._rows)))
        for row in rows:
            self._make(row)

    def _make_all(self) -> None:
        self.columns = self.sheet.columns if self.sheet else ()
        self._rows = [self._made(row) for row in range(len(self.sheet.lines))] if self.sheet else []

    def _make(self, row: int) -> None:
        if not 0 <= row < len(self._rows):
            return
        made = self._made(row)
        if made != self._rows[row]:
            self._rows[row] = made
            self.dataChanged.emit(self.index(row, 0), self.index(row, self.columnCount() - 1))

    def _made(self, row: int) -> tuple[GridCell, ...]:
        sheet = self.sheet
        assert sheet is not None
        line, hive = sheet.lines[row], sheet.hive(row)
        who = who_cells(row, line, hive)
        cells = cells_of(line, sheet.views[row], hive, sheet.columns, sheet.habits, here=row == self.here)
        return (who.stand, who.hive, who.queen, *cells)
