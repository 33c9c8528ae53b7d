"""What happened, in lanes: bars for what lasts, marks for moments, months as hairlines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import Enum

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.base.dates import long
from beeledger.ui.widgets import look
from beeledger.ui.widgets.canvas import Canvas, ChartTable, Marker, Spot, paint_marker
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import paint_disc
from beeledger.ui.widgets.painting import fill, hairline, paint_text, upright
from beeledger.ui.widgets.scales import Scale, month_starts, month_word

_LANE = 20


class Shape(Enum):
    """How a moment is drawn."""

    DOT = "dot"
    RING = "ring"
    BRICK = "brick"
    DIAMOND = "diamond"
    DISC = "disc"
    """A queen's disc: the moment's ``disc`` names the colour."""


@dataclass(frozen=True, slots=True)
class Moment:
    """Something that happened on a day."""

    day: date
    shape: Shape = Shape.DOT
    words: str = ""
    disc: str = ""


@dataclass(frozen=True, slots=True)
class Span:
    """Something that lasts; ``last`` of None is still so today."""

    first: date
    last: date | None
    words: str = ""
    ground: Token = "infosoft"
    edge: Token = "info"


@dataclass(frozen=True, slots=True)
class Lane:
    """One kind of thing."""

    name: str
    moments: tuple[Moment, ...] = ()
    spans: tuple[Span, ...] = ()


class TimeLanes(Canvas):
    """Lanes over one stretch of days."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self._lanes: tuple[Lane, ...] = ()
        self._first = date(2000, 1, 1)
        self._last = date(2000, 12, 31)
        self.setAccessibleName("What happened")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_lanes(self, lanes: Sequence[Lane], first: date, last: date) -> None:
        """Show other lanes from ``first`` to ``last``."""
        self._lanes, self._first, self._last = tuple(lanes), first, last
        counts = [f"{lane.name} {len(lane.moments) + len(lane.spans)}" for lane in self._lanes]
        self.describe(f"{long(first)} to {long(last)}: " + ", ".join(counts))
        self.updateGeometry()

    def table(self) -> ChartTable:
        lines: list[tuple[date, tuple[str, ...]]] = []
        for lane in self._lanes:
            lines += [(m.day, (long(m.day), "", lane.name, m.words or m.disc)) for m in lane.moments]
            for span in lane.spans:
                until = long(span.last) if span.last else ""
                lines.append((span.first, (long(span.first), until, lane.name, span.words)))
        rows = tuple(row for _day, row in sorted(lines, key=lambda line: line[0]))
        return ChartTable(("From", "Until", "What", "Words"), rows)

    def sizeHint(self) -> QSize:
        return QSize(look.px(400), look.px(_LANE) * len(self._lanes) + look.px(22))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(240), self.sizeHint().height())

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        pad, lane_high = look.px(16), look.px(_LANE)
        names = max((look.metrics("small").horizontalAdvance(lane.name) for lane in self._lanes), default=0)
        left = pad + max(look.px(60), names + look.px(12))
        bottom = room.top() + lane_high * len(self._lanes)
        plot = QRect(left, room.top(), room.width() - left - pad, bottom - room.top())
        across = Scale(self._first.toordinal(), self._last.toordinal(), plot.left(), plot.right())
        self._paint_months(painter, plot, across)
        for at, lane in enumerate(self._lanes):
            rect = QRect(plot.left(), room.top() + at * lane_high, plot.width(), lane_high)
            name = QRect(pad, rect.top(), left - pad, lane_high - 1)
            paint_text(painter, name, lane.name, "ink2", role="small")
            hairline(painter, pad, rect.bottom(), rect.right() - pad)
            self._paint_spans(painter, rect, lane, across)
            self._paint_moments(painter, rect, lane, across)

    def _paint_months(self, painter: QPainter, plot: QRect, across: Scale) -> None:
        wide = look.metrics("small").horizontalAdvance("Mar") + look.px(5)
        free = plot.left() - 1
        for start in month_starts(self._first, self._last):
            x = round(across.at(max(start, self._first).toordinal()))
            upright(painter, x, plot.top(), plot.height(), "line")
            if x >= free and x + wide <= plot.right() + look.px(18):
                place = QRect(x + look.px(2), plot.bottom() + look.px(2), wide, look.px(18))
                paint_text(painter, place, month_word(start), "ink3", role="small")
                free = x + wide

    def _paint_spans(self, painter: QPainter, rect: QRect, lane: Lane, across: Scale) -> None:
        for span in lane.spans:
            end = span.last or self._last
            if end < self._first or span.first > self._last:
                continue
            begun_here = span.first >= self._first
            x = round(across.at(max(span.first, self._first).toordinal()))
            right = round(across.at(min(end, self._last).toordinal()))
            bar = QRect(x, rect.top() + look.px(3), max(2, right - x), rect.height() - look.px(6))
            fill(painter, bar, span.ground)
            if begun_here:
                fill(painter, QRect(bar.left(), bar.top(), 2, bar.height()), span.edge)
            words = bar.adjusted(look.px(6), 0, 0, 0)
            if look.metrics("small").horizontalAdvance(span.words) <= words.width():
                paint_text(painter, words, span.words, "ink", role="small")
            until = long(span.last) if span.last else "still"
            said = f"{lane.name}: {span.words}, {long(span.first)} to {until}"
            self.spots.append(Spot(QRectF(bar).center(), said))

    def _paint_moments(self, painter: QPainter, rect: QRect, lane: Lane, across: Scale) -> None:
        for moment in lane.moments:
            if not self._first <= moment.day <= self._last:
                continue
            at = QPointF(across.at(moment.day.toordinal()), rect.top() + (rect.height() - 1) / 2)
            _paint_moment(painter, at, moment)
            said = f"{long(moment.day)}: {lane.name} {moment.words}".rstrip()
            self.spots.append(Spot(at, said))


def _paint_moment(painter: QPainter, at: QPointF, moment: Moment) -> None:
    tokens = look.current()
    if moment.shape is Shape.DISC:
        side = look.px(11)
        paint_disc(painter, QRectF(at.x() - side / 2, at.y() - side / 2, side, side), moment.disc)
    elif moment.shape is Shape.BRICK:
        wide, high = look.px(5), look.px(10)
        rect = QRect(round(at.x() - wide / 2), round(at.y() - high / 2), wide, high)
        painter.setPen(QPen(Qt.PenStyle.NoPen))
        fill(painter, rect, "c2")
    elif moment.shape is Shape.DIAMOND:
        paint_marker(painter, at, Marker.DIAMOND, tokens.colour("info"), look.px(8))
    else:
        hollow = moment.shape is Shape.RING
        paint_marker(painter, at, Marker.DISC, tokens.colour("ink2"), look.px(6.5), hollow=hollow)
