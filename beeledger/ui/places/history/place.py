"""History: every act with who and when, what it changed, its undo, and what stands on it.

Reads: queries.acts.acts, queries.acts.changes_of
Acts: operations.undo.undo
Prints: nothing
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import ClassVar
from zoneinfo import ZoneInfo

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QVBoxLayout

from beeledger.base.dates import weekday
from beeledger.queries.acts import ActLine, RowChange, acts, changes_of
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.place import Place
from beeledger.ui.places.history.card import HistoryCard
from beeledger.ui.widgets.cells import Cell, Column, Row, Run
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable

COLUMNS = (
    Column("number", "Act", sample="99,999"),
    Column("day", "Day", sample="Wed 30 Sep"),
    Column("time", "Time", sample="23:59"),
    Column("who", "Who", sample="office manager"),
    Column("sentence", "What was done", slack=True),
    Column("state", "State", sample="taken back"),
)


class Here(Place):
    """The acts of the farm, newest first."""

    key: ClassVar[str] = "history"
    title: ClassVar[str] = "History"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, ActLine] = {}
        self.filter = FilterBox("What, who or which act")
        self.filter.setObjectName("history.filter")
        self.table = RecordTable(COLUMNS)
        self.table.setObjectName("history.table")
        self.foot = TableFoot()
        self.card = HistoryCard(self._undo)
        left = Stack(Band(self.filter), self.table, self.foot)
        left.column.setStretchFactor(self.table, 1)
        panes = Panes(left, self.card)
        panes.share(860, 400)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(panes)
        self.filter.listen(self)
        self.filter.words_changed.connect(lambda _words: self.refresh())
        self.table.typed.connect(self.filter.take)
        self.table.chosen_changed.connect(self._chosen)
        self.setFocusProxy(self.table)

    def refresh(self) -> None:
        """Read the newest acts that fit the filter."""
        self.desk.read(acts, self.filter.text(), owner=self, then=self._show, key="acts")

    def show_what(self, what: object) -> None:
        """Choose an act by its number."""
        if isinstance(what, int):
            self.table.choose([what])

    def commands(self) -> list[QAction]:
        """The one act of this place."""
        action = QAction("take back the chosen act", self)
        action.setShortcut(QKeySequence("Ctrl+Z"))
        return [action]

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Every act of every desk, newest first. An act can be taken back while nothing later stands on what it "
            "changed; taking back is an act of its own and can be taken back too.</p>"
        )

    def _show(self, lines: list[ActLine]) -> None:
        self.lines = {line.id: line for line in lines}
        self.table.set_rows([_row(line) for line in lines])
        if lines and not self.table.chosen():
            self.table.choose([lines[0].id])
        self.foot.say([Run(f"{len(lines):,} acts shown", "ink", 600)])
        self.set_subtitle(f"newest first, {len(lines):,} shown")

    def _chosen(self, ids: list[Hashable]) -> None:
        line = self.lines.get(int(str(ids[-1]))) if ids else None
        if line is None:
            return

        def filled(found: tuple[int, list[RowChange]]) -> None:
            self.card.show_act(line, *found)

        self.desk.read(changes_of, line.id, owner=self, then=filled, key="changes")

    def _undo(self, act_id: int) -> None:
        self.desk.undo(act_id)


def _row(line: ActLine) -> Row:
    local = line.at.astimezone(ZoneInfo(line.zone))
    back = line.taken_back_by is not None
    ink = "ink3" if back else "ink"
    state = "taken back" if back else ""
    cells = (
        Cell(f"{line.id:,}", "ink2"),
        Cell(weekday(line.on), "ink2"),
        Cell(f"{local:%H:%M}", "ink2"),
        Cell(line.who, "ink2"),
        Cell(line.sentence, ink),  # type: ignore[arg-type]  # one of the ink tokens
        Cell(state, "ink2"),
    )
    return Row(line.id, cells, (line.id, line.at, line.at, line.who, line.sentence, state))
