"""Charts show what somebody recorded, say it in words, and give its figures as a table."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.bar_rows import Bar, BarRows, Kind, TableWithBars
from beeledger.ui.widgets.canvas import Threshold
from beeledger.ui.widgets.cells import Cell, Column, Row
from beeledger.ui.widgets.line_chart import LineChart, Point, Series, Zone
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.painting import elisions
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.scales import Scale, figure, month_starts, reach, ticks
from beeledger.ui.widgets.time_lanes import Lane, Moment, Shape, Span, TimeLanes
from beeledger.ui.widgets.weights_chart import Limit, Weight, WeightsChart

START = date(2025, 6, 1)


def day(after: int) -> date:
    return START + timedelta(days=after)


def shown(widget: QWidget, width: int = 400, height: int = 240) -> QImage:
    widget.resize(width, height)
    return widget.grab().toImage()


def colours(image: QImage) -> set[str]:
    return {
        image.pixelColor(x, y).name().upper() for x in range(image.width()) for y in range(image.height())
    }


@pytest.fixture
def counted() -> Iterator[None]:
    elisions.clear()
    elisions.on = True
    yield
    elisions.on = False
    elisions.clear()


def test_an_axis_names_at_most_five_round_values() -> None:
    assert ticks(0, 15) == [0, 5, 10, 15]
    assert ticks(0, 6) == [0, 2, 4, 6]
    assert ticks(328.1, 348.3) == [330, 335, 340, 345]
    assert ticks(0, 0.35) == [0, 0.1, 0.2, 0.3]
    for high in (1, 3, 7, 9, 11, 13, 42, 99, 1234):
        assert 2 <= len(ticks(0, high)) <= 5


def test_counts_begin_at_nought_and_end_on_a_round_value() -> None:
    assert reach([9, 15], from_nought=True) == (0, 15)
    assert reach([0.7, 4.3, 3], from_nought=True) == (0, 6)
    assert reach([], from_nought=True) == (0, 1)
    assert reach([0, 0], from_nought=True) == (0, 1)


def test_weights_need_not_begin_at_nought() -> None:
    low, high = reach([330, 350], from_nought=False)
    assert 328 < low < 330
    assert 350 < high < 352


def test_a_scale_goes_there_and_back() -> None:
    scale = Scale(0, 10, 200, 100)
    assert scale.at(5) == 150
    assert scale.value(scale.at(3.5)) == pytest.approx(3.5)


def test_axis_figures_carry_a_true_minus_and_no_idle_noughts() -> None:
    assert [figure(value) for value in (0.0, 2.5, -3, 1200)] == ["0", "2.5", "−3", "1,200"]


def test_months_are_counted_over_the_turn_of_the_year() -> None:
    assert month_starts(date(2025, 11, 14), date(2026, 2, 1)) == [
        date(2025, 11, 1), date(2025, 12, 1), date(2026, 1, 1), date(2026, 2, 1)
    ]  # fmt: skip


@pytest.fixture
def chart(qapp: object, qtbot: object) -> LineChart:
    made = LineChart("Mites", "in 100 bees")
    qtbot.addWidget(made)
    points = (Point(day(30), 0.7, "2 in 300"), Point(day(80), 4.3, "13 in 300"), Point(day(325), 1.0))
    made.set_series([Series("counted", points)], [Threshold(3, "treat at 3", orders=True)])
    return made


def test_a_chart_says_what_it_shows_and_gives_its_figures(chart: LineChart) -> None:
    assert chart.accessibleName() == "Mites, in 100 bees"
    assert chart.accessibleDescription() == (
        "counted: 3 figures from 1 Jul 2025 to 22 Apr 2026, last 1; treat at 3"
    )
    assert chart.table().heads == ("Day", "counted")
    assert chart.table().rows == (
        ("1 Jul 2025", "0.7, 2 in 300"),
        ("20 Aug 2025", "4.3, 13 in 300"),
        ("22 Apr 2026", "1"),
    )


def test_each_point_stands_at_its_day_and_value_and_says_itself(chart: LineChart) -> None:
    shown(chart)
    first, second, third = (spot.point for spot in chart.spots)
    assert first.x() < second.x() < third.x()
    assert second.y() < third.y() < first.y() + 1
    share = (second.x() - first.x()) / (third.x() - first.x())
    assert share == pytest.approx(50 / 295, abs=0.001)
    rise = (first.y() - second.y()) / (first.y() - third.y())
    assert rise == pytest.approx(3.6 / 0.3, abs=0.01)
    assert chart.words_at(second + QPointF(2, 1)) == "20 Aug 2025: counted 4.3 in 100 bees, 13 in 300"
    assert chart.words_at(QPointF(0, 0)) == ""


def test_a_line_is_whole_within_the_rhythm_and_dotted_past_it(qapp: object, qtbot: object) -> None:
    chart = LineChart("", "")
    qtbot.addWidget(chart)

    def inked(rhythm: int) -> int:
        chart.set_series([Series("bees", (Point(day(0), 5), Point(day(100), 5)), rhythm)])
        image = shown(chart)
        y = round(chart.spots[0].point.y())
        ground = QColor(look.current().paper).lightness()
        return sum(image.pixelColor(x, y).lightness() < ground - 60 for x in range(image.width()))

    assert inked(100) > 1.5 * inked(99)


def test_an_ordering_threshold_is_red_and_an_advising_one_is_not(qapp: object, qtbot: object) -> None:
    for orders in (True, False):
        chart = LineChart("", "")
        qtbot.addWidget(chart)
        series = Series("bees", (Point(day(0), 1), Point(day(9), 9)))
        chart.set_series([series], [Threshold(6, "6 to super", orders=orders)])
        assert (look.current().now in colours(shown(chart))) == orders


def test_more_than_four_series_are_refused(chart: LineChart) -> None:
    with pytest.raises(ValueError, match="small charts"):
        chart.set_series([Series(str(at), ()) for at in range(5)])


def test_a_chart_of_nothing_says_so(chart: LineChart) -> None:
    chart.set_series([Series("counted", ())])
    assert chart.accessibleDescription() == "counted: nothing recorded"
    shown(chart)
    assert chart.table().rows == ()


def test_a_zone_past_a_limit_has_the_soft_ground(chart: LineChart) -> None:
    chart.set_series([Series("counted", (Point(day(0), 1), Point(day(30), 4)))], zones=[Zone(3, 99)])
    assert look.current().nowsoft in colours(shown(chart))


def test_lanes_list_moments_and_stretches_in_order(qapp: object, qtbot: object) -> None:
    lanes = TimeLanes()
    qtbot.addWidget(lanes)
    lanes.set_lanes(
        [
            Lane("Looks", (Moment(day(40)), Moment(day(200), Shape.RING, "hefted"))),
            Lane("Queen", (Moment(day(20), Shape.DISC, disc="green"),)),
            Lane("Supers", (), (Span(day(-12), day(72), "2 on"), Span(day(317), None, "2 on"))),
        ],
        START,
        date(2026, 5, 14),
    )
    shown(lanes, 600, lanes.sizeHint().height())
    assert [row[0] for row in lanes.table().rows] == [
        "20 May 2025", "21 Jun 2025", "11 Jul 2025", "18 Dec 2025", "14 Apr 2026"
    ]  # fmt: skip
    assert lanes.table().rows[-1][1] == ""  # still so: no end is known
    assert lanes.accessibleDescription() == "1 Jun 2025 to 14 May 2026: Looks 2, Queen 1, Supers 2"
    assert any("Supers: 2 on, 14 Apr 2026 to still" in spot.words for spot in lanes.spots)


def test_a_jar_past_the_limit_is_marked_on_its_ground(qapp: object, qtbot: object, counted: None) -> None:
    chart = WeightsChart("grams")
    qtbot.addWidget(chart)
    weights = [Weight(1, 341.2), Weight(2, 329.1, Mark.LATE, "jar 2, 329.1 g")]
    limits = [Limit(340, "340 g nominal"), Limit(329.8, "329.8 g", "3 % short", "now", forbids=True)]
    chart.set_weights(weights, limits, planned=80)
    image = shown(chart, 420, 360)
    assert {look.current().nowsoft, look.current().c1} <= colours(image)
    assert chart.table().rows == (("1", "341.2", ""), ("2", "329.1", "jar 2, 329.1 g"))
    assert chart.accessibleDescription().startswith("2 of 80 weighed, 340 g nominal at 340")
    assert elisions.cut == []


@pytest.fixture
def season(qapp: object, qtbot: object) -> TableWithBars:
    table = RecordTable([Column("c", "Contract", sample="Bell Orchard")], lines=2, head_height=40)
    table.set_rows([Row(at, (Cell(name),)) for at, name in enumerate(("Bell Orchard", "Court beans"))])
    bars = BarRows(table)
    bars.set_bars(
        {
            0: [Bar(date(2026, 5, 12), date(2026, 5, 27), Kind.ENDS, "bloom")],
            1: [Bar(date(2026, 6, 1), date(2026, 6, 20), Kind.FULL, lower=True)],
        },
        date(2026, 4, 1),
        date(2026, 8, 31),
        date(2026, 5, 14),
    )
    both = TableWithBars(table, bars)
    qtbot.addWidget(both)
    both.resize(700, 200)
    both.show()
    return both


def test_bars_stand_on_the_line_of_their_row(season: TableWithBars) -> None:
    season.bars.grab()
    places = {spot.words: spot.point for spot in season.bars.spots}
    bloom = places["bloom, 12 May 2026 to 27 May 2026"]
    hives = places["full, 1 Jun 2026 to 20 Jun 2026"]
    head = season.table.horizontalHeader().height()
    assert head < bloom.y() < head + 41 < hives.y() < head + 82
    assert bloom.x() < hives.x()
    assert season.bars.table().rows[0] == ("Bell Orchard", "12 May 2026", "27 May 2026", "bloom")


def test_bars_follow_the_filter_of_their_table(season: TableWithBars) -> None:
    season.table.filter_words("court")
    season.bars.grab()
    assert [spot.words for spot in season.bars.spots] == ["full, 1 Jun 2026 to 20 Jun 2026"]
    assert len(season.bars.table().rows) == 1


def test_the_line_of_today_is_drawn_in_damson(season: TableWithBars) -> None:
    image = season.bars.grab().toImage()
    x = round(
        (date(2026, 5, 14) - date(2026, 4, 1)).days / 153 * season.bars.width() + season.bars.width() / 306
    )
    y = season.bars.height() - 3
    near = {image.pixelColor(x + step, y).name().upper() for step in (-1, 0, 1)}
    assert look.current().accent in near


def test_words_after_the_last_bar_of_a_season_stand_before_it_and_are_not_cut(season: TableWithBars) -> None:
    bars = {0: [Bar(date(2026, 8, 1), date(2026, 8, 31), Kind.DASHED, "26 hives", lower=True)]}
    season.bars.set_bars(bars, date(2026, 4, 1), date(2026, 8, 31))
    image = season.bars.grab().toImage()
    left = round(season.bars.width() * 122 / 153)
    y = season.table.horizontalHeader().height() + season.table.rowHeight(0) // 2 + look.px(8)
    inked = {
        image.pixelColor(x, y + step).name() for x in range(left - 60, left - 8) for step in range(-4, 5)
    }
    assert any(QColor(colour).lightness() < 140 for colour in inked)
