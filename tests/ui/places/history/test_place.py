"""History in use: paging, finding, and taking back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.queries.records.round_desk import RoundKey
from beeledger.ui.places.history import place as module
from tests.builders.yards import LOOKED, yard
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier
ACTS = 130


@pytest.fixture
def seat(
    sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Seat]:
    """A farm with 130 acts, read fifty at a time."""
    monkeypatch.setattr(module, "PAGE", 50)
    perform(sqlite_ledger, add_site, NewSite("Sedge Holt"))
    for number in range(ACTS - 1):
        perform(sqlite_ledger, set_farm, {"contact": f"01353 {number}"})
    with seated(sqlite_ledger, "history", qtbot, tmp_path) as made:
        yield made


def shown(seat: Seat) -> list[int]:
    return [row.id for row in seat.place.table.records.all_rows()]


def to_the_end(seat: Seat) -> None:
    bar = seat.place.table.verticalScrollBar()
    bar.setValue(bar.maximum())
    seat.settle()


def test_a_page_is_read_and_the_next_follows_when_one_scrolls_to_its_end(seat: Seat) -> None:
    assert shown(seat) == list(range(130, 80, -1))
    to_the_end(seat)
    assert shown(seat) == list(range(130, 30, -1))
    to_the_end(seat)
    to_the_end(seat)
    assert shown(seat) == list(range(130, 0, -1))
    assert "130 acts shown" in seat.place.subtitle


def test_an_act_done_meanwhile_comes_on_top_and_nothing_read_is_lost(seat: Seat) -> None:
    to_the_end(seat)
    seat.desk.act(set_farm, {"contact": "01353 7"})
    seat.settle()
    assert shown(seat) == list(range(131, 31, -1))
    assert seat.place.table.chosen() == [130]


def test_letters_typed_in_the_table_filter_over_all_acts_and_not_only_those_read(seat: Seat) -> None:
    seat.place.table.setFocus()
    QTest.keyClicks(seat.place.table, "sedge")
    seat.settle()
    assert seat.place.filter.text() == "sedge"
    assert shown(seat) == [1]
    assert seat.place.card.head.title.text() == "Act 1"
    QTest.keyClick(seat.place.filter, Qt.Key.Key_Escape)
    seat.settle()
    assert shown(seat)[0] == 130


def test_one_can_go_to_an_act_of_long_ago_and_back_to_the_newest(seat: Seat) -> None:
    seat.place.show_what(60)
    seat.settle()
    assert shown(seat)[:2] == [79, 78]
    assert seat.place.table.chosen() == [60]
    assert seat.place.card.head.title.text() == "Act 60"
    assert seat.place.newest.isVisible()
    to_the_end(seat)
    assert shown(seat)[-1] == 1
    seat.place.newest.click()
    seat.settle()
    assert shown(seat)[0] == 130
    assert not seat.place.newest.isVisible()


def test_going_to_an_act_takes_a_filter_away_that_would_hide_it(seat: Seat) -> None:
    seat.place.filter.setText("sedge")
    seat.settle()
    seat.place.show_what(60)
    seat.settle()
    assert seat.place.filter.text() == ""
    assert seat.place.table.chosen() == [60]


def test_the_card_tells_what_changed_in_words(seat: Seat) -> None:
    seat.place.show_what(129)
    seat.settle()
    facts = seat.place.card.facts.facts()
    assert [(fact.name, fact.middle) for fact in facts] == [
        ("Setting contact", ""), ("value", "01353 126 → 01353 127"),
    ]  # fmt: skip


def test_an_act_that_another_stands_on_says_so_and_cannot_be_taken_back(seat: Seat) -> None:
    seat.place.show_what(129)
    seat.settle()
    card = seat.place.card
    assert not card.undo.isEnabled()
    assert "On it stands “Settings: contact" in card.undo.reason
    assert card._reason.text() == card.undo.reason


def test_the_chosen_act_is_taken_back_by_ctrl_z_and_can_be_brought_again(seat: Seat) -> None:
    seat.place.table.setFocus()
    QTest.keyClick(seat.place.table, Qt.Key.Key_Z, CTRL)
    seat.settle()
    table = seat.place.table.records
    assert table.row_at(0).cells[4].text == "Took back: Settings: contact"
    assert table.row_at(1).cells[4].text == "taken back: Settings: contact"
    assert table.row_at(1).cells[4].runs[0].text == "taken back"
    assert table.row_at(1).cells[4].ink == "ink3"
    assert seat.place.card.undo.reason == "Taken back by act 131."
    QTest.keyClick(seat.place.table, Qt.Key.Key_Home, CTRL)
    seat.settle()
    seat.place.table.choose([131])
    seat.settle()
    assert seat.place.card.undo.text() == "Bring again"
    seat.place.card.undo.click()
    seat.settle()
    assert table.row_at(0).cells[4].text == "Brought again: Settings: contact"
    assert table.row_at(2).cells[4].text == "Settings: contact"


def test_ctrl_z_in_the_filter_takes_back_typing_and_no_act(seat: Seat) -> None:
    before = seat.desk.newest_act
    seat.place.filter.setFocus()
    QTest.keyClicks(seat.place.filter, "sed")
    QTest.keyClick(seat.place.filter, Qt.Key.Key_Z, CTRL)
    seat.settle()
    assert seat.desk.newest_act == before
    assert seat.place.filter.text() == ""


def test_what_another_desk_did_appears(seat: Seat, sqlite_ledger: Ledger) -> None:
    undo(sqlite_ledger, 130)
    seat.desk._ask_for_news()
    seat.settle()
    assert shown(seat)[0] == 131


def test_a_ledger_without_an_act_says_so(
    sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path
) -> None:
    with seated(sqlite_ledger, "history", qtbot, tmp_path) as empty:
        assert empty.place.card.head.title.text() == "No act chosen"
        assert not empty.place.card.undo.isEnabled()
        empty.place.take_back()
        assert empty.said[-1].text == "Choose an act first"


def test_qt_finds_no_fault_with_the_table(seat: Seat) -> None:
    tester = QAbstractItemModelTester(
        seat.place.table.model(), QAbstractItemModelTester.FailureReportingMode.Warning
    )
    to_the_end(seat)
    seat.place.filter.setText("sedge")
    seat.settle()
    assert tester.model() is seat.place.table.model()


def test_the_act_that_posted_a_round_opens_it_to_be_corrected(seat: Seat, sqlite_ledger: Ledger) -> None:
    fen = yard(sqlite_ledger, "Fen End", "1")
    done = fen.post(h1=LOOKED)
    seat.place.refresh()
    seat.settle()
    seat.place.table.choose([done.act])
    seat.settle()
    assert not seat.place.card.correct.isHidden()
    seat.place.card.correct.click()
    seat.settle()
    assert seat.opened == [("rounds", RoundKey(done.result.round_id))]
    seat.place.table.choose([done.act - 1])
    seat.settle()
    assert seat.place.card.correct.isHidden()
