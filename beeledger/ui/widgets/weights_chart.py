"""A weighing check: each jar a dot, the limits as named lines, what is past the limit on its ground."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.canvas import Canvas, ChartTable, Marker, Spot, paint_marker, paint_zone
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark, mark_size, paint_mark
from beeledger.ui.widgets.painting import fill, mark_rect, paint_text
from beeledger.ui.widgets.scales import Scale, figure, reach, ticks


@dataclass(frozen=True, slots=True)
class Weight:
    """One weighing by its number; a mark and words when it is past a limit."""

    number: int
    value: float
    mark: Mark | None = None
    words: str = ""


@dataclass(frozen=True, slots=True)
class Limit:
    """A line across with its words at the right; what is below it stands on red when ``forbids``."""

    value: float
    words: str
    detail: str = ""
    ink: Token = "ink"
    dashed: bool = False
    forbids: bool = False


class WeightsChart(Canvas):
    """Dots by number. Weights need not begin at nought, so they are dots and never bars."""

    def __init__(self, unit: str = "grams", parent: QWidget | None = None) -> None:
        super().__init__("", unit, parent)
        self._weights: tuple[Weight, ...] = ()
        self._limits: tuple[Limit, ...] = ()
        self._planned = 0
        self.setAccessibleName(f"Weights in {unit}")

    def set_weights(self, weights: Sequence[Weight], limits: Sequence[Limit], planned: int) -> None:
        """Show other weighings; ``planned`` is how many there will be, so that the layout stays still."""
        self._weights, self._limits, self._planned = tuple(weights), tuple(limits), planned
        past = [one.words for one in weights if one.mark]
        lines = [f"{one.words} at {figure(one.value)}" for one in limits]
        self.describe(", ".join([f"{len(weights)} of {planned} weighed", *lines, *past]))

    def table(self) -> ChartTable:
        rows = tuple((str(one.number), figure(one.value), one.words) for one in self._weights)
        return ChartTable(("Number", self.unit.capitalize(), "Words"), rows)

    def sizeHint(self) -> QSize:
        return QSize(look.px(420), look.px(360))

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        values = [one.value for one in self._weights] + [one.value for one in self._limits]
        low, high = reach(values, from_nought=False)
        left = self.left_room(low, high) + look.px(16)
        plot = QRect(left, room.top() + look.px(30), room.width() - left - self._right_room(), 0)
        plot.setBottom(room.bottom() - look.px(24))
        down = Scale(low, high, plot.bottom(), plot.top())
        across = Scale(1, max(2, self._planned), plot.left() + 3, plot.right() - 3)
        place = QRect(look.px(16), room.top() + look.px(4), left, look.px(18))
        paint_text(painter, place, self.unit, "ink2", role="small")
        for limit in self._limits:
            if limit.forbids:
                paint_zone(painter, plot, down.at(limit.value), plot.bottom())
        self.paint_levels(painter, plot, down)
        self._paint_numbers(painter, plot, across)
        self._paint_limits(painter, plot, down)
        self._paint_weights(painter, across, down, plot)

    def _right_room(self) -> int:
        small = look.metrics("small", 600)
        widest = max((small.horizontalAdvance(one.words) for one in self._limits), default=0)
        return widest + look.px(24)

    def _paint_numbers(self, painter: QPainter, plot: QRect, across: Scale) -> None:
        for value in [1.0, *(tick for tick in ticks(0, self._planned) if tick >= 1)]:
            words = figure(value)
            width = look.metrics("small").horizontalAdvance(words) + 2
            place = QRect(
                round(across.at(value)) - width // 2, plot.bottom() + look.px(3), width, look.px(18)
            )
            paint_text(painter, place, words, "ink3", role="small", align=Align.CENTRE)

    def _paint_limits(self, painter: QPainter, plot: QRect, down: Scale) -> None:
        line_high = look.px(15)
        free = plot.top() - 2 * line_high
        for limit in sorted(self._limits, key=lambda one: -one.value):
            y = round(down.at(limit.value))
            if limit.dashed or limit.forbids:
                pen = QPen(look.current().colour(limit.ink), 1)
                pen.setDashPattern([4, 3])
                pen.setCapStyle(Qt.PenCapStyle.FlatCap)
                painter.setPen(pen)
                painter.drawLine(plot.left(), y, plot.right(), y)
            else:
                fill(painter, QRect(plot.left(), y, plot.width(), 1), limit.ink)
            top = max(y - line_high // 2 - 1, free)
            place = QRect(plot.right() + look.px(8), top, self.width() - plot.right() - look.px(8), line_high)
            paint_text(painter, place, limit.words, limit.ink, role="small", weight=600)
            free = top + line_high
            if limit.detail:
                paint_text(painter, place.translated(0, line_high), limit.detail, "ink2", role="small")
                free += line_high

    def _paint_weights(self, painter: QPainter, across: Scale, down: Scale, plot: QRect) -> None:
        colour = look.current().colour("c1")
        for one in self._weights:
            at = QPointF(across.at(one.number), down.at(one.value))
            if one.mark is None:
                paint_marker(painter, at, Marker.DISC, colour, look.px(6))
            else:
                self._paint_marked(painter, at, one, plot)
            words = f"{one.number}: {figure(one.value)} {self.unit}"
            self.spots.append(Spot(at, f"{words}, {one.words}" if one.words else words))

    def _paint_marked(self, painter: QPainter, at: QPointF, one: Weight, plot: QRect) -> None:
        mark = one.mark or Mark.ODD
        side = mark_size()
        line = QRect(round(at.x()), round(at.y()) - side, plot.width(), 2 * side)
        paint_mark(painter, mark_rect(round(at.x()) - side // 2, line, side), mark)
        width = look.metrics("small", 600).horizontalAdvance(one.words) + 2
        x = round(at.x()) + side // 2 + look.px(4)
        if x + width > plot.right():
            x = round(at.x()) - side // 2 - look.px(4) - width
        place = QRect(x, line.top(), width, line.height())
        paint_text(painter, place, one.words, mark.token, role="small", weight=600)
