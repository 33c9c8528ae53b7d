"""An old spreadsheet shown before it is written: what was read, what was left out and why."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.base.text import counted, listed
from beeledger.operations.act import Done
from beeledger.queries.farm import farm_settings
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.places.today.columns_taken import ColumnsTaken
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Cell, Column, Row, Run
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import Words

if TYPE_CHECKING:
    from beeledger.exchange.register import RegisterReading
    from beeledger.exchange.register.choosing import ColumnTaken
    from beeledger.operations.imports import Register

PATTERN = "Spreadsheets (*.xlsx *.csv *.tsv *.txt)"
COLUMNS = (
    Column("sheet", "Sheet", sample="Register 2026"),
    Column("row", "Row", sample="9999"),
    Column("column", "Column", sample="Queen"),
    Column("what", "What was found", sample="0 is not a year", marks=True, slack=True),
    Column("mend", "How to mend it", sample="Write the year", slack=True),
)
_MARKS = {
    Grade.REFUSED: Mark.CANNOT, Grade.AGAINST: Mark.AGAINST, Grade.DOUBTFUL: Mark.ODD, Grade.NOTED: Mark.ADVICE,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Read:
    """A file as it was read, ready to be written."""

    name: str
    reading: RegisterReading
    register: Register
    living: Register
    """The same with those alive of which a comment says that they are dead."""


class SpreadsheetPane(Stack):
    """The findings of a reading in a table; one button writes all that could be read as one act."""

    shown = Signal()
    """A file was read and is to be looked at."""

    def __init__(self, desk: Desk, closed: Callable[[], None], written: Callable[[Done], None]) -> None:
        super().__init__()
        self.setObjectName("today.spreadsheet")
        self._desk = desk
        self._closed = closed
        self._written = written
        self.read: Read | None = None
        self._path: Path | None = None
        self.title = Words("", weight=600)
        self.table = RecordTable(COLUMNS)
        self.table.setObjectName("today.spreadsheet.table")
        self.write = Button("Bring it in", self.bring_in, kind="main")
        self.foot = ActFoot(Button("Cancel", closed), self.write)
        self.gone = Button("", self._turn_gone, kind="quiet")
        self.gone.setObjectName("today.spreadsheet.gone")
        self.alive = False
        self.add(Band(self.title, right=[self.gone]))
        self.columns = ColumnsTaken(self._set_column)
        self.add(self.columns, 1)
        self.add(self.table, 1)
        self.add(self.foot)
        self.setFocusProxy(self.table)
        for keys, act in (("Ctrl+Return", self.bring_in), ("Escape", closed)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(act)

    def choose_file(self) -> None:
        """Ask for the file and read it."""
        self._desk.ask_file("Read an old spreadsheet", PATTERN, self._chosen)

    def bring_in(self) -> None:
        """Write what was read."""
        if self.read is not None and self.write.isEnabled():
            self.write.off("Being written")
            register = self.read.living if self.alive else self.read.register
            from beeledger.operations.imports import import_register

            self._desk.act(import_register, register, owner=self, then=self._written, refused=self._refused)

    def show_read(self, read: Read) -> None:
        """Show what was read."""
        self.read = read
        reading = read.reading
        self.alive = False
        self._say_gone()
        self.title.setText(read.name)
        self.columns.show_columns(reading.columns)
        self.table.set_rows(finding_rows(reading.findings))
        what = read_words(reading)
        self.write.setText(f"Bring in {what}")
        self.foot.say(
            [Run(f"{what} can be read", "ink", 600)], [Run(left_words(reading.findings), small=True)]
        )
        if reading.sites or reading.colonies or reading.looks or reading.queens:
            self.write.on()
        else:
            self.write.off("Nothing in this file could be read")
        self.shown.emit()

    def _set_column(self, column: ColumnTaken, field: str) -> None:
        """Remember what a column is for every table with these headings, and read the file again."""
        kept = self._desk.settings.column_choices
        of_table = {**kept.get(column.table, {}), column.key: field}
        self._desk.change_settings(column_choices={**kept, column.table: of_table})
        self._chosen(self._path)

    def _turn_gone(self) -> None:
        self.alive = not self.alive
        self._say_gone()

    def _say_gone(self) -> None:
        """How hives come in of which a comment says that they are dead; pressing it says the other."""
        gone = sum(bool(row.gone) for row in self.read.reading.colonies) if self.read else 0
        self.gone.setVisible(gone > 0)
        how = f"{'comes' if gone == 1 else 'come'} in {'alive' if self.alive else 'as ended'}"
        self.gone.setText(f"{counted(gone, 'hive')} said dead: {how}")
        self.gone.setToolTip("Press to bring them in the other way")

    def _chosen(self, path: Path | None) -> None:
        if path is None:
            return
        desk, today = self._desk, self._desk.clock.today()
        self._path, chosen = path, dict(desk.settings.column_choices)

        def work(job: Job) -> Read:
            from beeledger.exchange.register import read_register, to_register  # spreadsheets are seldom read

            job.progress(0, 2)
            reading = read_register(path, today, chosen)
            job.progress(1, 2)
            with desk.ledger.read() as session:
                farm = farm_settings(session)
            dead, living = (
                to_register(reading, path.name, farm, all_live=all_live) for all_live in (False, True)
            )
            return Read(path.name, reading, dead, living)

        desk.run(f"Reading {path.name}", work, owner=self, then=self.show_read)

    def _refused(self, refusal: Refused) -> None:
        self.table.set_rows(finding_rows(refusal.findings))
        rows = {(one.where.sheet, one.where.row) for one in refusal.findings}
        held = counted(len(rows), "row")
        self.foot.say(
            [Run(f"Nothing was written: {held} cannot be as they are", "now", 600, mark=Mark.CANNOT)],
            [Run("Mend them in the spreadsheet and read it again", small=True)],
        )
        self.write.off("Mend the spreadsheet first")


def read_words(reading: RegisterReading) -> str:
    """What can be read, counted: "2 sites and 14 hives", old looks and queens where there are any."""
    more = [(len(reading.looks), "look"), (len(reading.queens), "queen")]
    parts = [counted(len(reading.sites), "site"), counted(len(reading.colonies), "hive")]
    return listed([*parts, *(counted(number, name) for number, name in more if number)])


def finding_rows(findings: tuple[Finding, ...] | list[Finding]) -> list[Row]:
    """Findings as rows, the gravest first."""
    order = list(Grade)
    ordered = sorted(enumerate(findings), key=lambda pair: (order.index(pair[1].grade), pair[0]))
    return [
        Row(
            at,
            (
                Cell(one.where.sheet, "ink2"),
                Cell("" if one.where.row is None else str(one.where.row)),
                Cell(one.where.column or one.where.field, "ink2"),
                Cell(one.what, "now" if one.grade is Grade.REFUSED else "ink", mark=_MARKS[one.grade]),
                Cell(one.mend, "ink2"),
            ),
            (one.where.sheet, one.where.row, one.where.column, order.index(one.grade), one.mend),
        )
        for at, one in ordered
    ]


def left_words(findings: tuple[Finding, ...] | list[Finding]) -> str:
    """How many rows were left out, and how many want a look."""
    refused = sum(one.grade is Grade.REFUSED for one in findings)
    doubtful = sum(one.grade in (Grade.DOUBTFUL, Grade.AGAINST) for one in findings)
    left = f"{counted(refused, 'row')} left out" if refused else "no row left out"
    return f"{left}, {doubtful} to look at" if doubtful else left
