"""The strip below the grid: the quick line with its hive and its read-back; it also asks where to go and why."""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from beeledger.base.findings import Finding, Grade
from beeledger.rules.rounds.checks import needs_reason
from beeledger.rules.rounds.readback import read_back
from beeledger.ui.places.rounds.cells import MARK_OF
from beeledger.ui.places.rounds.checking import UNREAD, reached
from beeledger.ui.places.rounds.quick_line import QuickLine, ReadBack
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.places.rounds.site_line import read_site_line
from beeledger.ui.widgets import look
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.painting import fill
from beeledger.ui.widgets.words import Words


class Asking(Enum):
    """What the line is for just now."""

    HIVE = "hive"
    FIND = "find"
    SITE = "site"
    REASON = "reason"


class Strip(QWidget):
    """Hive and stand at the left, the line, and below it what it was read as."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rounds.strip")
        self.asking = Asking.HIVE
        self.line = QuickLine()
        self.read_back = ReadBack()
        self.name = Words("", role="quick", weight=600)
        self.where = Words("", role="small", ink="ink2")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        names = QVBoxLayout()
        names.setContentsMargins(0, look.px(4), 0, 0)
        names.setSpacing(0)
        names.addWidget(self.name)
        names.addWidget(self.where)
        names.addStretch(1)
        lines = QVBoxLayout()
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(look.px(4))
        lines.addWidget(self.line)
        lines.addWidget(self.read_back)
        self.name.setFixedWidth(look.px(120))
        across = QHBoxLayout(self)
        across.setContentsMargins(look.px(16), look.px(6), look.px(12), look.px(4))
        across.setSpacing(look.px(12))
        across.addLayout(names)
        across.addLayout(lines, 1)

    def show_hive(self, sheet: Sheet, row: int) -> None:
        """The line of a hive."""
        line = sheet.lines[row]
        self.asking = Asking.HIVE
        self.name.setText(f"Hive {line.mark}" if line.mark else "Stranger")
        self.where.setText(f"line {row + 1} of {len(sheet.lines)}")
        self.line.show_text(sheet.text(row), line.unread)
        self.tell_hive(sheet, row)

    def tell_hive(self, sheet: Sheet, row: int) -> None:
        """What the line was read as, and the worst that speaks against it."""
        line, view = sheet.lines[row], sheet.views[row]
        self.line.waves.show_unread(line.unread)
        if (mark := self.goes_to(sheet, row)) is not None:
            self.read_back.say([("Enter goes to", f"hive {mark}")])
            return
        wrong, mend, drawn = _worst([*view.open, *view.odd], typing=True)
        blocks = read_back(view.entry, sheet.record(row).supers_on)
        if line.text and not blocks and not wrong:
            blocks = []
        self.read_back.say(blocks, wrong, mend, drawn)

    def goes_to(self, sheet: Sheet, row: int) -> str | None:
        """The hive whose number was typed in place of a line: three figures or more, and nothing else."""
        text = (sheet.lines[row].text or "").strip()
        if self.asking is not Asking.HIVE or len(text) < 3 or not text.isdigit():
            return None
        return text if any(line.mark == text for line in sheet.lines) else None

    def ask(self, asking: Asking, name: str, where: str, text: str = "") -> None:
        """Put the line to another use."""
        self.asking = asking
        self.name.setText(name)
        self.where.setText(where)
        self.line.show_text(text)

    def tell_find(self, sheet: Sheet, text: str) -> None:
        """Where a typed number leads."""
        mark = text.strip()
        if not mark:
            self.read_back.say([], "Type its number", "Enter alone adds a stranger without a number")
        elif any(line.mark == mark for line in sheet.lines):
            self.read_back.say([("Enter goes to", f"hive {mark}")])
        else:
            known = sheet.carried.get(mark)
            where = f"on record at {known.site or 'no site'}" if known else "no colony has this number"
            words = f"{mark} is not on this sheet: {where}"
            self.read_back.say([], words, "Enter adds a line for it here", Mark.AGAINST)

    def tell_site(self, sheet: Sheet, text: str) -> None:
        """How the whole site's line was read."""
        said = read_site_line(text, sheet.habits, sheet.head.on)
        self.line.waves.show_unread(said.unread)
        blocks = [*said.blocks(), *reached(sheet.lines, said.each)]
        wrong = said.problem or (said.unread[0].problem if said.unread else "")
        mend = said.unread[0].suggestion if said.unread and not said.problem else ""
        if not text.strip():
            mend = "l2 feeds each hive 2 litres; 416=430@6/5 swaps two numbers since that day; ; begins the round’s note"
        self.read_back.say(blocks, wrong, mend, Mark.CANNOT if wrong else None)

    def tell_reason(self, findings: list[Finding]) -> None:
        """What the reason is for."""
        first = next((one for one in findings if needs_reason(one)), None)
        if first is not None:
            self.read_back.say([], first.what, first.mend, Mark.AGAINST)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, QRect(0, 0, self.width(), self.height()), "paper")
        painter.end()


def _worst(shown: list[Finding], *, typing: bool) -> tuple[str, str, Mark | None]:
    if not shown:
        return "", "", None
    first = shown[0]
    if first.code == UNREAD:
        return first.what, first.mend, Mark.CANNOT
    mark = MARK_OF[first.grade]
    mend = first.mend
    if first.grade is Grade.AGAINST and typing:
        mend = f"{first.mend} (F4)"
    return first.what, mend, mark
