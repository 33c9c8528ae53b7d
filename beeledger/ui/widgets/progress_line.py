"""A running job in the status line: its words, how far it is, and a way to stop it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.painting import fill
from beeledger.ui.widgets.words import Words


class _Track(QWidget):
    """A thin line that fills in whole steps; without a known length it stays empty. Nothing moves."""

    def __init__(self) -> None:
        super().__init__()
        self.share: float | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(look.px(72), look.px(12))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        line = QRect(0, (self.height() - 3) // 2, self.width(), 3)
        fill(painter, line, "line5")
        if self.share is not None:
            fill(painter, QRect(0, line.top(), round(self.width() * self.share), 3), "accent")
        painter.end()


class ProgressLine(QWidget):
    """Shown while a job runs; hidden when none does."""

    cancelled = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = Words(role="small", ink="ink2")
        self._track = _Track()
        self.cancel = Button("Cancel", self.cancelled.emit, kind="quiet")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.px(8))
        for piece in (self._words, self._track, self.cancel):
            row.addWidget(piece, 0, Qt.AlignmentFlag.AlignVCenter)
        self._fit()
        self.hide()

    def say(self, words: str, done: int | None = None, of: int | None = None) -> None:
        """Show a job: its words, and how many of how many steps are done where that is known."""
        known = done is not None and of is not None and of > 0
        self._track.share = min(1.0, (done or 0) / (of or 1)) if known else None
        self._words.setText(words)
        self.setAccessibleName(words)
        self.setAccessibleDescription(f"{done} of {of} done" if known else "")
        self._track.update()
        self.show()

    def done(self) -> None:
        """The job has ended."""
        self._words.setText("")
        self.hide()

    def share(self) -> float | None:
        """How far the job is, between 0 and 1; None when that is not known."""
        return self._track.share

    def _fit(self) -> None:
        self.cancel.setFixedHeight(look.px(22))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "cancel"):
            self._fit()
