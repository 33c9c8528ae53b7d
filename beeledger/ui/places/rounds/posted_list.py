"""The rounds that were posted, newest first: which one is to be corrected."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.queries.records.round_desk import PostedRound
from beeledger.ui.widgets.cells import Align, Cell, Column, Row, Run
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import Words

MOST = 3000
"""How many are listed; older ones are reached from their hive's visits or from History."""
COLUMNS = (
    Column("day", "Day", sample="30 Sep 2026"),
    Column("site", "Site", sample="Long Drove Corner", slack=True),
    Column("hives", "Hives", sample="99", align=Align.RIGHT),
    Column("crew", "Crew", sample="AB, CD, EF"),
    Column("source", "Came from", sample="an import"),
)
_SOURCES = {
    "typed": "typed",
    "workbook": "a workbook",
    "scan": "a scan",
    "import": "an import",
    "sample": "the sample farm",
}


def posted_row(one: PostedRound) -> Row:
    """A posted round as it stands in the list."""
    imported = one.source == "import"
    return Row(
        one.round_id,
        (
            Cell(long(one.on)),
            Cell(one.site, weight=600),
            Cell(f"{one.hives:,}"),
            Cell(one.crew, "ink2"),
            Cell(_SOURCES.get(one.source, one.source), "ink3" if imported else "ink2"),
        ),
        sort=(one.on, one.site, one.hives, one.crew, one.source),
    )


class PostedRounds(Stack):
    """The list with its filter; Enter opens the round on the line."""

    opened = Signal(int)
    cancelled = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rounds.posted_list")
        self.filter = FilterBox("Site, day or crew", width=280)
        self.filter.setObjectName("rounds.posted_list.filter")
        self.table = RecordTable(COLUMNS, many=False)
        self.table.setObjectName("rounds.posted_list.table")
        self.table.setAccessibleName("Posted rounds, newest first")
        self.foot = TableFoot()
        band = Band(Words("Which round is to be corrected?", weight=600), self.filter)
        band.air()
        band.add(Words("Enter opens it, Esc leaves", role="small", ink="ink2"))
        for piece in (band, self.table, self.foot):
            self.add(piece)
        self.column.setStretchFactor(self.table, 1)
        self.filter.bind(self.table)
        self.filter.listen(self)
        self.filter.returnPressed.connect(self._open_first)
        self.table.opened.connect(self._open)
        self.table.shown_changed.connect(self._count)

    def begin(self, rounds: Sequence[PostedRound], site: str = "") -> None:
        """Show them, those of one site first if there is one in front."""
        self.table.set_rows([posted_row(one) for one in rounds])
        self.filter.setText(site if any(one.site == site for one in rounds) else "")
        self._choose_first()

    def come(self) -> None:
        """Take the keys."""
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the list."""
        if event.key() == Qt.Key.Key_Escape:
            self.cancelled.emit()
        else:
            super().keyPressEvent(event)

    def _choose_first(self) -> None:
        if self.table.records.rowCount():
            self.table.choose([self.table.records.row_at(0).id])

    def _open_first(self) -> None:
        """Enter in the filter opens the newest that fits it."""
        if self.table.records.rowCount():
            self._open(self.table.records.row_at(0).id)

    def _open(self, round_id: object) -> None:
        if isinstance(round_id, int):
            self.opened.emit(round_id)

    def _count(self, shown: int, there: int) -> None:
        more = ", the newest; older ones open from a hive’s visits" if there >= MOST else ""
        self.foot.say([Run(counted(shown, "round"), "ink", 600), Run(f"of {there:,}{more}")])
