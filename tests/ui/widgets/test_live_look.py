"""The look and the text size change while the window is open, and every piece follows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Cell, Column, Interval, Row, Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import ActFoot, TableFoot
from beeledger.ui.widgets.form import Form
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.line_chart import LineChart, Point, Series
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.painting import elisions
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.score_rows import Score, ScoreRows
from beeledger.ui.widgets.share_bar import Share, ShareBar
from beeledger.ui.widgets.tabs import Tab, Tabs


@pytest.fixture
def counted() -> Iterator[None]:
    elisions.clear()
    elisions.on = True
    yield
    elisions.on = False
    elisions.clear()


def a_table() -> QWidget:
    columns = [
        Column("hive", "Hive"),
        Column("queen", "Queen", sample="yellow 22-198"),
        Column("due", "Due", slack=True),
    ]
    table = RecordTable(columns)
    cells = (
        Cell("1187", weight=600),
        Cell("green 24-118", disc="green"),
        Cell("late", "now", mark=Mark.LATE),
    )
    table.set_rows([Row(1187, cells)])
    table.choose([1187])
    foot = TableFoot(table)
    foot.say([Run("60 colonies", "ink", 600, small=True)], [Run("next look 16 May", small=True)])
    foot.set_sums({"due": "4"})
    chips = Chips()
    chips.add("alive", "alive", on=True, removable=True)
    return Stack(Band(FilterBox(), chips), Tabs([Tab(1, "Perry Tree", "19 of 30")]), table, foot)


def a_card() -> QWidget:
    card = Card()
    card.say("Hive 1187", [Run("green 24-118", "ink", 600, disc="green")], "Perry Tree, stand 10")
    card.head.set_acts(Button("Move"), Button("Split"), last=Button("Open wide", kind="quiet"))
    card.add(KeyFigures([Figure("Stores", "6", "kg", "hefted, ±2", Mark.ODD)]))
    card.section(
        "due", "What is due", FactRows([Fact("Swarm check", "4 days late", Mark.LATE, "every 7 days")])
    )
    chart = LineChart("Mites", "in 100 bees")
    chart.set_series([Series("counted", (Point(date(2026, 4, 1), 1), Point(date(2026, 5, 1), 2)))])
    card.section("mites", "Mites", chart)
    scores = ScoreRows()
    scores.set_scores([Score("Honey", "14 takes", "+3.2 kg", Interval(3.2, 2.1, 4.3, -6, 6, 0))])
    card.section("scores", "Scores", scores)
    card.section("where", "Where it went", EmptyState("Nothing has left yet", "Print first.", "Print"))
    foot = ActFoot(Button("Edit label"), Button("Print 812", kind="main"))
    foot.say([Run("1 to mend", "now", 600, mark=Mark.LATE, small=True)])
    card.set_foot(foot)
    return card


def a_form() -> QWidget:
    form = Form("Move hives", "Post the move", "Kept until it is posted.")
    form.add("to", Field("To site", editor=Choice([("1", "Perry Tree")])))
    form.add("day", Field("Day", "14 May")).say("now", "31 Feb is no day")
    form.caution("Full supers are heavier than one person should lift.")
    return form


def colours(image: QImage) -> set[str]:
    return {
        image.pixelColor(x, y).name().upper()
        for x in range(0, image.width(), 2)
        for y in range(image.height())
    }


@pytest.fixture
def window(qapp: object, qtbot: object) -> Iterator[QWidget]:
    panes = Panes(a_table(), a_card(), a_form())
    qtbot.addWidget(panes)
    panes.resize(1500, 700)
    panes.show()
    yield panes
    look.apply(qapp, look.LIGHT)


def test_nothing_stays_light_when_the_look_turns_dark(window: QWidget, qapp: object) -> None:
    light = {
        look.LIGHT.paper,
        look.LIGHT.sunk,
        look.LIGHT.accentsoft,
        look.LIGHT.accent,
        look.LIGHT.now,
        look.LIGHT.ink,
    }
    assert light <= colours(window.grab().toImage())
    look.apply(qapp, look.DARK)
    dark = colours(window.grab().toImage())
    assert not light & dark
    assert {look.DARK.paper, look.DARK.sunk, look.DARK.accent} <= dark


@pytest.mark.parametrize("base", [9.0, 12.0, 16.0])
def test_no_figure_is_cut_when_the_text_grows(
    window: QWidget, qapp: object, counted: None, base: float
) -> None:
    look.apply(qapp, look.LIGHT, base)
    qapp.processEvents()  # the layouts are laid out anew
    window.grab()
    assert elisions.cut == []


def test_shares_are_as_long_as_they_weigh(qapp: object, qtbot: object) -> None:
    bar = ShareBar()
    qtbot.addWidget(bar)
    bar.set_shares([Share("Lime Walk", 750, "75.0 %"), Share("Mill Leat", 250, "25.0 %")])
    bar.resize(432, 26)
    image = bar.grab().toImage()
    line = [image.pixelColor(x, 12).name().upper() for x in range(432)]
    assert line.count(look.current().c1) == 298  # three quarters of 400, less the cut of two pixels
    assert line.count(look.current().c2) == 100
    assert bar.accessibleDescription() == "Lime Walk 75.0 %, Mill Leat 25.0 %"
    with pytest.raises(ValueError, match="below nought"):
        bar.set_shares([Share("Ling", -1)])


def test_a_score_too_thin_to_rank_by_is_a_ring_and_says_so(qapp: object, qtbot: object) -> None:
    rows = ScoreRows()
    qtbot.addWidget(rows)
    rows.set_scores([Score("Winter loss", "few sisters", "+1 %", Interval(0, -5, 5, -10, 10, thin=True))])
    rows.resize(rows.sizeHint())
    image = rows.grab().toImage()
    middle = rows.spots[0].point.toPoint()
    assert image.pixelColor(middle).name().upper() == look.current().paper
    assert rows.table().rows == (("Winter loss", "+1 %", "few sisters", "too thin to rank by"),)
