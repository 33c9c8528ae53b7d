"""The table on the window: what is chosen stays chosen, and nothing that counts is ever cut."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align, Cell, Column, Row, Run
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.painting import elisions
from beeledger.ui.widgets.record_table import RecordTable

COLUMNS = (
    Column("hive", "Hive", sample="9999", align=Align.RIGHT),
    Column("site", "Site", sample="Mill Leat"),
    Column("due", "Due", sample="in 3 d", slack=True, marks=True),
)


def rows(count: int = 40, due: str = "swarm check") -> list[Row]:
    return [
        Row(
            n,
            (Cell(str(n), weight=600), Cell("Mill Leat"), Cell(due, "now", mark=Mark.LATE)),
            (n, "Mill Leat", due),
        )
        for n in range(1001, 1001 + count)
    ]


@pytest.fixture
def table(qapp: object, qtbot: object) -> RecordTable:
    made = RecordTable(COLUMNS)
    qtbot.addWidget(made)
    made.resize(420, 300)
    made.set_rows(rows())
    made.show()
    return made


@pytest.fixture
def counted() -> Iterator[None]:
    elisions.clear()
    elisions.on = True
    yield
    elisions.on = False
    elisions.clear()


def test_what_is_chosen_is_told_by_id_in_the_order_shown(table: RecordTable, qtbot: object) -> None:
    with qtbot.waitSignal(table.chosen_changed) as told:
        table.choose([1010, 1002])
    assert told.args == [[1002, 1010]]
    assert table.chosen() == [1002, 1010]


def test_new_rows_keep_the_choice_and_tell_nothing(table: RecordTable, qtbot: object) -> None:
    table.choose([1003, 1005])
    with qtbot.assertNotEmitted(table.chosen_changed):
        table.set_rows([*rows(), *rows(45)[40:]])
    assert table.chosen() == [1003, 1005]


def test_a_row_that_is_gone_is_no_longer_chosen(table: RecordTable, qtbot: object) -> None:
    table.choose([1003, 1005])
    with qtbot.waitSignal(table.chosen_changed) as told:
        table.set_rows([row for row in rows() if row.id != 1003])
    assert told.args == [[1005]]


def test_a_choice_comes_back_when_the_filter_is_taken_away(table: RecordTable) -> None:
    table.choose([1003, 1005])
    table.filter_words("1005")
    assert table.chosen() == [1005]
    table.filter_words("")
    assert table.chosen() == [1003, 1005]


def test_scrolling_stays_at_the_same_row_when_rows_come_in_above(table: RecordTable) -> None:
    table.verticalScrollBar().setValue(20 * table.rowHeight(0) + 5)
    before = table.records.row_at(table.rowAt(0)).id, table.rowViewportPosition(table.rowAt(0))
    early = [Row(n, (Cell(str(n)), Cell("Ling"), Cell(""))) for n in range(900, 910)]
    table.set_rows([*early, *rows()])
    after = table.records.row_at(table.rowAt(0)).id, table.rowViewportPosition(table.rowAt(0))
    assert after == before


def test_a_click_on_the_head_sorts_and_a_second_turns_it_round(table: RecordTable) -> None:
    table._head.sectionClicked.emit(0)
    assert table.records.order == (0, False)
    table._head.sectionClicked.emit(0)
    assert table.records.order == (0, True)
    assert table.records.row_at(0).id == 1040


def test_a_column_that_is_not_there_cannot_be_sorted(table: RecordTable) -> None:
    with pytest.raises(KeyError):
        table.sort_by("weight")


def test_enter_and_a_double_click_open_the_row(table: RecordTable, qtbot: object) -> None:
    table.choose([1002])
    with qtbot.waitSignal(table.opened) as told:
        QTest.keyClick(table, Qt.Key.Key_Return)
    assert told.args == [1002]
    at = table.visualRect(table.records.index(3, 1)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
    with qtbot.waitSignal(table.opened) as told:
        QTest.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert told.args == [1004]


def test_letters_typed_in_the_table_go_to_the_filter_box(table: RecordTable, qtbot: object) -> None:
    box = FilterBox()
    qtbot.addWidget(box)
    box.bind(table)
    QTest.keyClicks(table, "1007")
    assert box.text() == "1007"
    assert [row.id for row in table.records.rows_shown()] == [1007]
    QTest.keyClick(box, Qt.Key.Key_Escape)
    assert table.records.rowCount() == 40


def test_how_many_are_shown_of_how_many_is_told(table: RecordTable, qtbot: object) -> None:
    with qtbot.waitSignal(table.shown_changed) as told:
        table.filter_words("100")
    assert told.args == [9, 40]


def test_a_tick_adds_to_the_choice_and_a_second_takes_it_back(qapp: object, qtbot: object) -> None:
    table = RecordTable(COLUMNS, ticks=True)
    qtbot.addWidget(table)
    table.resize(420, 300)
    table.set_rows(rows())
    table.show()
    for row_id in (1001, 1003):
        QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=table.tick_place(row_id))
    assert table.chosen() == [1001, 1003]
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=table.tick_place(1001))
    assert table.chosen() == [1003]
    QTest.keyClick(table, Qt.Key.Key_Space)
    assert table.chosen() == [1001, 1003]


def test_the_keys_walk_past_ticks_and_leave_them(qapp: object, qtbot: object) -> None:
    table = RecordTable(COLUMNS, ticks=True)
    qtbot.addWidget(table)
    table.set_rows(rows())
    table.show()
    table.setFocus()
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Space, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Space):
        QTest.keyClick(table, key)
    first, second = table.chosen()
    assert second == first + 2
    QTest.keyClick(table, Qt.Key.Key_Space)
    assert table.chosen() == [first]


@pytest.mark.parametrize("key", [Qt.Key.Key_Down, Qt.Key.Key_Return])
def test_the_one_row_that_a_filter_leaves_is_chosen_by_going_there(
    table: RecordTable, qtbot: object, key: Qt.Key
) -> None:
    table.choose([1001])
    table.filter_words("1007")
    assert table.chosen() == []
    with qtbot.waitActive(table):
        table.activateWindow()
    table.setFocus()
    QTest.keyClick(table, key)
    assert table.chosen() == [1007]


def test_down_from_the_filter_box_chooses_where_nothing_is_chosen(table: RecordTable, qtbot: object) -> None:
    box = FilterBox()
    qtbot.addWidget(box)
    box.bind(table)
    box.show()
    box.setText("1007")
    QTest.keyClick(box, Qt.Key.Key_Down)
    assert table.chosen() == [1007]


def test_every_fifth_visible_row_has_the_darker_line(table: RecordTable) -> None:
    table.filter_by(lambda row: row.id % 2 == 0)
    picture = table.viewport().grab().toImage()
    for line in range(10):
        y = table.rowViewportPosition(line) + table.rowHeight(line) - 1
        token = "line5" if line % 5 == 4 else "line"
        assert picture.pixelColor(200, y) == QColor(getattr(look.current(), token)), line


def test_a_chosen_row_has_its_tint_and_its_bar(table: RecordTable) -> None:
    table.choose([1002])
    picture = table.viewport().grab().toImage()
    y = table.rowViewportPosition(1) + 3
    assert [picture.pixelColor(x, y).name().upper() for x in (0, 2, 4)] == [
        look.current().accent.upper(),
        look.current().accent.upper(),
        look.current().accentsoft.upper(),
    ]


def test_only_a_sentence_is_shortened_and_it_says_itself_whole(table: RecordTable, counted: None) -> None:
    long = "figures differ from what the crew wrote last week and from the week before that as well"
    table.set_rows(rows(3, long))
    table.viewport().grab()
    assert elisions.shortened == [long] * 3
    assert elisions.cut == []
    index = table.records.index(0, 2)
    assert table._delegate.is_shortened(table.visualRect(index), index)


def test_a_column_grows_rather_than_cut_a_figure(table: RecordTable, counted: None) -> None:
    wide = Cell("1,234,567.890", weight=600)
    table.set_rows([Row(1, (wide, Cell("A site with a name nobody expected"), Cell("")))])
    table.viewport().grab()
    assert elisions.cut == []


def test_a_figure_that_is_cut_is_counted(table: RecordTable, counted: None) -> None:
    table._head.resizeSection(0, 24)
    table.viewport().grab()
    assert "1001" in elisions.cut


@pytest.mark.parametrize("base", [9.0, 16.0])
@pytest.mark.parametrize("tokens", [look.LIGHT, look.DARK], ids=lambda tokens: tokens.name)
def test_nothing_is_cut_at_any_text_size(
    table: RecordTable, qapp: object, counted: None, tokens: look.Look, base: float
) -> None:
    small = table.rowHeight(0)
    try:
        look.apply(qapp, tokens, base)
        table.grab()
        assert elisions.cut == []
        assert (table.rowHeight(0) > small) == (base > look.DEFAULT_BASE_PT)
    finally:
        look.apply(qapp, look.LIGHT)


def test_two_lines_in_a_row_stand_in_forty_one_pixels(qapp: object, qtbot: object, counted: None) -> None:
    table = RecordTable(COLUMNS[1:], lines=2)
    qtbot.addWidget(table)
    table.set_rows(
        [Row(1, (Cell("Bell Orchard", second="cider apple · 14 ha"), Cell("8 short", mark=Mark.LATE)))]
    )
    table.resize(400, 200)
    table.viewport().grab()
    assert table.rowHeight(0) == 41
    assert elisions.cut == []


def test_words_in_several_inks_are_painted_in_each(qapp: object, qtbot: object) -> None:
    table = RecordTable([Column("why", "Why", slack=True)])
    qtbot.addWidget(table)
    table.set_rows([Row(1, (Cell(runs=(Run("18", "now", 700), Run("light", "info", 700))),))])
    table.resize(300, 80)
    picture = table.viewport().grab().toImage()
    seen = {picture.pixel(x, y) for x in range(picture.width()) for y in range(22)}
    assert {QColor(look.current().now).rgb(), QColor(look.current().info).rgb()} <= seen


def test_the_pointer_tints_the_row_it_is_on(table: RecordTable) -> None:
    at = table.visualRect(table.records.index(2, 1)).center()
    QTest.mouseMove(table.viewport(), at)
    table._hover(table.rowAt(at.y()))
    y = table.rowViewportPosition(2) + 3
    picture = table.viewport().grab().toImage()
    assert picture.pixelColor(QPoint(4, y)) == QColor(look.current().hover)


def test_the_row_the_keys_are_on_shows_when_others_are_chosen(table: RecordTable, qtbot: object) -> None:
    with qtbot.waitActive(table):
        table.activateWindow()
    table.setFocus()
    table.choose([1002])
    table.grab()
    assert table._delegate.focused == -1
    QTest.keyClick(table, Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier)
    picture = table.viewport().grab().toImage()
    assert picture.pixelColor(200, table.rowViewportPosition(2)) == QColor(look.current().accent)
    assert table.chosen() == [1002]


def test_a_column_of_names_has_room_for_the_longest_and_the_rest_of_the_slack(
    qapp: object, qtbot: object, counted: None
) -> None:
    columns = (Column("lot", "Lot"), Column("name", "Product", slack=True, whole=True))
    made = RecordTable(columns)
    qtbot.addWidget(made)
    made.resize(120, 200)
    names = ["Heather", "Summer honey from the lime walk"]
    made.set_rows([Row(n, (Cell("1"), Cell(name, weight=500))) for n, name in enumerate(names)])
    made.show()
    made.grab()
    assert elisions.shortened == []
    made.resize(900, 200)
    assert sum(made.columnWidth(at) for at in (0, 1)) == made.viewport().width()


def test_the_widest_text_is_found_among_many_equal_ones(qapp: object, qtbot: object, counted: None) -> None:
    columns = (Column("queen", "Queen", sample="red", marks=True), Column("due", "Due", slack=True))
    made = RecordTable(columns)
    qtbot.addWidget(made)
    marked = [Row(n, (Cell(f"red 23-{n:03}", disc="red"), Cell(""))) for n in range(60)]
    made.set_rows([*marked, Row(99, (Cell("unmarked 2025"), Cell("")))])
    made.resize(500, 1700)
    made.show()
    made.grab()
    assert elisions.cut == []
