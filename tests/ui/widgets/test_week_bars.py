"""Use by week: solid bars for what is on record, outlines for what is reckoned, the same figures as a table."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor

from beeledger.ui.widgets import look
from beeledger.ui.widgets.week_bars import WeekBar, WeekBars

MONDAY = date(2026, 5, 4)
WEEKS = [
    WeekBar(MONDAY, 40.0),
    WeekBar(MONDAY + timedelta(days=7), 20.0, lost=20.0, days=4),
    WeekBar(MONDAY + timedelta(days=11), 40.0, ahead=True),
]


def grabbed(qtbot: Any, weeks: list[WeekBar]) -> WeekBars:
    chart = WeekBars("Use by week", "kg")
    qtbot.addWidget(chart)
    chart.resize(400, 200)
    chart.set_weeks(weeks, "kg")
    chart.show()
    return chart


def test_a_past_week_is_solid_and_one_ahead_is_an_outline(qtbot: Any) -> None:
    chart = grabbed(qtbot, WEEKS)
    picture = chart.grab().toImage()
    past, _now, ahead = [spot.point for spot in chart.spots]

    def colour(x: float, y: float) -> QColor:
        return picture.pixelColor(QPoint(round(x), round(y)))

    blue = look.current().colour("c1")
    assert colour(past.x(), past.y() + 30) == blue
    assert colour(ahead.x(), ahead.y() + 30) != blue
    assert colour(ahead.x(), ahead.y()) == blue  # its upper edge
    assert past.y() == ahead.y()  # as much in both


def test_what_was_wasted_stands_on_top_in_its_own_colour_and_has_a_key(qtbot: Any) -> None:
    chart = grabbed(qtbot, WEEKS)
    picture = chart.grab().toImage()
    top = chart.spots[1].point
    assert picture.pixelColor(QPoint(round(top.x()), round(top.y()) - 5)) == look.current().colour("c2")
    assert [name for name, _ink, _marker in chart.key()] == ["used", "wasted"]
    chart.set_weeks(WEEKS[:1], "kg")
    assert [name for name, _ink, _marker in chart.key()] == ["used"]


def test_the_same_figures_stand_in_a_table_and_a_sentence(qtbot: Any) -> None:
    chart = grabbed(qtbot, WEEKS)
    assert chart.table().rows == (
        ("4 May 2026", "40", "0", ""), ("11 May 2026", "20", "20", ""), ("15 May 2026", "40", "0", "ahead"),
    )  # fmt: skip
    assert chart.accessibleDescription() == "60 kg used in 2 weeks, 40 kg in 1 week ahead"


def test_no_use_says_so_and_draws_no_axis(qtbot: Any) -> None:
    chart = grabbed(qtbot, [WeekBar(MONDAY, 0.0)])
    chart.grab()
    assert chart.spots == []
