"""Batches in use: jars weighed one after another, the label mended and printed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.queries.labels import batch_card, batches
from beeledger.ui.desk.desk import FileQuestion
from tests.operations import honey_room as room_of
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier
ENTER = Qt.Key.Key_Return


@pytest.fixture
def seat(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    room_of.jarred(sqlite_ledger)
    with seated(sqlite_ledger, "batches", qtbot, tmp_path / "desk") as made:
        made.until(lambda: made.place.view.shown is not None)
        yield made


@pytest.fixture
def bare(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(sqlite_ledger, "batches", qtbot, tmp_path / "desk") as made:
        yield made


def card(seat: Seat) -> Any:
    with seat.desk.ledger.read() as session:
        return batch_card(session, 1)


def titles(seat: Seat, mark: str) -> list[str]:
    return [fact.name for fact in seat.place.view.law.facts() if fact.mark and fact.mark.value[0] == mark]


def test_the_newest_batch_shows_its_balance_sources_and_label(seat: Seat) -> None:
    view = seat.place.view
    assert view.head.title.text() == "L SB26-0001-40"
    assert view.balance.accessibleDescription() == (
        "34.612 kg drawn from tank 1 = 34.150 kg jars + 0.120 kg foam + 0.342 kg sample; balances to the gram"
    )
    assert [(fact.name, fact.value) for fact in view.sources.facts()] == [
        ("Long Drove", "26.0 kg  75.0 %"), ("Low Dyke", "\u20078.7 kg  25.0 %"),
    ]  # fmt: skip
    # What all sources have in common is said once, in the head.
    assert "2 sites, drums 7 and 8, 17.6 % water" in view.sections["sources"].head.summary
    assert titles(seat, "cannot") == []
    assert view.print.isEnabled()


def test_jars_are_weighed_by_the_keys_and_judged_at_once(seat: Seat) -> None:
    weighing = seat.place.view.weighing
    weighing.tare.setFocus()
    QTest.keyClicks(weighing.tare, "190.4")
    QTest.keyClick(weighing.tare, ENTER)
    assert weighing.gross.hasFocus()
    for words in ("532.1", "531.6", "519.5"):
        QTest.keyClicks(weighing.gross, words)
        QTest.keyClick(weighing.gross, ENTER)
    assert weighing.weights == [3_417, 3_412, 3_291]
    # SI 2006/659 Sched. 3: T1 of 340 g is 329.8 g; of three jars none may lie below it (2.5 %).
    assert "1 short, 0 allowed" in weighing.said.text()
    seat.settle()
    assert card(seat).net_tenths == (3_417, 3_412, 3_291)
    assert weighing.waiting == 0


def test_a_weight_that_cannot_be_is_said_and_not_kept(seat: Seat) -> None:
    weighing = seat.place.view.weighing
    for words in ("heavy", "53.20001", "9000"):
        weighing.gross.setText(words)
        QTest.keyClick(weighing.gross, ENTER)
        assert weighing.said.text()
    seat.settle()
    assert (weighing.weights, card(seat).net_tenths) == ([], ())


def test_printing_is_held_with_its_reason_while_a_particular_fails(seat: Seat) -> None:
    perform(seat.desk.ledger, set_farm, {"address": ["office@sallow.example"]})
    seat.place.refresh()
    seat.until(lambda: not seat.place.view.print.isEnabled())
    assert seat.place.view.print.reason == "Name and address: a postal address is missing"
    assert titles(seat, "cannot") == ["Name and address"]
    QTest.keyClick(seat.place, Qt.Key.Key_P, CTRL)
    seat.settle()
    assert seat.place.right.currentWidget() is seat.place.side


def test_a_label_is_mended_in_its_form(seat: Seat) -> None:
    perform(seat.desk.ledger, set_farm, {"address": ["office@sallow.example"]})
    QTest.keyClick(seat.place, Qt.Key.Key_E, CTRL)
    form = seat.place.side.form()
    form.set_values({"address": "Sallow Barn, Nether Hay, HR9 0ZZ", "other_words": "Soft set, From the fen"})
    QTest.keyClick(form.fields["name"].editor, ENTER, CTRL)
    seat.settle()
    assert seat.place.side.form() is None
    assert card(seat).words.other_words == ("Soft set", "From the fen")
    seat.until(seat.place.view.print.isEnabled)


def test_a_wrong_article_number_is_said_beside_its_field(seat: Seat) -> None:
    seat.place.edit_label()
    form = seat.place.side.form()
    form.set_values({"gtin": "5012345678901"})
    form.submit()
    seat.settle()
    assert "check digit" in form.fields["gtin"].message()
    assert card(seat).gtin == "5012345678900"


def test_labels_are_shown_as_sheets_from_the_place_asked_for_and_written_down(seat: Seat) -> None:
    QTest.keyClick(seat.place, Qt.Key.Key_P, CTRL)
    pane = seat.place.labels
    seat.until(lambda: pane.paper.printed is not None)
    assert len(pane.paper.printed.pages) == 10
    pane.count.setText("12")
    pane.first.setText("9")
    with seat.qtbot.waitSignal(pane.paper.shown):
        QTest.keyClick(pane.first, ENTER)
    assert (pane.paper.printed.record.count, pane.paper.printed.record.first) == (12, 8)
    assert len(pane.paper.printed.pages) == 2
    pane.first.setText("11")
    assert pane.run_wanted() is None
    pane.first.setText("9")
    pane.write_down.click()
    seat.settle()
    assert card(seat).line.printed == 12


def test_the_batch_record_is_saved_as_a_file(seat: Seat, tmp_path: Path) -> None:
    asked: list[FileQuestion] = []
    seat.desk.asked.connect(asked.append)
    QTest.keyClick(seat.place, Qt.Key.Key_P, CTRL | Qt.KeyboardModifier.ShiftModifier)
    seat.until(lambda: seat.place.paper.printed is not None)
    seat.place.paper.save_pdf.click()
    asked[-1].then(tmp_path / "record.pdf")
    seat.settle()
    assert asked[-1].suggested == "batch record SB26-0001-40.pdf"
    assert (tmp_path / "record.pdf").read_bytes().startswith(b"%PDF")


def test_the_way_back_names_the_sites(seat: Seat) -> None:
    QTest.keyClick(seat.place, Qt.Key.Key_B, CTRL)
    seat.until(lambda: seat.place.right.currentWidget() is seat.place.way)
    assert [fact.name for fact in seat.place.way.sites.facts()] == ["Long Drove", "Low Dyke"]
    QTest.keyClick(seat.place.way, Qt.Key.Key_Escape)
    assert seat.place.right.currentWidget() is seat.place.side


def test_a_jarring_is_asked_about_when_the_jars_would_be_short_and_accepted_by_a_second_try(
    seat: Seat,
) -> None:
    QTest.keyClick(seat.place, Qt.Key.Key_N, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    form.set_values({"lot_id": "5", "jars": "10", "jar_g": "340", "drawn_g": "3.39"})
    form.submit()
    seat.settle()
    assert "below 340 g" in form.fields["drawn_g"].message()
    form.set_values({"drawn_g": "3.38"})
    form.submit()
    seat.settle()  # another figure is asked about anew
    assert seat.place.side.form() is form
    form.set_values({"drawn_g": "3.39"})
    form.submit()
    seat.settle()
    form.submit()
    seat.settle()
    with seat.desk.ledger.read() as session:
        assert [(line.jars, line.jars_g) for line in batches(session)] == [(10, 3_390), (100, 34_150)]


def test_jars_that_leave_are_written_with_who_got_them(seat: Seat) -> None:
    QTest.keyClick(seat.place, Qt.Key.Key_D, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    form.set_values({"jars": "101", "party": "Aldley Stores"})
    form.submit()
    seat.settle()
    assert form.fields["jars"].message() == "100 jars of it are on the farm"
    form.set_values({"jars": "24"})
    form.submit()
    seat.settle()
    assert [(fact.name, fact.middle) for fact in seat.place.view.went.facts()] == [
        ("dispatch", "Aldley Stores 24 jars")
    ]


def test_without_a_batch_the_place_says_what_to_do_first(bare: Seat) -> None:
    assert bare.place.right.currentWidget() is bare.place.empty
    assert "No batch yet" in bare.place.empty.accessibleName()
    bare.place.empty.button.click()
    bare.settle()
    bare.place.side.form().submit()
    assert "no lot to jar from" in bare.place.side.form().fields["lot_id"].message()


def test_every_field_of_a_batch_has_an_address(seat: Seat) -> None:
    seat.place.edit_label()
    for kind in (QLineEdit, QComboBox):
        for piece in seat.place.findChildren(kind):
            if isinstance(piece.parent(), QComboBox):
                continue
            assert piece.objectName() or piece.parent().objectName(), piece


def test_a_form_being_filled_is_not_thrown_away_by_another_chord(seat: Seat) -> None:
    QTest.keyClick(seat.place.table, Qt.Key.Key_N, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    form.fields["jars"].set_value("120")
    for key in (Qt.Key.Key_P, Qt.Key.Key_E, Qt.Key.Key_D):
        QTest.keyClick(form.fields["jars"].editor, key, CTRL)
        seat.settle()
    assert seat.place.side.form() is form
    assert form.values()["jars"] == "120"
    assert seat.place.right.currentWidget() is seat.place.side
