"""A new farm as a whole: from an empty ledger to its first sheet of paper and its first posted round, by keys alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit

from beeledger.base.clock import FixedClock
from beeledger.queries.first_steps import first_steps
from beeledger.queries.rounds import entries_of_round, recent_rounds
from beeledger.ui.frame.app import make_desk
from beeledger.ui.frame.window import Window

NOON = datetime(2026, 5, 14, 12, 0, tzinfo=UTC)


class NewUser:
    """Somebody before the window with nothing but the keys."""

    def __init__(self, target: str, qtbot: Any) -> None:
        self.qtbot = qtbot
        self.desk = make_desk(target, FixedClock(NOON))
        self.window = Window(self.desk)
        qtbot.addWidget(self.window)
        self.window.resize(1366, 768)
        self.window.open_place("today")
        self.window.show()
        self.to_front()
        self.settle()

    def place(self, key: str) -> Any:
        return self.window.places[key]

    def to_front(self) -> None:
        with self.qtbot.waitActive(self.window):
            self.window.activateWindow()

    def settle(self) -> None:
        self.qtbot.waitUntil(lambda: self.desk.workers.waiting == 0, timeout=10_000)

    def press(self, *chords: str) -> None:
        for chord in chords:
            keys = QKeySequence(chord)[0]
            QTest.keyClick(_focus(), keys.key(), keys.keyboardModifiers())
            self.settle()

    def type(self, words: str) -> None:
        QTest.keyClicks(_focus(), words)

    def until_told(self, title: str) -> None:
        welcome: Any = self.place("today").welcome
        self.qtbot.waitUntil(lambda: welcome.title.text() == title and welcome.isVisible(), timeout=10_000)
        self.settle()

    def save_into(self, path: Path) -> None:
        """Answer the desktop's own question for a file, which the test does not draw."""
        dialog = self.window.findChild(QDialog, "ask.file")
        assert dialog is not None
        name = dialog.findChild(QLineEdit, "fileNameEdit")
        assert name is not None
        name.setText(str(path))
        QTest.keyClick(name, QKeySequence("Return")[0].key())
        self.qtbot.waitUntil(path.exists, timeout=10_000)
        self.to_front()
        self.settle()


def _focus() -> Any:
    widget = QApplication.focusWidget()
    assert widget is not None, "nothing has the keys"
    return widget


@pytest.fixture
def user(new_target: Callable[..., str], qtbot: Any) -> Iterator[NewUser]:
    somebody = NewUser(new_target("sqlite"), qtbot)
    yield somebody
    somebody.window.close()


def test_a_new_farm_comes_to_its_first_sheet_and_its_first_posted_round_by_keys_alone(
    user: NewUser, tmp_path: Path
) -> None:
    user.until_told("Welcome. This ledger is empty")
    user.type("Hollow Bank Bees")
    user.press("Return")
    user.until_told("Next: the first site, or your old spreadsheet")
    user.press("Return")
    user.type("Kiln Meadow")
    user.press("Ctrl+Return")
    user.until_told("Next: the hives that stand there")
    user.press("Return")
    user.type("1-20")
    user.press("Ctrl+Return")
    user.until_told("Next: a sheet of paper for the first visit")
    user.press("Return")
    today = user.place("today")
    user.qtbot.waitUntil(lambda: today.stack.currentWidget() is today.paper, timeout=20_000)
    user.press("Ctrl+S")
    sheet = tmp_path / "first sheet.pdf"
    user.save_into(sheet)
    user.press("Escape")
    user.until_told("Next: type the first round")
    user.press("Return", "Return")
    user.type("q b6 f10")
    user.press("Return", "Ctrl+F8", "Ctrl+Return")
    user.until_told("The first round is posted")
    assert [step.done for step in today.welcome.steps] == [True] * 5
    user.press("Return")
    assert today.stack.currentWidget() is today.front
    assert today.table.hasFocus()

    with user.desk.ledger.read() as session:
        steps = first_steps(session)
        (posted,) = recent_rounds(session)
        entries = entries_of_round(session, posted.round_id)
    assert (steps.name, steps.sites, steps.colonies, steps.site) == ("Hollow Bank Bees", 1, 20, "Kiln Meadow")
    assert (len(entries), entries[0].entry.brood_tenths, entries[0].entry.bees_tenths) == (20, 60, 100)
    pages = pypdfium2.PdfDocument(sheet)
    words = pages[0].get_textpage().get_text_bounded()
    pages.close()
    assert "Hollow Bank Bees" in words
    assert "Kiln Meadow" in words


def test_an_act_done_outside_the_welcome_leaves_the_person_where_they_are(user: NewUser) -> None:
    user.window.open_place("sites", "new")
    user.settle()
    user.type("Kiln Meadow")
    user.press("Ctrl+Return")
    assert user.window.place.key == "sites"


def test_the_welcome_can_be_left_and_stays_away(user: NewUser) -> None:
    user.type("Hollow Bank Bees")
    user.press("Return", "Return")
    user.type("Kiln Meadow")
    user.press("Ctrl+Return")
    user.until_told("Next: the hives that stand there")
    user.press("Return")
    user.type("7")
    user.press("Ctrl+Return")
    user.until_told("Next: a sheet of paper for the first visit")
    today = user.place("today")
    today.welcome.leave.setFocus()
    user.press("Return")
    assert today.stack.currentWidget() is today.front
    today.refresh()
    user.settle()
    assert today.stack.currentWidget() is today.front
