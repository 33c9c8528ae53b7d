"""What was used week by week as bars, and what is likely to be used as outlines, with today between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import QPointF, QRect
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QWidget

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.ui.widgets import look
from beeledger.ui.widgets.canvas import Canvas, ChartTable, Marker, Spot
from beeledger.ui.widgets.line_chart import paint_months
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import fill, paint_text
from beeledger.ui.widgets.scales import Scale, figure, reach


@dataclass(frozen=True, slots=True)
class WeekBar:
    """One week from its first day. ``lost`` stands on top of ``value``; ``ahead`` is drawn in outline."""

    first: date
    value: float
    lost: float = 0.0
    ahead: bool = False
    days: int = 7
    """Fewer for a week that is not over."""

    @property
    def end(self) -> date:
        """The day after its last."""
        return self.first + timedelta(days=self.days)


class WeekBars(Canvas):
    """Bars from nought: solid what is on record, in outline what is reckoned."""

    def __init__(self, title: str, unit: str = "", parent: QWidget | None = None) -> None:
        super().__init__(title, unit, parent)
        self._weeks: tuple[WeekBar, ...] = ()

    def set_weeks(self, weeks: Sequence[WeekBar], unit: str) -> None:
        """Show other weeks, oldest first."""
        self._weeks, self.unit = tuple(weeks), unit
        past = [week for week in weeks if not week.ahead]
        used, ahead = sum(week.value for week in past), sum(week.value for week in weeks if week.ahead)
        self.describe(
            f"{figure(round(used, 1))} {unit} used in {counted(len(past), 'week')}, "
            f"{figure(round(ahead, 1))} {unit} in {counted(len(weeks) - len(past), 'week')} ahead"
        )

    def key(self) -> Sequence[tuple[str, Token, Marker]]:
        named: list[tuple[str, Token, Marker]] = [("used", "c1", Marker.SQUARE)]
        if any(week.lost for week in self._weeks):
            named.append(("wasted", "c2", Marker.SQUARE))
        return named

    def table(self) -> ChartTable:
        rows = tuple(
            (long(week.first), figure(week.value), figure(week.lost), "ahead" if week.ahead else "")
            for week in self._weeks
        )
        return ChartTable(("Week from", "Used", "Wasted", ""), rows)

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        if not any(week.value or week.lost for week in self._weeks):
            pad = look.px(16)
            paint_text(painter, room.adjusted(pad, 0, -pad, 0), "Nothing used yet", "ink2", role="small")
            return
        low, high = reach([week.value + week.lost for week in self._weeks], from_nought=True)
        left = self.left_room(low, high) + look.px(4)
        plot = QRect(left, room.top() + look.px(8), room.width() - left - look.px(16), 0)
        plot.setBottom(room.bottom() - look.px(22))
        down = Scale(low, high, plot.bottom(), plot.top())
        first, last = self._weeks[0].first, self._weeks[-1].end
        across = Scale(first.toordinal(), last.toordinal(), plot.left() + 1, plot.right())
        self.paint_levels(painter, plot, down)
        paint_months(painter, plot, across, (_next_month(first), last))
        for week in self._weeks:
            self._paint_week(painter, week, across, down)
        self._paint_today(painter, plot, across)

    def _paint_week(self, painter: QPainter, week: WeekBar, across: Scale, down: Scale) -> None:
        x = round(across.at(week.first.toordinal()))
        width = max(2, round(across.at(week.end.toordinal())) - x - 1)
        ground, top = round(down.at(0)), round(down.at(week.value))
        bar = QRect(x, top, width, ground - top)
        if week.ahead and bar.height() > 0:
            painter.setPen(QPen(look.current().colour("c1"), 1))
            painter.drawRect(bar.adjusted(0, 0, -1, -1))
        elif bar.height() > 0:
            fill(painter, bar, "c1")
        if week.lost:
            over = round(down.at(week.value + week.lost))
            fill(painter, QRect(x, over, width, top - over), "c2")
        words = f"week from {long(week.first)}: {figure(week.value)} {self.unit}"
        words += f", wasted {figure(week.lost)}" if week.lost else ""
        self.spots.append(Spot(QPointF(x + width / 2, top), words + (" ahead" if week.ahead else "")))

    def _paint_today(self, painter: QPainter, plot: QRect, across: Scale) -> None:
        ahead = next((week.first for week in self._weeks if week.ahead), None)
        if ahead is not None:
            x = round(across.at(ahead.toordinal())) - 1
            fill(painter, QRect(x, plot.top(), 2, plot.height()), "accent")


def _next_month(day: date) -> date:
    """The first of a month that is not before ``day``: the name of half a month would stand on the next."""
    if day.day == 1:
        return day
    return date(day.year + day.month // 12, day.month % 12 + 1, 1)
