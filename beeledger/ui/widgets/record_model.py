"""The item model of a record table: a shop window of ready rows. ``data`` only looks up."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from beeledger.base.text import folded
from beeledger.ui.widgets.cells import BLANK, Cell, Column, Row

CELL_ROLE = Qt.ItemDataRole.UserRole + 1
ID_ROLE = Qt.ItemDataRole.UserRole + 2

Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()


class RecordModel(QAbstractTableModel):
    """Rows of ready cells, filtered and sorted here: sorting proxies are slow at size."""

    def __init__(self, columns: Sequence[Column]) -> None:
        super().__init__()
        self.columns = tuple(columns)
        self._rows: list[Row] = []
        self._hay: list[str] = []
        self._shown: list[int] = []
        self._place: dict[Hashable, int] = {}
        self._words = ""
        self._keep: Callable[[Row], bool] | None = None
        self._sorted: tuple[int, bool] | None = None

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Take new rows; filter and order stay as they were. ValueError when a row has the wrong width."""
        for row in rows:
            if len(row.cells) != len(self.columns):
                raise ValueError(f"row {row.id!r} has {len(row.cells)} cells for {len(self.columns)} columns")
        self.beginResetModel()
        self._rows = list(rows)
        self._hay = [_plain(row.haystack()) for row in self._rows]
        self._arrange()
        self.endResetModel()

    def set_filter(self, words: str, keep: Callable[[Row], bool] | None) -> None:
        """Show the rows that have all the words (a lone "or" parts alternatives) and pass ``keep``."""
        self.beginResetModel()
        self._words = _plain(words)
        self._keep = keep
        self._arrange()
        self.endResetModel()

    @property
    def order(self) -> tuple[int, bool] | None:
        """The sorted column and whether it descends; None in the order the rows came in."""
        return self._sorted

    def set_order(self, order: tuple[int, bool] | None) -> None:
        """Sort by a column; a key of None stays at the end either way."""
        self.beginResetModel()
        self._sorted = order
        self._arrange()
        self.endResetModel()

    def rows_shown(self) -> list[Row]:
        """The rows in view, in order."""
        return [self._rows[at] for at in self._shown]

    def all_rows(self) -> list[Row]:
        """All rows, filtered or not, in the order they came in."""
        return list(self._rows)

    def row_at(self, line: int) -> Row:
        """The row on a visible line."""
        return self._rows[self._shown[line]]

    def line_of(self, row_id: Hashable) -> int | None:
        """The visible line of a row; None when it is filtered away or gone."""
        return self._place.get(row_id)

    def rowCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self._shown)

    def columnCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row = self._rows[self._shown[index.row()]]
        if role == ID_ROLE:
            return row.id
        cell = row.cells[index.column()]
        if role == CELL_ROLE:
            return cell
        return _plain_data(cell, role)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return f"{column.title} {column.unit}".strip()
        return None

    def _arrange(self) -> None:
        chosen = _matching(self._hay, self._words)
        if self._keep is not None:
            keep, rows = self._keep, self._rows
            chosen = [at for at in chosen if keep(rows[at])]
        self._shown = self._in_order(chosen)
        self._place = {self._rows[at].id: line for line, at in enumerate(self._shown)}

    def _in_order(self, chosen: list[int]) -> list[int]:
        if self._sorted is None:
            return chosen
        column, descending = self._sorted
        keys = {at: _key(self._rows[at], column) for at in chosen}
        known = [at for at in chosen if keys[at] is not None]
        unknown = [at for at in chosen if keys[at] is None]
        known.sort(key=lambda at: keys[at], reverse=descending)
        return known + unknown


def _plain_data(cell: Cell, role: int) -> Any:
    if role == Qt.ItemDataRole.DisplayRole:
        return cell.text
    if role == Qt.ItemDataRole.AccessibleTextRole:
        return cell.said()
    return None


def _matching(hay: Sequence[str], words: str) -> list[int]:
    if not words.strip():
        return list(range(len(hay)))
    ways = [way.split() for way in f" {words} ".split(" or ")]
    asked = [way for way in ways if way]
    return [at for at, text in enumerate(hay) if any(all(word in text for word in way) for way in asked)]


def _key(row: Row, column: int) -> Any:
    if row.sort:
        return row.sort[column]
    cell: Cell = row.cells[column] if column < len(row.cells) else BLANK
    return _plain(cell.text) or None


def _plain(text: str) -> str:
    return text.casefold() if text.isascii() else folded(text)
