"""Medicines as one works in it by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit, QWidget

from beeledger.base.clock import FixedClock
from beeledger.database.ledger import Ledger
from beeledger.model.medicines import Medicine, MedicineDisposal, Treatment
from beeledger.operations.act import perform
from beeledger.operations.medicines import NewMedicine, add_medicine
from beeledger.ui.desk.desk import FileQuestion
from beeledger.ui.places.medicines.acts import register_form
from beeledger.ui.widgets.chips import Chip
from beeledger.ui.widgets.form import Form
from tests.builders.yards import Yard, rows, yard
from tests.queries.test_medicines import autumn
from tests.queries.test_mites import wash
from tests.ui.places.sitting import Seat, seated

ENTER = Qt.Key.Key_Return
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def place(sqlite_ledger: Ledger) -> Yard:
    made = autumn(sqlite_ledger)
    yard(sqlite_ledger, "Marl Bank", "2001", "2002").post(h2001=wash(12), h2002=wash(3))
    return made


@pytest.fixture
def seat(place: Yard, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(place.ledger, "medicines", qtbot, tmp_path) as made:
        yield made


def opened(seat: Seat, key: Qt.Key) -> Form:
    """Press Ctrl and a key at the list, and take the form that opens."""
    QTest.keyClick(seat.place.lists.table(), key, CTRL)
    seat.until(lambda: seat.place.form() is not None)
    form = seat.place.form()
    assert isinstance(form, Form)
    return form


def type_into(form: Form, field: str, words: str) -> None:
    editor = form.fields[field].editor
    editor.setFocus()
    if isinstance(editor, QLineEdit):
        editor.selectAll()
    QTest.keyClicks(editor, words)


def post(seat: Seat, form: Form) -> None:
    QTest.keyClick(next(iter(form.fields.values())).editor, ENTER, CTRL)
    seat.settle()


def go(seat: Seat, key: str) -> None:
    seat.place.show_what(key)
    seat.settle()


def test_the_tabs_say_what_each_list_asks_for(seat: Seat) -> None:
    states = {tab.key: tab.state for tab in seat.place.lists.tabs._tabs}
    assert states == {"packs": "", "given": "1 in now", "mites": "1 site at the line"}
    perform(seat.place.desk.ledger, add_medicine, NewMedicine("Bare", "amitraz"))
    seat.place.refresh()
    seat.settle()
    assert seat.place.lists.tabs._tabs[0].state == "1 to fill"


def test_a_pack_is_added_by_keyboard_alone_with_its_supplier(seat: Seat, place: Yard) -> None:
    form = opened(seat, Qt.Key.Key_N)
    assert form.fields["acquired_on"].value() == "14 May"
    for field, words in (
        ("product", "Sour pads"), ("active", "formic"), ("batch", "G 1"), ("expires_on", "30 Jun 2028"),
        ("pieces", "40"), ("withdrawal", "0"), ("proof", "invoice 9"), ("supplier", "Cob Farm Supplies"),
        ("address", "1 The Cob"),
    ):  # fmt: skip
        type_into(form, field, words)
    post(seat, form)
    seat.until(lambda: seat.place.form() is None)
    row = rows(place.ledger, Medicine)[-1]
    assert (row.product, row.active, row.batch, row.pieces) == ("Sour pads", "formic", "G 1", 40)
    assert (row.acquired_on, row.expires_on, row.course_days) == (date(2026, 5, 14), date(2028, 6, 30), 7)
    seat.settle()
    pack = seat.place.packs[row.id]
    assert (pack.supplier, pack.supplier_address, pack.missing()) == ("Cob Farm Supplies", "1 The Cob", [])
    assert seat.place.lists.table().hasFocus()


def test_what_a_pack_needs_is_said_beside_its_field_only_when_one_tries(seat: Seat) -> None:
    form = opened(seat, Qt.Key.Key_N)
    assert form.fields["product"].message() == ""
    post(seat, form)
    assert form.fields["product"].message() == "a medicine needs its product's name"
    assert form.fields["active"].message().startswith("an active substance is needed")
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert seat.place.form() is None


def test_the_address_of_a_known_supplier_comes_with_the_name(seat: Seat) -> None:
    form = opened(seat, Qt.Key.Key_N)
    form.fields["supplier"].set_value("Marl Veterinary")
    assert form.fields["address"].value() == "3 Low Row"
    form.fields["address"].set_value("9 High Row")
    form.fields["supplier"].set_value("")
    assert form.fields["address"].value() == "9 High Row"


def test_a_chosen_pack_is_changed_and_what_is_left_disposed_of(seat: Seat, place: Yard) -> None:
    form = opened(seat, Qt.Key.Key_E)
    assert (form.fields["batch"].value(), form.fields["course"].value()) == ("B7", "")
    type_into(form, "proof", "invoice 3000")
    post(seat, form)
    seat.until(lambda: seat.place.form() is None)
    assert rows(place.ledger, Medicine)[0].proof == "invoice 3000"
    seat.settle()
    form = opened(seat, Qt.Key.Key_D)
    assert form.fields["pieces"].value() == "16"
    post(seat, form)
    assert form.fields["how"].message() == "how and where is missing"
    type_into(form, "how", "taken back to the supplier")
    post(seat, form)
    seat.until(lambda: seat.place.form() is None)
    assert [row.pieces for row in rows(place.ledger, MedicineDisposal)] == [16]
    seat.settle()
    assert seat.place.pack_card.figures.figures()[0].value == "0"
    assert not seat.place.pack_card.sections["medicines.pack.gone"].isHidden()


def test_a_quantity_the_sheet_left_out_is_filled_in_from_the_register(seat: Seat, place: Yard) -> None:
    go(seat, "given")
    assert seat.place.given_card.numbers.text() == "1043"
    assert "to fill" in [fact.value for fact in seat.place.given_card.law.facts()]
    form = opened(seat, Qt.Key.Key_E)
    type_into(form, "pieces", "2")
    post(seat, form)
    seat.until(lambda: seat.place.form() is None)
    assert [row.pieces for row in rows(place.ledger, Treatment)] == [2, 2, 2]
    seat.settle()
    assert "to fill" not in [fact.value for fact in seat.place.given_card.law.facts()]


def test_the_register_of_one_hive_is_shown_and_the_filter_taken_away_again(seat: Seat, place: Yard) -> None:
    seat.place.show_what(("colony", place.hives["1042"], "1042"))
    seat.settle()
    table = seat.place.lists.given
    assert seat.place.lists.current() == "given"
    assert len(table.records.rows_shown()) == 1
    QTest.keyClick(seat.place.lists.only.findChild(Chip), Qt.Key.Key_Delete)
    seat.settle()
    assert len(table.records.rows_shown()) == 2


def test_the_last_twelve_months_are_shown_with_what_is_still_in_from_before(
    place: Yard, qtbot: Any, tmp_path: Path
) -> None:
    place.ledger.clock = FixedClock(datetime(2026, 12, 1, 12, tzinfo=UTC))
    with seated(place.ledger, "medicines", qtbot, tmp_path) as seat:
        go(seat, "given")
        table = seat.place.lists.given
        assert [row.cells[4].text for row in table.records.rows_shown()] == ["Sedge Holt"]
        seat.place.lists.periods.choose("all")
        seat.settle()
        assert len(table.records.rows_shown()) == 2


def test_typing_in_the_list_filters_it(seat: Seat) -> None:
    go(seat, "mites")
    QTest.keyClicks(seat.place.lists.table(), "sedge")
    assert [row.cells[0].text for row in seat.place.lists.mites.records.rows_shown()] == ["Sedge Holt"]


def test_the_worst_site_stands_first_and_its_counts_are_drawn(seat: Seat) -> None:
    go(seat, "mites")
    assert seat.place.mites_card.head.title.text() == "Marl Bank"
    assert seat.place.mites_card.head.identity.text() == "1 of 2 at the line"
    assert seat.place.mites_card.chart.table().rows[0][1] == "2.5, mean of 2 hives"
    seat.place.mites_card.site.click()
    assert seat.opened == [("sites", seat.place.mites_card.shown)]


def test_another_list_leaves_the_form_that_is_open(seat: Seat) -> None:
    opened(seat, Qt.Key.Key_N)
    go(seat, "given")
    assert seat.place.form() is None
    assert seat.place.side.currentWidget() is seat.place.cards
    assert seat.place.cards.currentWidget() is seat.place.given_card


def test_the_register_is_shown_and_saved_as_a_workbook(seat: Seat, tmp_path: Path) -> None:
    file = tmp_path / "register.xlsx"

    def answer(question: FileQuestion) -> None:
        assert question.suggested == "Medicine register all sites 2025-01-01 to 2026-05-14.xlsx"
        question.then(file)

    seat.desk.asked.connect(answer)
    form = opened(seat, Qt.Key.Key_P)
    form.set_values({"first": "1 Jan 2025"})
    form.submit()
    seat.until(lambda: seat.place.front.currentWidget() is seat.place.paper)
    seat.place.paper.save_book.click()
    seat.until(lambda: any("Saved register.xlsx" in said.text for said in seat.said))
    book = openpyxl.load_workbook(file)
    assert "1041, 1042" in [row[5] for row in book["Given"].iter_rows(values_only=True)]
    QTest.keyClick(seat.place.paper, Qt.Key.Key_Escape)
    assert seat.place.front.currentIndex() == 0


def test_a_period_that_ends_before_it_begins_is_refused(seat: Seat) -> None:
    form = register_form([(1, "Sedge Holt")], date(2026, 1, 1), date(2026, 5, 14))
    seat.qtbot.addWidget(form)
    heard: list[Any] = []
    form.ready.connect(heard.append)
    form.set_values({"last": "1 Jan 2025"})
    form.submit()
    assert (heard, form.fields["last"].message()) == ([], "the period ends before it begins")
    form.set_values({"last": "14 May 2026", "site": "1"})
    form.submit()
    assert (heard[0].scope, heard[0].site_id) == ("Sedge Holt", 1)


def test_empty_lists_say_what_to_do_first(sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path) -> None:
    with seated(sqlite_ledger, "medicines", qtbot, tmp_path) as seat:
        lists = seat.place.lists
        assert lists.no_packs.isVisible()
        for key, empty in (("given", lists.no_given), ("mites", lists.no_mites)):
            go(seat, key)
            assert empty.isVisible()
            empty.button.click()
        assert [name for name, _ in seat.opened] == ["rounds", "rounds"]
        go(seat, "packs")
        lists.no_packs.button.click()
        seat.until(lambda: seat.place.form() is not None)


def test_every_field_has_an_address_and_every_form_its_caution(seat: Seat) -> None:
    form = opened(seat, Qt.Key.Key_N)
    for name, field in form.fields.items():
        assert field.objectName() == f"medicines.add.{name}"
        assert isinstance(field.editor, QLineEdit | QComboBox | QPlainTextEdit)
        assert field.editor.accessibleName()
    form.fields["active"].set_value("formic")
    said = [label.text() for label in form.findChildren(QWidget) if hasattr(label, "text")]
    assert any("Acid-proof gloves" in str(words) for words in said)
    assert "Acid-proof gloves" not in seat.place.pack_card.careful.text()  # strips are no acid
