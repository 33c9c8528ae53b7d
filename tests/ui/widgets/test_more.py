"""Acts seldomer wanted stand in a menu, each with its chord, and are reached by keys."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.more import MoreButton


def test_the_menu_is_opened_walked_and_left_by_keys(qapp, qtbot):
    done = []
    button = MoreButton()
    qtbot.addWidget(button)
    button.offer("Unite", "Ctrl+Shift+U", lambda: done.append("unite"))
    button.offer("End", "Ctrl+Shift+E", lambda: done.append("end"))
    button.show()
    QTest.keyClick(button, Qt.Key.Key_Space)
    assert button.acts.isVisible()
    assert [entry.text() for entry in button.acts.actions()] == ["Unite\tCtrl+Shift+U", "End\tCtrl+Shift+E"]
    QTest.keyClick(button.acts, Qt.Key.Key_Down)
    QTest.keyClick(button.acts, Qt.Key.Key_Return)
    assert done == ["end"]
    QTest.keyClick(button, Qt.Key.Key_Space)
    QTest.keyClick(button.acts, Qt.Key.Key_Escape)
    assert (button.acts.isVisible(), done) == (False, ["end"])


def test_enter_presses_a_button_as_the_space_bar_does(qapp, qtbot):
    done = []
    button = Button("Keep", lambda: done.append("kept"))
    qtbot.addWidget(button)
    for key in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
        QTest.keyClick(button, key)
    assert done == ["kept"] * 3
