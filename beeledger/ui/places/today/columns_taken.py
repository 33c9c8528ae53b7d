"""The columns of an old spreadsheet: what each is taken for, why, and a choice to set it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from beeledger.ui.widgets.cells import Cell, Column, Row
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import Words

if TYPE_CHECKING:
    from beeledger.exchange.register.choosing import ColumnTaken

COLUMNS = (
    Column("sheet", "Sheet", sample="Register 2026"),
    Column("column", "Column", sample="AA"),
    Column("heading", "Heading", sample="Last looked at", slack=True),
    Column("samples", "Holds", sample="National, WBC, Smith", slack=True),
    Column("field", "Taken for", sample="grid reference of its site"),
    Column("why", "Why", sample="a guess: by what stands in its rows", slack=True),
)


class ColumnsTaken(Stack):
    """One row a column; the choice beneath sets the row that is current."""

    def __init__(self, set_to: Callable[[ColumnTaken, str], None]) -> None:
        super().__init__()
        self._set_to = set_to
        self.taken: tuple[ColumnTaken, ...] = ()
        self.table = RecordTable(COLUMNS, many=False)
        self.table.setObjectName("today.spreadsheet.columns")
        self.choice = Choice()
        self.choice.setObjectName("today.spreadsheet.taken_for")
        self.add(self.table, 1)
        self.add(Band(Words("The column is", role="small", ink="ink2"), right=[self.choice]))
        self.table.chosen_changed.connect(lambda _ids: self._offer())
        self.choice.activated.connect(lambda _at: self._chosen())

    def show_columns(self, taken: tuple[ColumnTaken, ...]) -> None:
        """Show what the columns were taken for."""
        from beeledger.exchange.register.choosing import fields_of

        self.taken = taken
        self.table.set_rows(
            [
                Row(
                    at,
                    (
                        Cell(one.sheet, "ink2"), Cell(one.column), Cell(one.heading), Cell(", ".join(one.samples), "ink2"),
                        Cell(fields_of(one.kind).get(one.field, "not taken in"), "ink" if one.field else "ink3"),
                        Cell(f"{one.sure}: {one.why}" if one.sure else "", "ink2"),
                    ),
                )
                for at, one in enumerate(taken)
            ]
        )  # fmt: skip
        self._offer()

    def _current(self) -> ColumnTaken | None:
        at = next(iter(self.table.chosen()), 0)
        return self.taken[at] if isinstance(at, int) and at < len(self.taken) else None

    def _offer(self) -> None:
        from beeledger.exchange.register.choosing import fields_of

        one = self._current()
        if one is not None:
            self.choice.set_options([("", "not taken in"), *fields_of(one.kind).items()])
            self.choice.setCurrentIndex(max(0, self.choice.findData(one.field)))

    def _chosen(self) -> None:
        one = self._current()
        if one is not None and self.choice.key() != one.field:
            self._set_to(one, self.choice.key())
