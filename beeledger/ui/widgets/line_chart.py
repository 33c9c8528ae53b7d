"""Points somebody recorded, over dates, joined where two looks are near enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QWidget

from beeledger.base.dates import long
from beeledger.ui.widgets import look
from beeledger.ui.widgets.canvas import (
    SERIES,
    Canvas,
    ChartTable,
    Marker,
    Spot,
    Threshold,
    paint_marker,
    paint_zone,
)
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import fill, paint_text
from beeledger.ui.widgets.scales import Scale, figure, month_starts, month_word, reach


@dataclass(frozen=True, slots=True)
class Point:
    """One recorded figure; ``words`` say how it was got ("8 in 300")."""

    day: date
    value: float
    words: str = ""
    hollow: bool = False


@dataclass(frozen=True, slots=True)
class Series:
    """Points in the order of their days. Two further apart than ``rhythm`` days are joined dotted."""

    name: str
    points: tuple[Point, ...]
    rhythm: int = 60


@dataclass(frozen=True, slots=True)
class Zone:
    """Values past a limit, on a soft ground."""

    low: float
    high: float


class LineChart(Canvas):
    """At most four series. Counts and rates begin at nought; weights need not."""

    def __init__(
        self, title: str, unit: str = "", *, from_nought: bool = True, parent: QWidget | None = None
    ) -> None:
        super().__init__(title, unit, parent)
        self._from_nought = from_nought
        self._series: tuple[Series, ...] = ()
        self._lines: tuple[Threshold, ...] = ()
        self._zones: tuple[Zone, ...] = ()
        self._span: tuple[date, date] | None = None

    def set_series(
        self,
        series: Sequence[Series],
        thresholds: Sequence[Threshold] = (),
        zones: Sequence[Zone] = (),
        span: tuple[date, date] | None = None,
    ) -> None:
        """Show other points; ``span`` fixes the days from and to. ValueError above four series."""
        if len(series) > len(SERIES):
            raise ValueError("more than four series: draw small charts side by side")
        self._series, self._lines, self._zones = tuple(series), tuple(thresholds), tuple(zones)
        self._span = span
        self.describe("; ".join([*map(_said, self._series), *(line.words for line in self._lines)]))

    def key(self) -> Sequence[tuple[str, Token, Marker]]:
        return [(one.name, token, marker) for one, (token, marker) in zip(self._series, SERIES, strict=False)]

    def table(self) -> ChartTable:
        days = sorted({point.day for one in self._series for point in one.points})
        found = [{point.day: point for point in one.points} for one in self._series]
        rows = tuple((long(day), *(_cell(of.get(day)) for of in found)) for day in days)
        return ChartTable(("Day", *(one.name for one in self._series)), rows)

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        span = self._span or self._own_span()
        if span is None:
            pad = look.px(16)
            paint_text(painter, room.adjusted(pad, 0, -pad, 0), "Nothing counted yet", "ink2", role="small")
            return
        values = [point.value for one in self._series for point in one.points]
        values += [line.value for line in self._lines]
        low, high = reach(values, from_nought=self._from_nought)
        left = self.left_room(low, high) + look.px(4)
        plot = QRect(left, room.top() + look.px(10), room.width() - left - look.px(16), 0)
        plot.setBottom(room.bottom() - look.px(22))
        down = Scale(low, high, plot.bottom(), plot.top())
        across = Scale(span[0].toordinal(), span[1].toordinal(), plot.left() + 4, plot.right() - 4)
        for zone in self._zones:
            paint_zone(painter, plot, down.at(min(zone.high, high)), down.at(max(zone.low, low)))
        self.paint_levels(painter, plot, down)
        paint_months(painter, plot, across, span)
        self._paint_series(painter, across, down)
        taken = [point for one in self._series for point in _along(one, across, down)]
        for line in self._lines:
            self.paint_threshold(painter, plot, down, line, taken)

    def _paint_series(self, painter: QPainter, across: Scale, down: Scale) -> None:
        for one, (token, marker) in zip(self._series, SERIES, strict=False):
            places = [QPointF(across.at(p.day.toordinal()), down.at(p.value)) for p in one.points]
            self._paint_joins(painter, one, places, token)
            colour = look.current().colour(token)
            for point, place in zip(one.points, places, strict=True):
                paint_marker(painter, place, marker, colour, look.px(7), hollow=point.hollow)
                words = f"{long(point.day)}: {one.name} {figure(point.value)} {self.unit}".rstrip()
                self.spots.append(Spot(place, f"{words}, {point.words}" if point.words else words))

    def _paint_joins(self, painter: QPainter, one: Series, places: Sequence[QPointF], token: Token) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for at in range(1, len(places)):
            apart = (one.points[at].day - one.points[at - 1].day).days
            pen = QPen(look.current().colour(token), 1.5 if apart <= one.rhythm else 1.2)
            if apart > one.rhythm:
                pen.setStyle(Qt.PenStyle.CustomDashLine)
                pen.setDashPattern([1, 2])
                pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            painter.setPen(pen)
            painter.drawLine(places[at - 1], places[at])
        painter.restore()

    def _own_span(self) -> tuple[date, date] | None:
        days = [point.day for one in self._series for point in one.points]
        return (min(days), max(days)) if days else None


def paint_months(painter: QPainter, plot: QRect, across: Scale, span: tuple[date, date]) -> None:
    """Ticks at the months and as many of their names as fit."""
    starts = [start for start in month_starts(*span) if start >= span[0] or start.month == span[0].month]
    wide = look.metrics("small").horizontalAdvance("Mar") + look.px(10)
    per_month = max(1.0, (across.end - across.start) / max(1, len(starts)))
    every = max(1, -(-wide // int(per_month)))
    for at, start in enumerate(starts):
        x = round(across.at(max(start, span[0]).toordinal()))
        fill(painter, QRect(x, plot.bottom(), 1, look.px(4)), "edge")
        if at % every == 0 and x + wide - look.px(10) <= plot.right() + look.px(16):
            place = QRect(x - look.px(4), plot.bottom() + look.px(4), wide, look.px(18))
            paint_text(painter, place, month_word(start), "ink3", role="small")


def _along(one: Series, across: Scale, down: Scale) -> list[QPointF]:
    """Places along the line, near enough to each other that no word fits between them unseen."""
    places = [QPointF(across.at(p.day.toordinal()), down.at(p.value)) for p in one.points]
    along = list(places)
    for begin, end in pairwise(places):
        steps = int((end - begin).manhattanLength() // 5)
        along += [begin + (end - begin) * (at / steps) for at in range(1, steps)]
    return along


def _said(one: Series) -> str:
    if not one.points:
        return f"{one.name}: nothing recorded"
    first, last = one.points[0], one.points[-1]
    return (
        f"{one.name}: {len(one.points)} figures from {long(first.day)} to {long(last.day)}, "
        f"last {figure(last.value)}"
    )


def _cell(point: Point | None) -> str:
    if point is None:
        return ""
    return f"{figure(point.value)}, {point.words}" if point.words else figure(point.value)
