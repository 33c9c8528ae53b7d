"""Figures with their intervals, one under another on a shared scale: a dot where it can be ranked by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.canvas import Canvas, ChartTable, Spot
from beeledger.ui.widgets.cells import Align, Interval
from beeledger.ui.widgets.painting import paint_interval, paint_text

_ROW = 34


@dataclass(frozen=True, slots=True)
class Score:
    """A trait: its name, what the figure rests on, the figure in words and its place on its own scale."""

    name: str
    rests_on: str
    figure: str
    interval: Interval


class ScoreRows(Canvas):
    """Each row has its own unit and scale; the upright line is the mean of them all."""

    def __init__(self, note: str = "", parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self._scores: tuple[Score, ...] = ()
        self._note = note
        self.setAccessibleName("Scores")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_scores(self, scores: Sequence[Score], note: str = "") -> None:
        """Show other scores, and the sentence that says how they are to be read."""
        self._scores, self._note = tuple(scores), note
        self.describe("; ".join(", ".join(row) for row in self.table().rows))
        self.updateGeometry()

    def table(self) -> ChartTable:
        rows = tuple(
            (one.name, one.figure, one.rests_on, "too thin to rank by" if one.interval.thin else "")
            for one in self._scores
        )
        return ChartTable(("Trait", "Figure", "Rests on", "How sure"), rows)

    def sizeHint(self) -> QSize:
        return QSize(look.px(230), look.px(_ROW) * len(self._scores) + self._note_room())

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(200), self.sizeHint().height())

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        pad = look.px(16)
        names = [look.metrics("base", 600).horizontalAdvance(one.name) for one in self._scores]
        names += [look.metrics("small").horizontalAdvance(one.rests_on) for one in self._scores]
        figures = [look.metrics("base", 600).horizontalAdvance(one.figure) for one in self._scores]
        left = pad + max(names, default=0) + look.px(12)
        right = room.width() - pad - max(figures, default=0) - look.px(12)
        for at, one in enumerate(self._scores):
            row = QRect(pad, room.top() + at * look.px(_ROW), room.width() - 2 * pad, look.px(_ROW))
            self._paint_words(painter, row, one)
            plot = QRect(left, row.top(), max(look.px(30), right - left), row.height())
            paint_interval(painter, plot, one.interval, ends=True)
            self.spots.append(Spot(QRectF(plot).center(), f"{one.name} {one.figure}, {one.rests_on}"))
        if self._note:
            below = room.top() + len(self._scores) * look.px(_ROW)
            place = QRect(pad, below, room.width() - 2 * pad, self._note_room())
            painter.setFont(look.font("small"))
            painter.setPen(look.current().colour("ink3"))
            painter.drawText(place, Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop, self._note)

    def _paint_words(self, painter: QPainter, row: QRect, one: Score) -> None:
        half = row.height() // 2
        upper = QRect(row.left(), row.top(), row.width(), half)
        paint_text(painter, upper, one.name, "ink", role="small", weight=600)
        paint_text(painter, upper.translated(0, half - 2), one.rests_on, "ink2", role="small")
        paint_text(painter, row, one.figure, "ink", weight=600, align=Align.RIGHT)

    def _note_room(self) -> int:
        return look.px(38) if self._note else 0

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()
