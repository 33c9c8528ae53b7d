"""The window: going from place to place by keys, and what is said at its top and foot."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.operations.sites import NewSite, add_site
from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.said import FRESH_MS
from beeledger.ui.frame.window import Window
from beeledger.ui.widgets import look
from tests.ui.frame.conftest import settle

CTRL, ALT, SHIFT = (
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
    Qt.KeyboardModifier.ShiftModifier,
)


def add(window: Window, qtbot: object, name: str) -> None:
    window.desk.act(add_site, NewSite(name))
    settle(qtbot, window.desk)


def test_ctrl_page_down_and_up_walk_through_the_places_round_the_end(window: Window) -> None:
    QTest.keyClick(window, Qt.Key.Key_PageDown, CTRL)
    assert window.place.key == "settings"
    assert window.windowTitle() == "Settings – BeeLedger"
    QTest.keyClick(window, Qt.Key.Key_PageUp, CTRL)
    assert window.place.key == "history"


def test_back_and_forward_follow_the_way_taken_and_are_off_at_its_ends(window: Window) -> None:
    assert not window.top.back.isEnabled()
    window.open_place("settings")
    QTest.keyClick(window, Qt.Key.Key_Left, ALT)
    assert window.place.key == "history"
    assert (window.top.back.isEnabled(), window.top.forward.isEnabled()) == (False, True)
    QTest.keyClick(window, Qt.Key.Key_Right, ALT)
    assert window.place.key == "settings"
    assert (window.top.back.isEnabled(), window.top.forward.isEnabled()) == (True, False)


def test_a_place_that_wants_to_stay_in_front_stays_whichever_way_one_goes(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.open_place("settings")
    monkeypatch.setattr(window.place, "leave", lambda: False)
    window.go(-1)
    window.open_place("history")
    window.walk(1)
    assert window.place.key == "settings"
    monkeypatch.undo()
    window.go(-1)
    assert window.place.key == "history"


def test_the_search_field_stands_at_one_place_whatever_the_title_is(window: Window) -> None:
    before = window.top.search.geometry()
    window.top.set_place("Pollination and everything that goes with it", "a great many things shown")
    assert window.top.search.geometry() == before
    assert window.top.subtitle.geometry().right() < before.left()


def test_a_fresh_act_tints_the_line_for_six_seconds_and_offers_undo(window: Window, qtbot: object) -> None:
    add(window, qtbot, "Barley Drove")
    top = window.top
    assert top.said.sentence == "Added the site Barley Drove, 19:00"
    assert top.said.tint == "accentsoft"
    assert FRESH_MS == 6000
    assert top.undo.text() == "Undo"
    assert top.undo.isVisible()
    assert top.said.accessibleName() == top.said.sentence
    top.said._timer.timeout.emit()
    assert top.said.tint is None
    assert top.said.sentence == "Added the site Barley Drove, 19:00"


@pytest.mark.parametrize(("key", "modifiers"), [(Qt.Key.Key_Z, CTRL | SHIFT), (Qt.Key.Key_Z, CTRL)])
def test_the_last_act_is_taken_back_and_brought_again_by_one_key(
    window: Window, qtbot: object, key: Qt.Key, modifiers: Qt.KeyboardModifier
) -> None:
    add(window, qtbot, "Barley Drove")
    window.list.setFocus()
    QTest.keyClick(window.list, key, modifiers)
    settle(qtbot, window.desk)
    assert window.top.said.sentence == "Took back: Added the site Barley Drove, 19:00"
    assert window.top.undo.text() == "Bring again"
    QTest.keyClick(window.list, key, modifiers)
    settle(qtbot, window.desk)
    assert window.top.said.sentence == "Brought again: Added the site Barley Drove, 19:00"
    assert window.top.undo.text() == "Undo"


def test_a_refused_undo_names_what_stands_on_it_in_the_same_place(window: Window, qtbot: object) -> None:
    desk = window.desk
    desk.act(set_farm, {"contact": "01353 1"})
    settle(qtbot, desk)
    perform(desk.ledger, set_farm, {"contact": "01353 2"})  # another desk
    window.undo_last()
    settle(qtbot, desk)
    assert "Settings: contact" in window.top.said.sentence
    assert "stands" in window.top.said.sentence
    assert window.top.said.tint == "nowsoft"
    assert window.top.said.accessibleName().startswith("cannot be true")
    window.top.said._timer.timeout.emit()
    assert window.top.said.tint == "nowsoft"  # it wants a person, and stays
    window.walk(1)
    assert window.top.said.sentence.startswith("Settings: contact, ")  # who goes on has read it
    assert window.top.said.tint is None


def test_a_note_gives_way_to_the_last_act_again(window: Window, qtbot: object) -> None:
    add(window, qtbot, "Barley Drove")
    window.desk.say("Nothing was changed")
    assert window.top.said.sentence == "Nothing was changed"
    assert window.top.undo.isVisible()
    window.top.said._timer.timeout.emit()
    assert window.top.said.sentence == "Added the site Barley Drove, 19:00"


def test_a_long_sentence_takes_more_lines_and_stands_whole_in_the_tooltip(window: Window) -> None:
    sentence = "On it stands “Founded 30 colonies at Lode Corner” (office, 14.05.2026). Take that back first."
    window.desk.say(sentence, "now")
    lines = window.top.said.lines()
    assert len(lines) in (2, 3)
    assert " ".join(lines) == sentence
    assert window.top.said.toolTip() == sentence


def test_the_window_opens_with_what_this_desk_did_last(window: Window, qtbot: object) -> None:
    window.start()
    settle(qtbot, window.desk)
    assert window.top.said.sentence.endswith("19:00")
    assert window.top.said.tint is None
    assert window.last.act == 4
    window.undo_last()
    settle(qtbot, window.desk)
    assert window.top.said.sentence.startswith("Took back: ")


def test_there_is_nothing_to_take_back_on_a_new_desk(window: Window) -> None:
    window.undo_last()
    assert window.top.said.sentence == "There is nothing to take back"
    assert not window.top.undo.isVisible()


def test_the_farm_and_what_waits_stand_in_the_list(window: Window, qtbot: object) -> None:
    desk = window.desk
    desk.drafts.save("u1", "round", "Sedge Holt", {})
    desk.clock.moment += timedelta(days=30)
    add(window, qtbot, "Barley Drove")
    assert window.list.said("rounds") == "Rounds, 1 draft"
    assert window.list.said("today") == "Today, 1 late"
    assert window.list.said("history") == "History"


def test_the_list_is_walked_by_keys_and_opens_on_enter(window: Window) -> None:
    window.list.setFocus()
    QTest.keyClick(window.list, Qt.Key.Key_Down)
    assert (window.list.cursor_key, window.place.key) == ("settings", "history")
    QTest.keyClick(window.list, Qt.Key.Key_Return)
    assert window.place.key == "settings"
    QTest.keyClick(window.list, Qt.Key.Key_Down)
    assert window.list.cursor_key == PLACES[0].key


@pytest.mark.parametrize(
    ("width", "wish", "folded"),
    [(1440, "auto", False), (1366, "auto", True), (1366, "wide", False), (1440, "folded", True)],
)
def test_the_list_folds_in_a_narrow_window_or_as_the_desk_wishes(
    window: Window, width: int, wish: str, folded: bool
) -> None:
    window.desk.change_settings(places_folded=wish)
    window.resize(width, 768)
    assert window.list.folded is folded


def test_no_row_of_the_list_is_lost_in_a_low_window_with_large_text(window: Window) -> None:
    window.desk.change_settings(base_pt=16.0)
    window.resize(1366, 620)
    QApplication.processEvents()
    assert window.list.rect_of(PLACES[-1].key).bottom() < window.list.height()


def test_margins_grow_with_the_text_and_come_back_as_they_were(window: Window, qtbot: object) -> None:
    edges = window.place.findChild(object, "history.card").head.layout()
    before = edges.contentsMargins().left()
    window.desk.change_settings(base_pt=14.0)
    assert edges.contentsMargins().left() == round(before * 14 / look.DEFAULT_BASE_PT)
    window.desk.change_settings(base_pt=look.DEFAULT_BASE_PT)
    assert edges.contentsMargins().left() == before


def test_the_window_follows_the_desktop_to_dark_unless_the_desk_says_otherwise(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    signal = QGuiApplication.styleHints().colorSchemeChanged
    monkeypatch.setattr(look, "desktop_look", lambda: look.DARK)
    signal.emit(Qt.ColorScheme.Dark)
    assert look.current().name == "dark"
    window.desk.change_settings(look="light")
    signal.emit(Qt.ColorScheme.Dark)
    assert look.current().name == "light"


def test_a_change_of_look_reaches_every_corner_of_the_window(window: Window, qtbot: object) -> None:
    add(window, qtbot, "Barley Drove")
    window.help.toggle(window.place)
    light = {look.LIGHT.paper, look.LIGHT.window, look.LIGHT.sunk, look.LIGHT.accentsoft, look.LIGHT.ink2}
    assert light <= _colours(window)
    window.desk.change_settings(look="dark")
    QApplication.processEvents()
    assert not light & _colours(window)


def _colours(window: Window) -> set[str]:
    image = window.grab().toImage()
    return {
        image.pixelColor(x, y).name().upper()
        for x in range(0, image.width(), 2)
        for y in range(image.height())
    }


def test_a_name_typed_in_settings_does_not_dress_the_window_anew(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(window, "redress", lambda: pytest.fail("dressed anew"))
    window.desk.change_settings(who="MB", desk="van")
    assert "desk van" in window.status.text()


def test_the_farms_own_time_zone_is_taken_when_it_changes(window: Window, qtbot: object) -> None:
    window.desk.act(set_farm, {"zone": "Pacific/Auckland"})
    settle(qtbot, window.desk)
    assert window.desk.clock.zone == "Pacific/Auckland"
    assert window.desk.clock.today().day == 15
