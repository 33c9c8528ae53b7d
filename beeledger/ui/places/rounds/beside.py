"""What stands at the right of the grid: the list of marks, and what a workbook that was read left unclear."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from beeledger.base.findings import Finding, Grade
from beeledger.base.text import counted
from beeledger.ui.places.rounds.cells import MARK_OF
from beeledger.ui.places.rounds.marks_panel import MarksPanel
from beeledger.ui.places.rounds.scan_panel import ScanPanel
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.words import Words

READ = "read"
"""In a draft's place: what the reading of its workbook found."""
WIDTH = 380
_FIRST_LETTER = 1


def kept_findings(findings: Sequence[Finding], hives: dict[int, str]) -> list[dict[str, str]]:
    """Findings as a draft keeps them, gravest first; ``hives`` are the marks by row of the workbook."""
    order = list(Grade)
    found = sorted(findings, key=lambda one: order.index(one.grade))
    return [
        {
            "grade": str(one.grade), "what": one.what, "mend": one.mend, "where": one.where.words(),
            "hive": hives.get(one.where.row or 0, ""),
        }
        for one in found
    ]  # fmt: skip


def reading_facts(kept: Sequence[dict[str, str]]) -> list[Fact]:
    """Each with its place in the workbook; one that belongs to a hive leads to its line."""
    facts = []
    for number, one in enumerate(kept):
        said = one["what"][:_FIRST_LETTER].upper() + one["what"][_FIRST_LETTER:]
        place = ". ".join(part for part in (one["where"], one["mend"]) if part)
        key = (number, one["hive"]) if one["hive"] else None
        facts.append(Fact(said, mark=MARK_OF[Grade(one["grade"])], second=place, key=key))
    return facts


class ReadingList(Stack):
    """All that was found in reading a workbook, until it is put away."""

    went = Signal(str)
    """The hive of the line that was chosen."""
    done = Signal()
    """It was looked through and is put away."""
    left = Signal()
    """Escape: the typing goes on and the list stays."""

    def __init__(self) -> None:
        super().__init__(ground="sunk")
        self.setObjectName("rounds.reading")
        self.title = Words("", weight=600)
        self.title_word = "workbook"
        self.close_it = Button("Looked through", self.done.emit, kind="quiet")
        self.close_it.setObjectName("rounds.reading.done")
        self.rows = FactRows(marks=True)
        self.rows.setObjectName("rounds.reading.rows")
        band = Band(self.title, ground="sunk")
        band.air()
        band.add(self.close_it)
        self._scroll = QScrollArea()
        self._scroll.setWidget(self.rows)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.add(band)
        self.add(self._scroll, 1)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.rows.opened.connect(lambda key: self.went.emit(key[1]))
        self.hide()

    def show_findings(self, kept: Sequence[dict[str, str]]) -> None:
        """Show them; none hides the list."""
        self.setVisible(bool(kept))
        self.setFixedWidth(look.px(WIDTH))
        self.title.setText(f"The {self.title_word}: {counted(len(kept), 'finding')}")
        self.rows.say(reading_facts(kept))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape goes back to the typing."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class Beside(QWidget):
    """Both, side by side; the list of marks folds by itself where the grid would not fit beside it."""

    def __init__(self) -> None:
        super().__init__()
        self.marks = MarksPanel()
        self.reading = ReadingList()
        self.scan = ScanPanel()
        self._wished = False
        self._sheet: Sheet | None = None
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(0)
        read = QVBoxLayout()
        read.setSpacing(0)
        read.addWidget(self.scan, 1)
        read.addWidget(self.reading, 1)
        across.addLayout(read)
        across.addWidget(self.marks)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Expanding)
        self.reading.done.connect(self._put_away)
        self.scan.left.connect(self.reading.left)
        self.scan.went.connect(self.reading.went)

    def show_sheet(self, sheet: Sheet) -> None:
        """What was read into another round."""
        self._sheet = sheet
        self.reading.title_word = "scan" if sheet.head.source == "scan" else "workbook"
        self.reading.show_findings(sheet.place.get(READ, ()))
        self.scan.show_sheet(sheet)

    def fit(self, room: int) -> None:
        """Fold the marks or bring them, as there is room beside the grid, unless F1 said which."""
        if not self._wished:
            self.marks.setVisible(
                self.reading.isHidden() and self.scan.isHidden() and room >= self.marks.width()
            )

    def turn(self) -> None:
        """The marks to their next page, or away."""
        self._wished = True
        self.marks.turn()

    def come(self) -> bool:
        """Take the keys to the marks of a scan, then to the list of what was read; False when there is none."""
        if self.scan.come():
            return True
        if self.reading.isHidden():
            return False
        (self.reading.rows if self.reading.rows.facts() else self.reading.close_it).setFocus()
        return True

    def _put_away(self) -> None:
        self.reading.show_findings(())
        if self._sheet is not None:
            self._sheet.place.pop(READ, None)
            self._sheet.keep()
        self.reading.left.emit()
