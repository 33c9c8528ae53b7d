"""What was done or said last, at the right of the top line: up to three lines, the whole in the tooltip."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QRect, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark, mark_size, paint_mark
from beeledger.ui.widgets.painting import mark_rect, paint_text

FRESH_MS = 6000
MOST_LINES = 3
Tone = Literal["done", "note", "watch", "now"]
_INK: dict[str, Token] = {"done": "ink2", "note": "ink2", "watch": "watch", "now": "now"}
_MARK = {"watch": Mark.ODD, "now": Mark.CANNOT}
_TINT: dict[str, Token] = {"done": "accentsoft", "note": "accentsoft", "watch": "watchsoft", "now": "nowsoft"}


class Said(QWidget):
    """One sentence in its tone. ``settled`` tells when it is no longer fresh."""

    settled = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("said")
        self.sentence = ""
        self.tone = "done"
        self._fresh = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(FRESH_MS)
        self._timer.timeout.connect(self._settle)

    @property
    def fresh(self) -> bool:
        """Whether it was said within the last six seconds."""
        return self._fresh

    @property
    def tint(self) -> Token | None:
        """The ground behind it: while it is fresh, and as long as it wants a person."""
        return _TINT[self.tone] if self._fresh or self.tone == "now" else None

    def tell(self, sentence: str, tone: str, *, fresh: bool = True) -> None:
        """Show a sentence; a fresh one is announced to screen readers."""
        self.sentence, self.tone = sentence, tone
        self.setToolTip(sentence)
        self.setAccessibleName(f"{_MARK[tone].words}: {sentence}" if tone in _MARK else sentence)
        self._fresh = fresh
        if fresh:
            self._timer.start()
            self._announce(sentence)
        else:
            self._timer.stop()
        self.update()

    def _announce(self, sentence: str) -> None:
        event = QAccessibleAnnouncementEvent(self, sentence)
        if self.tone == "now":
            event.setPoliteness(QAccessible.AnnouncementPoliteness.Assertive)
        QAccessible.updateAccessibility(event)

    def _settle(self) -> None:
        self._fresh = False
        self.settled.emit()

    @property
    def wants_room(self) -> bool:
        """Whether it wants a person: then it may take all the room there is."""
        return self.tone == "now"

    def lines(self) -> tuple[str, ...]:
        """The sentence as it is broken: into as few lines as hold it, of which the last may be shortened."""
        room = self.width() - self._lead()
        metrics = look.metrics("small")
        words = self.sentence.split(" ")
        lines: list[str] = []
        while len(lines) < MOST_LINES - 1 and metrics.horizontalAdvance(" ".join(words)) > room:
            line = words.pop(0)
            while words and metrics.horizontalAdvance(f"{line} {words[0]}") <= room:
                line = f"{line} {words.pop(0)}"
            lines.append(line)
        return (*lines, " ".join(words)) if words else tuple(lines)

    def _lead(self) -> int:
        return mark_size() + look.px(8) if self.tone in _MARK else 0

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        lines = self.lines()
        height = look.px(17 if len(lines) < MOST_LINES else 15)
        top = (self.height() - height * len(lines)) // 2
        lead = self._lead()
        widest = min(
            self.width() - lead, max(look.metrics("small").horizontalAdvance(line) for line in lines)
        )
        left = self.width() - widest
        for number, line in enumerate(lines):
            rect = QRect(left, top + number * height, widest, height)
            align = Align.RIGHT if len(lines) == 1 else Align.LEFT
            paint_text(painter, rect, line, _INK[self.tone], role="small", align=align, shorten=True)
        if lead:
            side = mark_size()
            paint_mark(painter, mark_rect(left - lead, QRect(0, top, 0, height), side), _MARK[self.tone])
        painter.end()
