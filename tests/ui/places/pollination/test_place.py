"""Pollination as one works in it: contracts, bloom, strength, report."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.queries.contract_list import list_contracts
from beeledger.queries.contracts import contract_card
from beeledger.queries.records.contract_desk import ContractCard, Standing
from beeledger.reporting.pictures import page_text
from beeledger.ui.desk.desk import FileQuestion
from tests.operations.trips import Farm, farm
from tests.ui.places.sitting import Seat, seated

TODAY = date(2026, 5, 14)
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def yard(sqlite_ledger: Ledger) -> Farm:
    """Three of six promised hives on the orchard since 10 April, agreed until 20 May."""
    made = farm(sqlite_ledger)
    made.contract(off=date(2026, 5, 20))
    made.post(["1", "2", "3"], "Home Yard", "Ladder Hill", date(2026, 4, 10), contract_id=1)
    return made


@pytest.fixture
def seat(yard: Farm, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(yard.ledger, "pollination", qtbot, tmp_path) as made:
        yield made


def card_of(yard: Farm) -> ContractCard:
    with yard.ledger.read() as session:
        card = contract_card(session, 1, TODAY)
    assert card is not None
    return card


def opened(seat: Seat, key: Qt.Key) -> Any:
    QTest.keyClick(seat.place, key, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    return seat.place.side.form()


def saved(seat: Seat, form: Any) -> None:
    form.submit()
    seat.until(lambda: seat.place.side.form() is None)
    seat.settle()


def test_the_contract_stands_with_what_is_short_and_owed(seat: Seat) -> None:
    place = seat.place
    (row,) = place.table.records.rows_shown()
    assert [cell.text for cell in row.cells] == ["Ladder Hill 2026", "3 / 6", "3 short"]
    assert place.card.head.title.text() == "Ladder Hill 2026"
    owed = {fact.name: fact.value for fact in place.card.owed.facts()}
    assert owed == {"Hives brought": "£135.00", "Hives not brought": "£0.00", "Owed, before tax": "£135.00"}
    assert place.subtitle == "season 2026, 1 contract short"


def test_a_contract_with_a_new_grower_is_written_by_two_acts(seat: Seat, yard: Farm) -> None:
    form = opened(seat, Qt.Key.Key_N)
    form.set_values(
        {
            "name": "Bean field", "grower": "Drove Arable", "site": str(yard.sites["Near Bank"]),
            "crop": "field beans", "hives": "12", "price": "28", "on": "2 Jun 2026", "off": "28 Jun 2026",
        }
    )  # fmt: skip
    saved(seat, form)
    assert seat.place.card.head.title.text() == "Bean field"
    with yard.ledger.read() as session:
        row = list_contracts(session, TODAY)[-1]
    assert (row.grower, row.terms.hives, row.terms.price_pence, row.standing) == (
        "Drove Arable", 12, 2_800, Standing.WAITING,
    )  # fmt: skip


def test_a_field_that_is_wrong_says_so_and_nothing_is_written(seat: Seat, yard: Farm) -> None:
    form = opened(seat, Qt.Key.Key_N)
    form.submit()
    assert form.fields["name"].message() == "a contract needs a name"
    form.set_values(
        {
            "name": "Ladder Hill 2026", "grower": str(yard.grower), "site": "1", "crop": "apple", "hives": "2",
            "price": "28", "on": "2 Jun 2026", "off": "28 Jun 2026",
        }
    )  # fmt: skip
    form.submit()
    seat.until(lambda: "already" in form.fields["name"].message())
    with yard.ledger.read() as session:
        assert len(list_contracts(session, TODAY)) == 1


def test_a_contract_is_changed_where_it_stands(seat: Seat, yard: Farm) -> None:
    form = opened(seat, Qt.Key.Key_E)
    assert (form.fields["hives"].value(), form.fields["price"].value()) == ("6", "45")
    form.set_values({"hives": "3"})
    saved(seat, form)
    assert card_of(yard).row.terms.hives == 3
    assert seat.place.table.records.rows_shown()[0].cells[2].text == "on site"


def test_a_look_at_the_bloom_stands_on_the_card(seat: Seat, yard: Farm) -> None:
    form = opened(seat, Qt.Key.Key_B)
    form.set_values({"share": "35"})
    saved(seat, form)
    assert card_of(yard).row.looks[0].share_hundredths == 3_500
    facts = {fact.name: fact.value for fact in seat.place.card.promised.facts()}
    assert facts["Bloom"] == "35 %, looked at 14 May"


def test_a_strength_check_draws_hives_by_lot_and_takes_the_counts(seat: Seat, yard: Farm) -> None:
    form = opened(seat, Qt.Key.Key_T)
    drawn = form.fields["counts"].value().split()
    assert len(drawn) == 1  # a tenth of three, rounded up
    assert drawn[0] in ("1", "2", "3")
    form.set_values({"by": "RH", "counts": "1 8.5 5\n2 7"})
    saved(seat, form)
    (check,) = card_of(yard).checks
    assert (check.counted, check.of, check.below, check.mean_bees_tenths) == (2, 3, 1, 78)
    assert seat.place.card.checks.facts()[0].second.startswith("2 of 3 opened: 1 under 8 frames; 10 % by lot")


def test_the_report_is_shown_and_saved(seat: Seat, tmp_path: Path) -> None:
    place, file = seat.place, tmp_path / "report"

    def answer(question: FileQuestion) -> None:
        question.then(file)

    seat.desk.asked.connect(answer)
    QTest.keyClick(place, Qt.Key.Key_P, CTRL)
    seat.until(lambda: place.front.currentWidget() is place.paper)
    place.paper.save_pdf.click()
    seat.until(lambda: any("Saved report.pdf" in said.text for said in seat.said))
    text = page_text((tmp_path / "report.pdf").read_bytes())
    assert "Movement report" in text
    assert "3 hives fewer than promised" in text


def test_a_report_that_cannot_be_saved_says_why(seat: Seat, tmp_path: Path) -> None:
    place = seat.place
    seat.desk.asked.connect(lambda question: question.then(tmp_path / "no such folder" / "report.pdf"))
    QTest.keyClick(place, Qt.Key.Key_P, CTRL)
    seat.until(lambda: place.front.currentWidget() is place.paper)
    place.paper.save_pdf.click()
    seat.until(lambda: any("was not saved" in said.text for said in seat.said))
    assert seat.said[-1].remedy == "Choose another folder or name."


def test_closing_is_refused_while_hives_stand_there_and_says_what_to_do(seat: Seat) -> None:
    seat.place.card.acts["close"].click()
    seat.until(lambda: bool(seat.said))
    assert "3 hives still stand on the crop, agreed until 20 May" in seat.said[-1].text


def test_the_moves_of_a_contract_open_in_moves(seat: Seat) -> None:
    seat.place.card.acts["moves"].click()
    assert seat.opened == [("moves", ("contract", 1, "Ladder Hill 2026"))]


def test_where_hives_can_come_from_is_said_for_a_contract_that_waits(seat: Seat, yard: Farm) -> None:
    yard.contract(name="June", site_id=yard.sites["Near Bank"], on=date(2026, 6, 1), off=date(2026, 6, 20))
    seat.place.show_what(2)
    seat.settle()
    rows = [[cell.text for cell in row.cells] for row in seat.place.card.sources.records.rows_shown()]
    assert rows == [["Home Yard", "0", "", "5", "0.4"], ["Far Drove", "0", "", "3", "13.9"]]
    assert seat.place.card.why.facts()[0].name == "5 at Home Yard"


def test_an_empty_place_says_what_to_do_first(sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path) -> None:
    with seated(sqlite_ledger, "pollination", qtbot, tmp_path) as seat:
        assert seat.place.empty.isVisible()
        assert not seat.place.both.isVisible()
        seat.place.empty.button.click()
        seat.until(lambda: seat.place.side.form() is not None)


@pytest.mark.parametrize("key", [Qt.Key.Key_N, Qt.Key.Key_B, Qt.Key.Key_T])
def test_every_field_of_every_form_has_an_address(seat: Seat, key: Qt.Key) -> None:
    form = opened(seat, key)
    assert [field.objectName() for field in form.fields.values()] == [
        f"{form.objectName()}.{name}" for name in form.fields
    ]
    assert form.objectName().startswith("pollination.")
