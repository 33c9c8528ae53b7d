"""The line at the bottom: which ledger and desk, the last backup, running jobs with progress and cancel."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from beeledger.base.dates import short
from beeledger.ui.desk.jobs import Job
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.marks import Mark, paint_mark

HEIGHT = 24
OLD_HOURS = 26


class StatusLine(QWidget):
    """Quiet facts of the desk."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("status")
        self._ledger = ("", "")
        self._backup = ("", False)
        self._job: Job | None = None
        self.cancel = Button("Cancel", self._stop, kind="quiet")
        self.cancel.setObjectName("status.cancel")
        self.cancel.hide()
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, look.px(8), 0)
        line.addStretch()
        line.addWidget(self.cancel)
        self.setFixedHeight(look.px(HEIGHT))

    def set_ledger(self, name: str, desk: str) -> None:
        """The ledger's file or address, and whose desk this is."""
        self._ledger = (name, desk)
        self.update()

    def set_backup(self, last: datetime | None, now: datetime, zone: str, *, by_server: bool) -> None:
        """When the last backup was written; old or none is said as something to mend."""
        if by_server:
            self._backup = ("backed up by the server", True)
        elif last is None:
            self._backup = ("no backup yet", False)
        else:
            local = last.astimezone(ZoneInfo(zone))
            today = now.astimezone(ZoneInfo(zone)).date()
            day = "today" if local.date() == today else short(local.date())
            fresh = (now - last).total_seconds() < OLD_HOURS * 3600
            self._backup = (f"backup {local:%H:%M} {day}", fresh)
        self.setAccessibleDescription(f"{self._ledger[0]}, desk {self._ledger[1]}, {self._backup[0]}")
        self.update()

    def show_job(self, job: Job | None) -> None:
        """A running job, or none."""
        self._job = job
        self.cancel.setVisible(job is not None)
        self.update()

    def _stop(self) -> None:
        if self._job is not None:
            self._job.stop.set()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Ledger and desk, backup, job."""
        painter = QPainter(self)
        now = look.current()
        painter.fillRect(self.rect(), now.colour("window"))
        painter.fillRect(QRect(0, 0, self.width(), 1), now.colour("line5"))
        left = look.px(12)
        left = self._words(painter, left, self._ledger[0], 600) + look.px(10)
        left = self._words(painter, left, f"desk {self._ledger[1]}", 400) + look.px(16)
        words, fresh = self._backup
        if words:
            side = look.px(10)
            paint_mark(
                painter,
                QRectF(left, (self.height() - side) / 2, side, side),
                Mark.MET if fresh else Mark.TODAY,
            )
            self._words(painter, left + look.px(16), words, 400)
        self._paint_job(painter)

    def _words(self, painter: QPainter, left: int, words: str, weight: int) -> int:
        painter.setFont(look.font("small", weight))
        painter.setPen(look.current().colour("ink" if weight == 600 else "ink2"))
        painter.drawText(
            QRect(left, 0, self.width() - left, self.height()),
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
            words,
        )
        return left + look.metrics("small", weight).horizontalAdvance(words)

    def _paint_job(self, painter: QPainter) -> None:
        job = self._job
        if job is None:
            return
        width = look.px(70)
        right = self.cancel.x() - look.px(10)
        words = look.metrics("small").horizontalAdvance(job.title)
        self._words(painter, right - width - look.px(10) - words, job.title, 400)
        bar = QRect(right - width, self.height() // 2 - 1, width, 3)
        painter.fillRect(bar, look.current().colour("line5"))
        share = job.done / job.total if job.total else 0.0
        painter.fillRect(
            QRect(bar.left(), bar.top(), round(width * share), 3), look.current().colour("accent")
        )
