"""F1 and the developer's pointer."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from beeledger.ui.frame import pointer
from beeledger.ui.frame.help_panel import EVERYWHERE
from beeledger.ui.frame.window import Window
from beeledger.ui.widgets.painting import elisions
from tests.ui.frame.conftest import settle


def test_f1_shows_the_help_of_the_place_in_front_then_the_words_then_folds_away(window: Window) -> None:
    QTest.keyClick(window, Qt.Key.Key_F1)
    assert window.help.isVisible()
    assert "Every act of every desk" in window.help.text.text()
    assert window.help.own.accessibleName() == "Ctrl Z: take back the chosen act, or bring it again"
    assert window.help.geometry().right() == window.width() - 1
    QTest.keyClick(window, Qt.Key.Key_F1)
    assert window.help.words.isVisible()
    QTest.keyClick(window, Qt.Key.Key_F1)
    assert not window.help.isVisible()


def test_escape_folds_it_away_and_gives_the_keys_back_to_the_place(window: Window) -> None:
    QTest.keyClick(window, Qt.Key.Key_F1)
    QTest.keyClick(window.help, Qt.Key.Key_Escape)
    assert not window.help.isVisible()
    assert window.place.table.hasFocus()


def test_the_keys_come_back_to_the_field_they_were_in(window: Window) -> None:
    window.open_place("settings")
    contact = window.place.form.fields["contact"].editor
    contact.setFocus()
    QTest.keyClick(contact, Qt.Key.Key_F1)
    QTest.keyClick(window.help, Qt.Key.Key_Escape)
    assert contact.hasFocus()


def test_help_stays_at_the_right_when_the_window_changes(window: Window) -> None:
    QTest.keyClick(window, Qt.Key.Key_F1)
    window.resize(1366, 768)
    assert window.help.geometry().right() == 1365


@pytest.mark.parametrize("base_pt", [9.75, 16.0])
def test_no_key_of_the_help_is_cut(window: Window, base_pt: float) -> None:
    window.desk.change_settings(base_pt=base_pt)
    window.resize(1366, 768)
    QTest.keyClick(window, Qt.Key.Key_F1)
    elisions.clear()
    elisions.on = True
    window.help.grab()
    elisions.on = False
    assert elisions.cut == []


def test_each_chord_of_the_window_is_listed_in_help(window: Window) -> None:
    chords = {
        shortcut.key().toString()
        for shortcut in window.findChildren(QShortcut, options=Qt.FindChildOption.FindDirectChildrenOnly)
    }
    listed = {QKeySequence(keys.replace(" ", "+")).toString() for keys, _words in EVERYWHERE}
    assert chords <= listed
    assert len(chords) >= 8


def test_the_pointer_is_off_unless_a_developer_asks(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("BEELEDGER_DEVELOPER", raising=False)
    assert not pointer.wanted()
    monkeypatch.setenv("BEELEDGER_DEVELOPER", "1")
    assert pointer.wanted()


def test_the_pointer_tells_address_class_file_and_line(window: Window, qtbot: object) -> None:
    settle(qtbot, window.desk)
    said = pointer.described(window.place.table.viewport())
    address, rest = said.split(": ")
    kind, where = rest.split(", ")
    file, line = where.split(":")
    assert (address, kind, file) == ("history.table", "RecordTable", "beeledger/ui/widgets/record_table.py")
    assert int(line) > 1


def test_the_pointer_names_qts_own_pieces_as_such(qapp: object, qtbot: object) -> None:
    label = QLabel("plain")
    qtbot.addWidget(label)
    assert pointer.described(label) == "no name: QLabel, Qt's own"
