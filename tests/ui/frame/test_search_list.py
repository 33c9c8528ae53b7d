"""Ctrl+K: anything on the farm, found and opened without a mouse."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from beeledger.queries.search import Hit
from beeledger.ui.frame.search import NOTHING, places_called
from beeledger.ui.frame.window import Window
from beeledger.ui.widgets.painting import elisions
from tests.ui.frame.conftest import settle

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def opened(window: Window) -> list[tuple[str, object]]:
    """What was opened by the search; the places themselves are not."""
    told: list[tuple[str, object]] = []
    window.desk.opened.disconnect(window.open_place)
    window.desk.opened.connect(lambda key, what: told.append((key, what)))
    return told


def type_words(window: Window, qtbot: object, words: str) -> None:
    QTest.keyClick(window, Qt.Key.Key_K, CTRL)
    assert window.top.search.hasFocus()
    QTest.keyClicks(window.top.search, words)
    settle(qtbot, window.desk)


def test_a_hive_is_found_and_opened_by_its_number(window: Window, qtbot: object, opened: list) -> None:
    type_words(window, qtbot, "104")
    assert [(hit.kind, hit.name) for hit in window.search.hits] == [("hive", "1041"), ("hive", "1042")]
    QTest.keyClick(window.top.search, Qt.Key.Key_Down)
    assert window.search.accessibleDescription() == "hive 1042, Sedge Holt"
    QTest.keyClick(window.top.search, Qt.Key.Key_Return)
    assert opened == [("colonies", 2)]
    assert window.top.search.text() == ""
    assert not window.search.isVisible()


def test_a_place_is_found_by_the_beginning_of_its_name_before_anything_else(
    window: Window, qtbot: object, opened: list
) -> None:
    type_words(window, qtbot, "se")
    assert [(hit.kind, hit.name) for hit in window.search.hits] == [
        ("place", "Settings"),
        ("site", "Sedge Holt"),
    ]
    QTest.keyClick(window.top.search, Qt.Key.Key_Return)
    assert opened == [("settings", None)]
    assert places_called(" ") == []


def test_enter_struck_before_the_list_has_come_opens_its_first_hit(
    window: Window, qtbot: object, opened: list
) -> None:
    QTest.keyClick(window, Qt.Key.Key_K, CTRL)
    QTest.keyClicks(window.top.search, "1041")
    QTest.keyClick(window.top.search, Qt.Key.Key_Return)
    assert opened == []
    settle(qtbot, window.desk)
    assert opened == [("colonies", 1)]


def test_only_what_fits_the_words_of_now_is_listed(window: Window, qtbot: object) -> None:
    type_words(window, qtbot, "104")
    QTest.keyClicks(window.top.search, "2")
    settle(qtbot, window.desk)
    assert [hit.name for hit in window.search.hits] == ["1042"]


def test_nothing_found_is_said(window: Window, qtbot: object, opened: list) -> None:
    type_words(window, qtbot, "no such hive")
    assert window.search.isVisible()
    assert window.search.accessibleDescription() == NOTHING
    QTest.keyClick(window.top.search, Qt.Key.Key_Return)
    assert opened == []


def test_escape_leaves_the_search_and_the_words_go(window: Window, qtbot: object) -> None:
    type_words(window, qtbot, "104")
    QTest.keyClick(window.top.search, Qt.Key.Key_Escape)
    assert not window.search.isVisible()
    assert window.top.search.text() == ""
    assert not window.top.search.hasFocus()


def test_a_click_opens_the_row_it_is_on(window: Window, qtbot: object, opened: list) -> None:
    type_words(window, qtbot, "104")
    row = window.search.height() // 2
    QTest.mouseClick(window.search, Qt.MouseButton.LeftButton, pos=QPoint(60, row + row // 2))
    assert opened == [("colonies", 2)]


def test_a_long_list_slides_so_that_the_chosen_row_is_seen(window: Window, qtbot: object) -> None:
    elisions.clear()
    elisions.on = True
    window.resize(1366, 400)
    type_words(window, qtbot, "1")
    hits = [Hit("hive", number, f"1{number}", "Sedge Holt", "colonies") for number in range(30)]
    window.search._show("1", hits)
    for _step in range(29):
        QTest.keyClick(window.top.search, Qt.Key.Key_Down)
    assert window.search.current == hits[-1]
    assert window.search.geometry().bottom() < window.height()
    assert window.search._first() > 0
    window.search.grab()
    elisions.on = False
    assert elisions.cut == []
