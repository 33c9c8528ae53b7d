"""The list of marks beside the grid, folded by F1."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

from beeledger.rules.rounds.marks import marks_list, words_list
from beeledger.ui.places.rounds.keys import CHORDS
from beeledger.ui.widgets import look
from beeledger.ui.widgets.painting import fill, hairline, paint_text, upright

WIDTH = 232
_ROW = 19
_AIR = 12
_CLOSING = (
    "In each cell: last figure left,", "today’s right. Blank is not", "nought: nobody looked.",
)  # fmt: skip


class _Sheet(QWidget):
    """Paints marks, chords and the closing words."""

    def __init__(self) -> None:
        super().__init__()
        self.marks = [(mark, meaning) for mark, meaning in marks_list() if mark]
        self.causes = words_list("dead")
        self.chords = [(chord.shown, chord.words) for chord in CHORDS if chord.beside]
        told = "; ".join(f"{mark} {meaning}" for mark, meaning in self.marks)
        self.setAccessibleName(f"Marks: {told}")

    def wanted_height(self) -> int:
        """How high all of it is."""
        lines = len(self.marks) + len(self.causes) + 1 + len(_CLOSING)
        return look.px(lines * _ROW + len(self.chords) * 24 + 5 * _AIR)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        upright(painter, 0, 0, self.height())
        y = self._pairs(painter, self.marks, look.px(_AIR))
        y = self._rule(painter, y)
        y = self._chords(painter, y)
        y = self._rule(painter, y)
        for words in _CLOSING:
            self._words(painter, y, words)
            y += look.px(_ROW)
        y = self._rule(painter, y)
        self._words(painter, y, "Dead, and of what")
        self._pairs(painter, self.causes, y + look.px(_ROW))
        painter.end()

    def _pairs(self, painter: QPainter, pairs: list[tuple[str, str]], y: int) -> int:
        left, right = look.px(16), self.width() - look.px(8)
        split = look.px(74)
        for mark, meaning in pairs:
            row = look.px(_ROW)
            wide = look.metrics("small", 600).horizontalAdvance(mark)
            paint_text(painter, QRect(left, y, right - left, row), mark, "ink", role="small", weight=600)
            start = max(split, left + wide + look.px(8))
            place = QRect(start, y, right - start, row)
            paint_text(painter, place, meaning, "ink2", role="small", shorten=True)
            y += row
        return y

    def _chords(self, painter: QPainter, y: int) -> int:
        left, row = look.px(16), look.px(24)
        for keys, words in self.chords:
            wide = look.metrics("small").horizontalAdvance(keys) + look.px(12)
            box = QRect(left, y + look.px(2), wide, row - look.px(4))
            fill(painter, box, "paper")
            painter.setPen(QPen(look.current().colour("line5"), 1))
            painter.drawRoundedRect(box.adjusted(0, 0, -1, -1), 3, 3)
            paint_text(painter, box.adjusted(look.px(6), 0, 0, 0), keys, "ink", role="small")
            start = max(look.px(74), left + wide + look.px(8))
            place = QRect(start, y, self.width() - start - look.px(8), row)
            paint_text(painter, place, words, "ink2", role="small", shorten=True)
            y += row
        return y

    def _words(self, painter: QPainter, y: int, words: str) -> None:
        left = look.px(16)
        place = QRect(left, y, self.width() - left - look.px(8), look.px(_ROW))
        paint_text(painter, place, words, "ink2", role="small", shorten=True)

    def _rule(self, painter: QPainter, y: int) -> int:
        hairline(painter, look.px(12), y + look.px(_AIR) // 2, self.width() - look.px(24), "line5")
        return y + look.px(_AIR)


class MarksPanel(QScrollArea):
    """The list; it never takes the focus from the typing."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rounds.marks")
        self._sheet = _Sheet()
        self.setWidget(self._sheet)
        self.setWidgetResizable(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(self.focusPolicy().NoFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self._fit()

    def sizeHint(self) -> QSize:
        return QSize(look.px(WIDTH), look.px(400))

    def _fit(self) -> None:
        self.setFixedWidth(look.px(WIDTH))
        self._sheet.resize(look.px(WIDTH), max(self._sheet.wanted_height(), self.viewport().height()))

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)  # type: ignore[arg-type]  # the stub wants QResizeEvent, which it is
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_sheet"):
            self._fit()
