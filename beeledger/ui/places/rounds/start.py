"""What stands where no round is being typed: what to do first, and the sites where a visit is due."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal

from beeledger.base.text import counted
from beeledger.queries.due import SiteDue
from beeledger.rules.due import Grade
from beeledger.ui.widgets.cells import Align, Cell, Column, Row
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.record_table import RecordTable

COLUMNS = (
    Column("site", "Site", sample="Long Drove Corner"),
    Column("late", "Late", "days", sample="99 late", marks=True),
    Column("due", "Due", sample="999 / 999", align=Align.RIGHT),
    Column("why", "Why", sample="9 swarm check · 4 strips out · 2 light", slack=True),
)
FIRST = "Choose the site that was visited; the sheet of its hives opens. What is typed is kept at every key."


def start_row(line: SiteDue) -> Row:
    """A site where a visit is due."""
    late = line.late_days > 0
    due = (
        Cell(f"{line.late_days} late", "now", mark=Mark.LATE)
        if late
        else Cell("today", "watch", mark=Mark.TODAY)
    )
    cells = (
        Cell(line.site, weight=600),
        due,
        Cell(f"{line.colonies_due:,} / {line.colonies:,}"),
        Cell(line.words, "ink2", tip=line.words),
    )
    return Row(line.site_id, cells, (line.site, line.late_days, line.colonies_due, line.words))


class StartPane(Stack):
    """The empty place: a sentence, a button, and the sites due; Enter on one opens its round."""

    opened = Signal(int)

    def __init__(self, begin: Callable[[], None]) -> None:
        super().__init__()
        self.setObjectName("rounds.start")
        self.words = EmptyState("No round is being typed", FIRST, "New round (Ctrl N)", begin)
        self.table = RecordTable(COLUMNS, many=False)
        self.table.setObjectName("rounds.start.table")
        self.table.setAccessibleName("Sites where a visit is due, worst first")
        self.table.sort_by(None)
        self.add(self.words)
        self.add(self.table, 1)
        self.column.addStretch(0)
        self.table.hide()
        self.table.opened.connect(self._open)

    def offer(self, due: Sequence[SiteDue], *, sites: int) -> None:
        """The sites due; without any site at all, where to begin."""
        had_keys = self.words.button.hasFocus()
        lines = [line for line in due if line.grade is not Grade.SOON]
        self.table.set_rows([start_row(line) for line in lines])
        self.table.setVisible(bool(lines))
        if not sites:
            self.words.say(
                "No site yet", "Add a site with its hives under Sites; then its rounds are typed here.", ""
            )
        elif lines:
            where = f"A visit is due at {counted(len(lines), 'site')}, worst first; Enter opens its sheet."
            self.words.say("No round is being typed", f"{FIRST} {where}", "New round (Ctrl N)")
        else:
            self.words.say("No round is being typed", f"{FIRST} Nothing is due today.", "New round (Ctrl N)")
        if lines and not self.table.chosen():
            self.table.choose([lines[0].site_id])
        if had_keys:
            self.come()

    def come(self) -> None:
        """Take the keys: to the sites due, else to the button."""
        target = self.table if self.table.isVisible() else self.words.button
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _open(self, site_id: object) -> None:
        if isinstance(site_id, int):
            self.opened.emit(site_id)
