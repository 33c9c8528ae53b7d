"""Lines that a posting leaves: they keep all that was said of them, and stand in one draft only."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent

from beeledger.database.ledger import Ledger
from beeledger.model.rounds import RoundEntry
from beeledger.rules.rounds.entry import Entry
from tests.builders.yards import Yard, rows
from tests.ui.places.rounds.evening import SINGLE, Typist, double_yard, evening


@pytest.fixture
def fen(sqlite_ledger: Ledger) -> Yard:
    return double_yard(sqlite_ledger, "Fen End", ["301", "302", "303"], boxes=SINGLE)


@pytest.fixture
def desk(fen: Yard, qtbot: Any, tmp_path: Any) -> Iterator[Typist]:
    with evening(fen.ledger, qtbot, tmp_path / "desk") as typist:
        yield typist


@pytest.fixture
def left(desk: Typist, fen: Yard) -> Any:
    """Three hives fed alike; one of them has a question, the others are posted."""
    desk.open("Fen")
    desk.lines("7 10 3 2", "7 9 3 2? which queen", "6 9 3 2")
    desk.press("F7")
    desk.type("l2\n")
    desk.press("Ctrl+Return")
    desk.settle()
    (one,) = desk.seat.place.rounds.values()
    desk.settle()
    return one


def undo(desk: Typist) -> None:
    desk.seat.desk.undo(desk.seat.desk.last_done.act)
    desk.settle()


def test_a_line_that_waits_keeps_what_was_done_at_the_whole_site(desk: Typist, left: Any, fen: Yard) -> None:
    (view,) = left.sheet.views
    assert view.entry.feed_ml == 2000
    desk.press("Ctrl+A")
    desk.type("7 9 3 2")
    desk.press("Ctrl+Return")
    desk.settle()
    assert [entry.feed_ml for entry in rows(fen.ledger, RoundEntry)] == [2000, 2000, 2000]


def test_a_posting_taken_back_has_its_left_line_in_it_again_and_nowhere_else(desk: Typist, left: Any) -> None:
    desk.press("Ctrl+A")
    desk.type("7 9 3 2? red or blue")
    undo(desk)
    (whole,) = desk.seat.place.rounds.values()
    desk.settle()
    said = ["7 10 3 2", "7 9 3 2? red or blue", "6 9 3 2"]
    assert [line.text for line in whole.sheet.lines] == said


def test_a_left_line_that_was_posted_meanwhile_is_not_said_again(desk: Typist, left: Any, fen: Yard) -> None:
    first = desk.seat.desk.last_done.act
    desk.press("Ctrl+A")
    desk.type("7 9 3 2")
    desk.press("Ctrl+Return")
    desk.settle()
    desk.seat.desk.undo(first)
    desk.settle()
    (whole,) = desk.seat.place.rounds.values()
    desk.settle()
    assert [line.empty for line in whole.sheet.lines] == [False, True, False]
    assert len(rows(fen.ledger, RoundEntry)) == 1


def test_a_posting_brought_again_takes_its_lines_out_of_the_draft(desk: Typist, left: Any, fen: Yard) -> None:
    undo(desk)
    undo(desk)
    assert len(rows(fen.ledger, RoundEntry)) == 2
    (rest,) = desk.seat.place.rounds.values()
    desk.settle()
    assert [line.text for line in rest.sheet.lines] == ["7 9 3 2? which queen"]
    assert rest.sheet.views[0].entry.feed_ml == 2000
    undo(desk)
    (whole,) = desk.seat.place.rounds.values()
    desk.settle()
    assert [line.empty for line in whole.sheet.lines] == [False, False, False]


def test_from_the_quick_line_one_chord_is_left_to_the_window(desk: Typist, left: Any) -> None:
    line = desk.seat.place.pane.strip.line
    chord = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    asked = QKeyEvent(QEvent.Type.ShortcutOverride, Qt.Key.Key_Z, chord)
    asked.ignore()
    line.event(asked)
    assert not asked.isAccepted()


def test_without_typing_to_take_back_the_other_chord_is_named(desk: Typist, left: Any) -> None:
    desk.press("Ctrl+Z")
    assert "Ctrl Shift Z" in desk.seat.said[-1].text


def test_a_line_that_waits_says_how_it_is_posted_in_the_end(desk: Typist, left: Any) -> None:
    assert "take its question out" in desk.seat.place.pane.bar.post.reason
    desk.press("Ctrl+Return")
    assert "take its question out" in desk.seat.said[-1].remedy


def test_a_line_below_a_hive_that_was_not_opened_says_why_nothing_is_repeated(desk: Typist):
    sheet = desk.open("fen end")
    desk.press("Ctrl+D")
    assert desk.seat.said[-1].text == "There is no line above to repeat"
    desk.type("ou\n")
    desk.press("Ctrl+D")
    assert "not looked at" in desk.seat.said[-1].text
    assert sheet.lines[1].typed == Entry()
