"""Moves as one works in it by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit, QWidget

from beeledger.database.ledger import Ledger
from beeledger.queries.moves import move_log
from beeledger.ui.desk.desk import FileQuestion
from beeledger.ui.places.moves.forms import MoveForm
from beeledger.ui.widgets.chips import Chip
from tests.operations.trips import Farm, farm
from tests.ui.places.sitting import Seat, seated

APRIL = date(2026, 4, 9)
ENTER = Qt.Key.Key_Return
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def yard(sqlite_ledger: Ledger) -> Farm:
    made = farm(sqlite_ledger)
    made.contract()
    made.post(
        ["1", "2", "3"], "Home Yard", "Ladder Hill", APRIL, vehicle_id=made.van, driver="RH", contract_id=1
    )
    made.post(["21"], "Far Drove", "Near Bank", date(2026, 5, 2))
    return made


@pytest.fixture
def seat(yard: Farm, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(yard.ledger, "moves", qtbot, tmp_path) as made:
        yield made


def form_of(seat: Seat) -> MoveForm:
    form = seat.place.side.form()
    assert isinstance(form, MoveForm)
    return form


def open_form(seat: Seat) -> MoveForm:
    QTest.keyClick(seat.place, Qt.Key.Key_N, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    return form_of(seat)


def type_move(seat: Seat, hives: str) -> MoveForm:
    """From Home Yard to Ladder Hill on 13 May, every key as the office strikes it, Tab between the fields."""
    form = open_form(seat)
    start = form.fields["from"].editor
    QTest.keyClicks(start, "Home")
    QTest.keyClick(start, Qt.Key.Key_Tab)
    QTest.keyClicks(form.fields["to"].editor, "Ladder")
    for field, words in (("on", "13 May"), ("loaded", "21:15"), ("unloaded", "22:00"), ("hives", hives)):
        editor = form.fields[field].editor
        editor.setFocus()
        assert isinstance(editor, QLineEdit)
        editor.selectAll()
        QTest.keyClicks(editor, words)
    seat.settle()
    return form


def post(seat: Seat, form: MoveForm) -> None:
    QTest.keyClick(form.fields["hives"].editor, ENTER, CTRL)
    seat.settle()


def logged(yard: Farm) -> list[tuple[date, int]]:
    with yard.ledger.read() as session:
        return [(row.on, row.hives) for row in move_log(session)]


def test_the_log_stands_newest_first_and_its_first_move_is_on_the_card(seat: Seat) -> None:
    rows = seat.place.table.records.rows_shown()
    assert [row.cells[2].text for row in rows] == ["Far Drove", "Home Yard"]
    assert seat.place.card.head.title.text() == "Far Drove to Near Bank"
    assert seat.place.card.numbers.text() == "21"


def test_a_move_is_typed_and_posted_by_keyboard_alone(seat: Seat, yard: Farm) -> None:
    form = type_move(seat, "4-6, 5x, 8")
    assert form.counted.text() == "3 hives 1 left behind of 5 that stood there"
    assert form.fields["contract"].value() == "1"  # the only contract of that site
    post(seat, form)
    seat.until(lambda: seat.place.side.form() is None)
    seat.settle()
    assert logged(yard)[0] == (date(2026, 5, 13), 3)
    assert yard.stands("8")[-1][0] == "Ladder Hill"
    assert yard.stands("5")[-1][0] == "Home Yard"
    assert seat.place.card.head.title.text() == "Home Yard to Ladder Hill"


def test_a_hive_elsewhere_holds_the_post_until_the_sheet_is_accepted(seat: Seat, yard: Farm) -> None:
    form = type_move(seat, "4, 22")
    assert [finding.code for finding in form.says.findings()] == ["move.elsewhere"]
    post(seat, form)
    assert form.foot.first.text() == "1 against the record: Ctrl+R accepts the sheet"
    assert len(logged(yard)) == 2
    QTest.keyClick(form.fields["hives"].editor, Qt.Key.Key_R, CTRL)
    seat.settle()
    assert form.says.findings() == ()
    post(seat, form)
    seat.until(lambda: len(logged(yard)) == 3)
    assert yard.stands("22")[-1][0] == "Ladder Hill"


def test_a_number_nobody_has_switches_posting_off_with_the_reason_beside_it(seat: Seat, yard: Farm) -> None:
    form = type_move(seat, "4, 777")
    assert form.fields["hives"].message() == "No hive ever carried 777. Look at the numbers"
    assert not form.main.isEnabled()
    post(seat, form)
    assert len(logged(yard)) == 2


def test_what_is_missing_is_said_only_when_one_tries_to_post(seat: Seat) -> None:
    form = open_form(seat)
    assert form.fields["to"].message() == ""
    post(seat, form)
    assert form.fields["to"].message() == "where to is missing"


def test_escape_leaves_the_form_and_nothing_is_written(seat: Seat, yard: Farm) -> None:
    form = open_form(seat)
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert seat.place.side.form() is None
    assert len(logged(yard)) == 2


def test_an_old_move_is_corrected_in_the_form(seat: Seat, yard: Farm) -> None:
    seat.place.show_what(1)
    seat.settle()
    QTest.keyClick(seat.place, Qt.Key.Key_E, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    form = form_of(seat)
    assert (form.fields["hives"].value(), form.fields["loaded"].value()) == ("1-3", "20:30")
    form.fields["hives"].set_value("1, 3")
    seat.settle()
    post(seat, form)
    seat.until(lambda: seat.place.side.form() is None)
    assert yard.stands("2") == [("Home Yard", date(2026, 3, 1), None)]
    assert logged(yard)[-1] == (APRIL, 2)


def test_a_move_of_next_month_is_kept_as_a_plan_and_delivered_later(seat: Seat, yard: Farm) -> None:
    form = type_move(seat, "4, 5")
    form.fields["on"].set_value("2 Jun")
    seat.settle()
    form.keep.click()
    seat.until(lambda: seat.place.side.form() is None)
    seat.settle()
    assert logged(yard)[0] == (date(2026, 6, 2), 2)
    assert seat.place.table.records.rows_shown()[0].cells[-1].text == "planned"
    assert seat.place.card.correct.text() == "Deliver"
    assert yard.stands("4")[-1][0] == "Home Yard"
    QTest.keyClick(seat.place, Qt.Key.Key_E, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    form = form_of(seat)
    form.fields["on"].set_value("14 May")
    seat.settle()
    post(seat, form)
    seat.until(lambda: seat.place.side.form() is None)
    assert yard.stands("4")[-1][0] == "Ladder Hill"


def test_a_plan_is_dropped_by_its_button(seat: Seat, yard: Farm) -> None:
    form = type_move(seat, "4, 5")
    form.keep.click()
    seat.until(lambda: seat.place.side.form() is None)
    seat.settle()
    seat.place.card.drop.click()
    seat.until(lambda: len(logged(yard)) == 2)


def test_the_moves_of_one_contract_are_shown_and_the_filter_taken_away_again(seat: Seat) -> None:
    seat.place.show_what(("contract", 1, "Ladder Hill 2026"))
    seat.settle()
    assert [row.id for row in seat.place.table.records.rows_shown()] == [1]
    chip = seat.place.only.findChild(Chip)
    QTest.keyClick(chip, Qt.Key.Key_Delete)
    seat.settle()
    assert len(seat.place.table.records.rows_shown()) == 2


def test_hives_chosen_elsewhere_come_typed_into_a_new_move(seat: Seat, yard: Farm) -> None:
    seat.place.show_what(("new", yard.sites["Home Yard"], "4, 5"))
    seat.until(lambda: seat.place.side.form() is not None)
    seat.settle()
    form = form_of(seat)
    assert (form.fields["from"].value(), form.fields["hives"].value()) == (
        str(yard.sites["Home Yard"]),
        "4, 5",
    )


def test_the_register_is_shown_and_saved_as_a_workbook(seat: Seat, tmp_path: Path) -> None:
    place, file = seat.place, tmp_path / "register.xlsx"

    def answer(question: FileQuestion) -> None:
        assert question.suggested == "Movement register all sites 2026-01-01 to 2026-05-14.xlsx"
        question.then(file)

    seat.desk.asked.connect(answer)
    QTest.keyClick(place, Qt.Key.Key_P, CTRL)
    seat.until(lambda: place.side.form() is not None)
    place.side.form().set_values({"first": "1 Jan 2026"})
    place.side.form().submit()
    seat.until(lambda: place.front.currentWidget() is place.paper)
    assert place.paper.preview.page_count() == 1
    place.paper.save_book.click()
    seat.until(lambda: any("Saved register.xlsx" in said.text for said in seat.said))
    cells = [row[3] for row in openpyxl.load_workbook(file).worksheets[0].iter_rows(values_only=True)]
    assert [cell for cell in cells if cell in ("1", "2", "3", "21")] == ["1", "2", "3", "21"]
    QTest.keyClick(place.paper, Qt.Key.Key_Escape)
    assert place.front.currentIndex() == 0


def test_a_vehicle_is_added_and_offered(seat: Seat) -> None:
    seat.place.add_vehicle()
    form = seat.place.side.form()
    form.set_values({"name": "Flatbed", "places": "48", "payload": "2600"})
    form.submit()
    seat.until(lambda: seat.place.side.form() is None)
    seat.settle()
    vans = open_form(seat).fields["vehicle"].editor
    assert isinstance(vans, QComboBox)
    assert "Flatbed (48)" in [vans.itemText(at) for at in range(vans.count())]


def test_an_empty_log_says_what_to_do_first(sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path) -> None:
    with seated(sqlite_ledger, "moves", qtbot, tmp_path) as seat:
        assert seat.place.empty.isVisible()
        assert not seat.place.table.isVisible()
        seat.place.empty.button.click()
        seat.until(lambda: seat.place.side.form() is not None)


def test_every_field_has_an_address(seat: Seat) -> None:
    form = open_form(seat)
    for name, field in form.fields.items():
        assert field.objectName() == f"moves.form.{name}"
        assert isinstance(field.editor, QLineEdit | QComboBox | QPlainTextEdit)
        assert field.editor.accessibleName()
    assert seat.place.findChild(QWidget, "moves.table") is seat.place.table
