"""Many rounds in one evening: the tab in front is always whole, and the others can be reached."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from beeledger.ui.widgets.painting import elisions
from beeledger.ui.widgets.tabs import Tab, Tabs

SITES = [Tab(key, f"Long Acre {key}", "19 of 30") for key in range(1, 9)]


@pytest.fixture
def tabs(qapp: object, qtbot: object) -> Tabs:
    made = Tabs(SITES)
    qtbot.addWidget(made)
    made.show()
    return made


def test_many_tabs_never_ask_for_more_than_the_one_in_front(tabs: Tabs) -> None:
    assert tabs.minimumSizeHint().width() < tabs.sizeHint().width() / 4


@pytest.mark.parametrize("key", [1, 4, 8])
def test_the_tab_in_front_is_whole_in_the_least_room(tabs: Tabs, key: int) -> None:
    tabs.choose(key)
    tabs.resize(tabs.minimumSizeHint())
    ((tab, rect),) = tabs._placed()
    assert tab.key == key
    assert tabs.rect().contains(rect)
    elisions.clear()
    elisions.on = True
    tabs.grab()
    elisions.on = False
    assert elisions.cut == []


def test_tabs_without_room_are_counted_and_a_click_goes_to_the_next(tabs: Tabs) -> None:
    tabs.choose(4)
    tabs.resize(tabs.minimumSizeHint())
    (left, before, left_count), (right, after, right_count) = tabs._hidden()
    assert (before.key, left_count, after.key, right_count) == (3, 3, 5, 4)
    QTest.mouseClick(tabs, Qt.MouseButton.LeftButton, pos=right.center())
    assert tabs.current() == 5
    QTest.mouseClick(tabs, Qt.MouseButton.LeftButton, pos=QPoint(left.center()))
    assert tabs.current() == 4


def test_with_room_all_stand_and_nothing_is_counted(tabs: Tabs) -> None:
    tabs.resize(tabs.sizeHint())
    assert [tab.key for tab, _rect in tabs._placed()] == list(range(1, 9))
    assert tabs._hidden() == []
