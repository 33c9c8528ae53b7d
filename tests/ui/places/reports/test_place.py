"""Reports by the keys: every document is found, asked for, shown and saved."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.operations.jars import JarsOut, send_jars
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.reporting.catalogue import DOCUMENTS, document
from beeledger.ui.desk.desk import FileQuestion
from beeledger.ui.places.reports.table import documents, room_words
from beeledger.ui.places.reports.wishes import ASKS
from tests.builders.filled import whole_farm
from tests.operations import honey_room as room_of
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def seat(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    farm = whole_farm(sqlite_ledger)
    perform(sqlite_ledger, set_farm, {"address": ["Sallow Barn", "Nether Hay", "HR9 0ZZ"]})
    perform(sqlite_ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    perform(sqlite_ledger, change_site, farm.long.site, NewSite("Long Drove", grid="SO 430 640"))
    perform(sqlite_ledger, send_jars, JarsOut(farm.batch, room_of.JARRED, 12, "Aldley Stores"))
    with seated(sqlite_ledger, "reports", qtbot, tmp_path / "desk") as made:
        made.until(lambda: made.place.form.form() is not None)
        yield made


@pytest.fixture
def bare(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(sqlite_ledger, "reports", qtbot, tmp_path / "desk") as made:
        made.until(lambda: made.place.form.form() is not None)
        yield made


def ask(seat: Seat, key: str, **values: str) -> Any:
    seat.place.show_what(key)
    form = seat.place.form.form()
    assert form.objectName() == f"reports.{key}"
    for name, words in values.items():
        form.fields[name].set_value(words)
    return form


def first_of(form: Any) -> str:
    """The first thing a document can be made of."""
    choice = form.fields["which"].editor
    return next(str(choice.itemData(at)) for at in range(choice.count()) if choice.itemData(at))


def test_no_document_of_the_catalogue_is_missing(seat: Seat) -> None:
    assert set(ASKS) == {each.key for each in DOCUMENTS}
    assert {row.id for row in seat.place.table.records.rows_shown()} == set(ASKS)


def test_the_documents_stand_room_by_room() -> None:
    rooms = [room_words(each) for each in documents()]
    assert rooms == sorted(rooms, key=rooms.index)
    assert len(set(rooms)) == sum(a != b for a, b in zip(rooms, [*rooms[1:], ""], strict=True))


@pytest.mark.parametrize("key", [each.key for each in DOCUMENTS])
def test_each_document_is_shown_from_its_form(seat: Seat, key: str) -> None:
    form = ask(seat, key)
    if "which" in form.fields:
        form.fields["which"].set_value(first_of(form))
    if "mark" in form.fields:
        form.fields["mark"].set_value("sb26 000140")
    form.submit()
    seat.until(lambda: seat.place.paper.printed is not None)
    printed = seat.place.paper.printed
    assert (printed.about.key, printed.pdf[:4]) == (key, b"%PDF")
    assert seat.place.front.currentWidget() is seat.place.paper
    assert seat.place.paper.save_book.isHidden() is (len(document(key).forms) == 1)


def test_a_recall_is_asked_for_by_the_keys_alone_and_saved(seat: Seat, tmp_path: Path) -> None:
    asked: list[FileQuestion] = []
    seat.desk.asked.connect(asked.append)
    seat.place.show_what("recall-paper")
    seat.place.table.setFocus()
    QTest.keyClick(seat.place.table, Qt.Key.Key_Return)
    mark = seat.place.form.form().fields["mark"].editor
    assert mark.hasFocus()
    QTest.keyClicks(mark, "sb26 000140")
    QTest.keyClick(mark, Qt.Key.Key_Return, CTRL)
    seat.until(lambda: seat.place.paper.printed is not None)
    seat.place.paper.save_pdf.click()
    file = tmp_path / asked[0].suggested
    asked[0].then(file)
    seat.settle()
    assert (file.name, file.read_bytes()[:4]) == ("recall SB26-0001-40.pdf", b"%PDF")


def test_a_document_that_asks_for_nothing_is_shown_by_enter(seat: Seat) -> None:
    seat.place.show_what("marks-sheet")
    QTest.keyClick(seat.place.table, Qt.Key.Key_Return)
    seat.until(lambda: seat.place.paper.printed is not None)
    assert seat.place.paper.printed.about.key == "marks-sheet"


def test_what_was_made_lately_is_made_again_by_a_key(seat: Seat) -> None:
    ask(seat, "marks-sheet").submit()
    seat.until(lambda: seat.place.paper.printed is not None)
    ask(seat, "delivery-note", which="1").submit()
    seat.until(lambda: seat.place.paper.printed.about.key == "delivery-note")
    QTest.keyClick(seat.place.paper.preview, Qt.Key.Key_Escape)
    rows = seat.place.made_lately
    assert [(fact.name, fact.middle) for fact in rows.facts()] == [
        ("delivery note 1", "Dispatch"), ("marks of the quick line", "Rounds"),
    ]  # fmt: skip
    rows.setFocus()
    QTest.keyClick(rows, Qt.Key.Key_Down)
    QTest.keyClick(rows, Qt.Key.Key_Return)
    seat.until(lambda: seat.place.paper.printed.about.key == "marks-sheet")
    assert seat.place.front.currentWidget() is seat.place.paper


def test_what_is_wrong_stands_beside_its_field(seat: Seat) -> None:
    form = ask(seat, "movement-register", first="14 May 2026", last="1 May 2026")
    form.submit()
    assert form.fields["last"].message() == "the period ends before it begins"
    form = ask(seat, "round-sheet", which="")
    form.submit()
    assert form.fields["which"].message() == "the site is missing. Choose one of the list"
    form = ask(seat, "recall-paper", mark="SB26-0001-41")
    form.submit()
    assert "check digits do not agree" in form.fields["mark"].message()


def test_a_name_is_typed_in_part_where_it_can_only_be_one(seat: Seat) -> None:
    form = ask(seat, "round-sheet", which="far")
    form.submit()
    seat.until(lambda: seat.place.paper.printed is not None)
    assert seat.place.paper.printed.record.site == "Far Drove"
    form = ask(seat, "round-sheet", which="drove")
    form.submit()
    assert form.fields["which"].message() == "several are called so. Choose one of the list"


def test_labels_that_fail_the_law_are_not_shown_and_the_reason_is_said(seat: Seat) -> None:
    perform(seat.desk.ledger, set_farm, {"address": ["office@sallow.example"]})
    ask(seat, "label-sheet", which="1").submit()
    seat.until(lambda: bool(seat.said))
    assert seat.place.paper.printed is None
    assert "address" in seat.said[-1].text.casefold()


def test_a_new_farm_is_told_what_is_missing(bare: Seat) -> None:
    form = ask(bare, "batch-record")
    assert (form.main.isEnabled(), form.main.reason) == (False, "There is no batch yet.")
    ask(bare, "marks-sheet").submit()
    bare.until(lambda: bare.place.paper.printed is not None)


def test_cancel_brings_the_form_back_as_it_was(seat: Seat) -> None:
    form = ask(seat, "recall-paper", mark="SB26")
    QTest.keyClick(form, Qt.Key.Key_Escape)
    fresh = seat.place.form.form()
    assert fresh is not form
    assert fresh.fields["mark"].value() == ""
