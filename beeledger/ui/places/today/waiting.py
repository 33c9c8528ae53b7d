"""What cannot wait: lines of two, each leading to where it is done."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea

from beeledger.base.text import counted
from beeledger.queries.pressing import Pressing
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.section import SectionHead

OLD = timedelta(hours=48)
"""A backup older than two days cannot wait; the desk writes one a day by itself."""


class WaitingPane(Stack):
    """The head with how many, and the lines under it."""

    opened = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("today.waiting")
        self.head = SectionHead("What cannot wait", first=True)
        self.rows = FactRows(marks=True)
        self.rows.opened.connect(self.opened)
        self.area = QScrollArea()
        inside = Stack(self.rows)
        inside.column.addStretch(1)
        self.area.setWidget(inside)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.head.toggled.connect(self.area.setVisible)
        self.add(self.head)
        self.add(self.area, 1)

    def say(self, facts: Sequence[Fact]) -> None:
        """Show other lines."""
        self.head.summary = str(len(facts)) if facts else ""
        self.head.setAccessibleName(f"What cannot wait, {counted(len(facts), 'line')}")
        self.rows.say(facts or [Fact("Nothing is pressing", ink="ink2")])
        self.head.update()


def backup_pressing(at: datetime | None, now: datetime) -> list[Pressing]:
    """The backup, when there is none or it is old."""
    if at is None:
        why = "the only copy of the record is this file"
        return [Pressing("today", "No backup of this ledger yet", why, None, "settings")]
    if now - at < OLD:
        return []
    days = (now - at).days
    return [Pressing("today", f"The last backup is {days} days old", "one is due each day", None, "settings")]
