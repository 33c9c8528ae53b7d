"""What all charts share: title and unit, key with marker shapes, levels, thresholds, the table behind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import fill, hairline, paint_text
from beeledger.ui.widgets.scales import Scale, figure, ticks


class Marker(Enum):
    """The shape of a series: always with its colour, never colour alone."""

    DISC = "disc"
    SQUARE = "square"
    DIAMOND = "diamond"
    TRIANGLE = "triangle"


SERIES: tuple[tuple[Token, Marker], ...] = (
    ("c1", Marker.DISC),
    ("c2", Marker.SQUARE),
    ("c3", Marker.DIAMOND),
    ("c4", Marker.TRIANGLE),
)
"""Colour and shape by the order of the series. More than four: small charts side by side."""


@dataclass(frozen=True, slots=True)
class Threshold:
    """A dashed line named on the line: red if it orders an act, quiet if it only advises."""

    value: float
    words: str
    orders: bool = False


@dataclass(frozen=True, slots=True)
class ChartTable:
    """The figures of a chart, for who cannot or will not see it."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a drawn thing stands, and what it says to the pointer."""

    point: QPointF
    words: str


class Canvas(QWidget):
    """A plain chart: horizontal hairlines only, no frame, no fill under a line, nothing moves."""

    def __init__(self, title: str, unit: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = title
        self.unit = unit
        self.spots: list[Spot] = []
        self.setAccessibleName(f"{title}, {unit}" if unit else title)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def table(self) -> ChartTable:
        """The figures shown; each chart says its own."""
        raise NotImplementedError

    def key(self) -> Sequence[tuple[str, Token, Marker]]:
        """Name, colour and shape of each series."""
        return ()

    def describe(self, sentence: str) -> None:
        """The sentence a screen reader says for the picture."""
        self.setAccessibleDescription(sentence)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(look.px(260), look.px(190))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(180), look.px(150))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        self.spots = []
        top = self._paint_head(painter)
        self.paint_plot(painter, QRect(0, top, self.width(), self.height() - top))
        painter.end()

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        """Draw everything under the title and the key."""
        raise NotImplementedError

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self.words_at(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def words_at(self, point: QPointF) -> str:
        """What stands nearest under the pointer; empty when nothing is near."""
        near = [(QPointF(spot.point - point).manhattanLength(), spot.words) for spot in self.spots]
        distance, words = min(near, default=(1e9, ""))
        return words if distance <= look.px(10) else ""

    def _paint_head(self, painter: QPainter) -> int:
        if not self.title:
            return 0
        line = look.px(20)
        pad = look.px(16)
        room = QRect(pad, look.px(4), self.width() - 2 * pad, line)
        taken = paint_text(painter, room, self.title, "ink", role="small", weight=600)
        paint_text(painter, room.adjusted(taken + look.px(8), 0, 0, 0), self.unit, "ink2", role="small")
        if not self.key():
            return look.px(4) + line
        self._paint_key(painter, room.translated(0, line - look.px(2)))
        return look.px(4) + 2 * line

    def _paint_key(self, painter: QPainter, room: QRect) -> None:
        x = room.left()
        for name, token, marker in self.key():
            side = look.px(7)
            middle = QPointF(x + side / 2, room.top() + room.height() / 2)
            paint_marker(painter, middle, marker, look.current().colour(token), side)
            words = room.adjusted(x - room.left() + side + look.px(6), 0, 0, 0)
            x += side + look.px(6) + paint_text(painter, words, name, "ink", role="small") + look.px(16)

    def paint_levels(self, painter: QPainter, plot: QRect, scale: Scale) -> None:
        """Hairlines and their figures, at most five."""
        for value in ticks(scale.low, scale.high):
            y = round(scale.at(value))
            ground = value == scale.low
            hairline(painter, plot.left(), y, plot.width(), "edge" if ground else "line")
            place = QRect(0, y - look.px(9), plot.left() - look.px(6), look.px(18))
            paint_text(painter, place, figure(value), "ink3", role="small", align=Align.RIGHT)

    def left_room(self, low: float, high: float) -> int:
        """Room for the widest figure of the levels."""
        small = look.metrics("small")
        widest = max(small.horizontalAdvance(figure(value)) for value in ticks(low, high))
        return max(look.px(30), look.px(12) + widest)

    def paint_threshold(
        self, painter: QPainter, plot: QRect, scale: Scale, line: Threshold, taken: Sequence[QPointF] = ()
    ) -> None:
        """A dashed line with its name on it, where the fewest points stand in the way."""
        token: Token = "now" if line.orders else "ink2"
        y = round(scale.at(line.value))
        pen = QPen(look.current().colour(token), 1)
        pen.setDashPattern([4, 3])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawLine(plot.left(), y, plot.left() + plot.width(), y)
        width = look.metrics("small", 500).horizontalAdvance(line.words)
        place = _free_place(plot, y, width, taken)
        paint_text(painter, place, line.words, token, role="small", weight=500)


def _free_place(plot: QRect, y: int, width: int, taken: Sequence[QPointF]) -> QRect:
    height = look.px(16)
    steps = range(plot.left() + look.px(4), max(plot.left() + look.px(5), plot.right() - width), look.px(12))
    best, fewest = QRect(plot.left() + look.px(4), y - height - 1, width + 1, height), 1 << 30
    for top in (y - height - 1, y + 3):
        if not plot.top() - height <= top <= plot.bottom() - height + 2:
            continue
        for x in steps:
            place = QRect(x, top, width + 1, height)
            wide = QRectF(place.adjusted(-5, -4, 5, 4))
            hits = sum(wide.contains(point) for point in taken)
            if not hits:
                return place
            if hits < fewest:
                best, fewest = place, hits
    return best


def paint_marker(
    painter: QPainter, at: QPointF, marker: Marker, colour: QColor, side: float, *, hollow: bool = False
) -> None:
    """One point; hollow when what it shows was not looked into."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colour, 1.4) if hollow else Qt.PenStyle.NoPen)
    painter.setBrush(look.current().colour("paper") if hollow else colour)
    half = side / 2
    if marker is Marker.DISC:
        painter.drawEllipse(at, half, half)
    elif marker is Marker.SQUARE:
        painter.drawRect(QRectF(at.x() - half + 0.4, at.y() - half + 0.4, side - 0.8, side - 0.8))
    else:
        painter.drawPolygon(_corners(at, marker, half))
    painter.restore()


def _corners(at: QPointF, marker: Marker, half: float) -> QPolygonF:
    if marker is Marker.DIAMOND:
        offsets = [(0.0, -1.2), (1.2, 0.0), (0.0, 1.2), (-1.2, 0.0)]
    else:
        offsets = [(0.0, -1.15), (1.15, 0.95), (-1.15, 0.95)]
    return QPolygonF([QPointF(at.x() + dx * half, at.y() + dy * half) for dx, dy in offsets])


def paint_zone(painter: QPainter, plot: QRect, top: float, bottom: float, token: Token = "nowsoft") -> None:
    """The ground past a limit."""
    fill(painter, QRect(plot.left(), round(top), plot.width(), round(bottom) - round(top)), token)
