"""The line at the bottom: which ledger and desk, the last backup, running jobs with progress and cancel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from PySide6.QtCore import QEvent, QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from beeledger.base.dates import short
from beeledger.ui.desk.jobs import Job
from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.painting import fill
from beeledger.ui.widgets.progress_line import ProgressLine
from beeledger.ui.widgets.words import RunWords, spoken

HEIGHT = 24
OLD = timedelta(hours=26)
"""A backup a day at least, with two hours' grace for a desk that opens a little later than the day before."""


@dataclass(frozen=True, slots=True)
class BackupState:
    """The newest backup, if there is one."""

    at: datetime | None = None
    size_bytes: int = 0


def backup_run(state: BackupState, now: datetime, zone: str) -> Run:
    """The backup in words with its mark: a tick, or a square where one is wanted."""
    if state.at is None:
        return Run("no backup yet", "watch", mark=Mark.TODAY)
    local, today = state.at.astimezone(ZoneInfo(zone)), now.astimezone(ZoneInfo(zone)).date()
    words = f"backup {local:%H:%M} {_day(local.date(), today)}, {_size(state.size_bytes)}"
    fresh = now - state.at < OLD
    return Run(words, "ink2" if fresh else "watch", mark=Mark.MET if fresh else Mark.TODAY)


def _day(day: date, today: date) -> str:
    ago = (today - day).days
    if ago in (0, 1):
        return ("today", "yesterday")[ago]
    return f"{short(day)}, {ago} days ago"


def _size(size_bytes: int) -> str:
    megabytes = size_bytes / 1e6
    return f"{megabytes:,.0f} MB" if megabytes >= 10 else f"{megabytes:.1f} MB"


class StatusLine(QWidget):
    """Quiet facts of the desk; ``stop_wanted`` carries the job that is to stop."""

    stop_wanted = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("status")
        self._ledger = ("", "")
        self._backup = Run("")
        self._job: Job | None = None
        self.facts = RunWords(shorten=True)
        self.facts.setObjectName("status.facts")
        self.progress = ProgressLine()
        self.progress.setObjectName("status.job")
        self.progress.cancel.setObjectName("status.cancel")
        self.progress.cancelled.connect(self._stop)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        line = QHBoxLayout(self)
        line.setContentsMargins(look.px(12), 1, look.px(12), 0)
        line.setSpacing(look.px(16))
        line.addWidget(self.facts, 1)
        line.addWidget(self.progress, 0, Qt.AlignmentFlag.AlignVCenter)

    def set_ledger(self, name: str, desk: str) -> None:
        """The ledger's file or address, and whose desk this is."""
        self._ledger = (name, desk)
        self._say()

    def set_backup(self, run: Run) -> None:
        """The last backup as ``backup_run`` says it."""
        self._backup = run
        self._say()

    def show_jobs(self, jobs: Sequence[Job]) -> None:
        """The job that runs, and how many wait behind it; none hides the progress."""
        self._job = jobs[0] if jobs else None
        if self._job is None:
            self.progress.done()
            return
        more = f" and {len(jobs) - 1} more" if len(jobs) > 1 else ""
        stopping = ", stopping" if self._job.stop.is_set() else ""
        self.progress.say(f"{self._job.title}{more}{stopping}", self._job.done, self._job.total)

    def text(self) -> str:
        """What stands in the line, without a job."""
        return self.facts.text()

    def _say(self) -> None:
        name, desk = self._ledger
        runs = [Run(name, "ink", 600, small=True, gap=10), Run(f"desk {desk}", small=True, gap=16)]
        if self._backup.text:
            runs.append(Run(self._backup.text, self._backup.ink, mark=self._backup.mark, small=True))
        self.facts.say(runs)
        self.setAccessibleDescription(spoken(runs))

    def _stop(self) -> None:
        if self._job is not None:
            self.stop_wanted.emit(self._job)

    def sizeHint(self) -> QSize:
        return QSize(look.px(600), look.px(HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(200), look.px(HEIGHT))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "window")
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()
