"""Harvest in use: from the take to the drums by the keys alone, the balance in view."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.takes import NewTake, NewTakeLine, record_take
from beeledger.queries.honey import lots, season_balance
from beeledger.queries.takes import takes
from tests.operations import honey_room as room_of
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier
ENTER = Qt.Key.Key_Return


@pytest.fixture
def seat(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    site, _ = room_of.farm(sqlite_ledger)
    perform(sqlite_ledger, record_take, NewTake(site, room_of.TAKEN, (NewTakeLine(4, estimate_g=44_000),)))
    with seated(sqlite_ledger, "harvest", qtbot, tmp_path / "desk") as made:
        yield made


def typed(field: Any, words: str) -> None:
    field.editor.setFocus()
    field.editor.selectAll()
    QTest.keyClicks(field.editor, words)
    QTest.keyClick(field.editor, ENTER)


def choose(seat: Seat, take: int = 1) -> None:
    seat.place.takes.choose([take])
    seat.settle()


def weigh(seat: Seat) -> None:
    """Two turns of supers, 20 and 22 kg of honey, written by the keys."""
    choose(seat)
    scale = seat.place.scale
    typed(scale.tare, "5.6")
    typed(scale.gross, "25.6")
    typed(scale.gross, "27.6")
    QTest.keyClick(scale.gross.editor, ENTER, CTRL)
    seat.settle()


def test_what_waits_is_listed_and_the_balance_stands_over_it(seat: Seat) -> None:
    rows = [[cell.text for cell in row.cells] for row in seat.place.takes.records.rows_shown()]
    assert rows == [["Long Drove", "4 May", "4", "44 est.", "to weigh"]]
    assert seat.place.balance.accessibleDescription().endswith("balances to the gram")


def test_supers_are_weighed_one_after_another_by_the_keys(seat: Seat) -> None:
    weigh(seat)
    with seat.desk.ledger.read() as session:
        assert [(lot.kind, lot.left_g) for lot in lots(session)] == [("supers", 42_000)]
    (row,) = seat.place.takes.records.rows_shown()
    assert [cell.text for cell in row.cells][3:] == ["42.0", "to extract"]


def test_weighed_supers_are_extracted_into_drums_and_the_rest_is_loss(seat: Seat) -> None:
    weigh(seat)
    choose(seat)
    scale = seat.place.scale
    assert scale.drums
    typed(scale.name, "drum 7")
    typed(scale.tare, "11.5")
    typed(scale.index, "1.4925")
    typed(scale.gross, "31.5")
    assert scale.name.value() == "drum 8"
    typed(scale.gross, "31.0")
    scale.wax.set_value("0.7")
    QTest.keyClick(scale.gross.editor, ENTER, CTRL)
    seat.settle()
    with seat.desk.ledger.read() as session:
        found = season_balance(session, date(2026, 1, 1))
        names = {
            lot.name: (lot.left_g, lot.moisture_hundredths is not None) for lot in lots(session, ["drum"])
        }
    assert names == {"drum 7": (20_000, True), "drum 8": (19_500, False)}
    assert (found.spent_g, found.difference_g) == ({"wax": 700, "loss": 1_800}, 0)
    assert seat.place.takes.records.rows_shown() == []


def test_more_out_than_in_cannot_be_written(seat: Seat) -> None:
    weigh(seat)
    choose(seat)
    scale = seat.place.scale
    typed(scale.name, "drum 7")
    typed(scale.tare, "11.5")
    typed(scale.gross, "91.5")
    assert not scale.write.isEnabled()
    assert "More came out" in scale.write.reason
    QTest.keyClick(scale.gross.editor, ENTER, CTRL)
    seat.settle()
    with seat.desk.ledger.read() as session:
        assert lots(session, ["drum"]) == ()
    scale.table.setFocus()
    scale.table.choose([0])
    QTest.keyClick(scale.table, Qt.Key.Key_Delete)
    assert scale.turns == []


def test_typed_weights_are_not_lost_by_choosing_another_take_or_leaving(seat: Seat) -> None:
    choose(seat)
    typed(seat.place.scale.tare, "5.6")
    typed(seat.place.scale.gross, "25.6")
    seat.place.takes.choose([])
    assert len(seat.place.scale.turns) == 1
    assert not seat.place.leave()
    assert "not written yet" in seat.said[-1].text
    seat.place.refresh()
    seat.settle()
    assert len(seat.place.scale.turns) == 1


def test_a_take_is_typed_by_hive_and_an_unknown_number_is_said(seat: Seat) -> None:
    QTest.keyClick(seat.place, Qt.Key.Key_N, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    form.set_values({"hives": "3:2"})
    form.submit()
    assert form.fields["site"].message() == "no site is chosen. Choose it; a new one is added in Sites"
    form.set_values({"site": "2", "hives": "3:2, 99", "on": "5 May"})
    form.submit()
    seat.settle()
    assert form.fields["hives"].message() == "no hive carries 99"
    form.set_values({"hives": "3:2"})
    form.submit()
    seat.settle()  # no supers were on by the record: asked about, pressing again accepts it
    assert seat.place.side.form() is form
    assert form.main.isEnabled()
    form.submit()
    seat.settle()
    assert seat.place.side.form() is None
    with seat.desk.ledger.read() as session:
        assert [(each.site, each.supers, each.hives) for each in takes(session)] == [
            ("Low Dyke", 2, 1), ("Long Drove", 4, 0),
        ]  # fmt: skip


def test_drums_are_read_run_together_held_and_jarred_from(seat: Seat) -> None:
    ledger = seat.desk.ledger
    lot = room_of.weigh(ledger, 1, 42_000)
    first = room_of.extract(ledger, [lot], 20_000, "drum 7")
    seat.place.refresh()
    seat.settle()
    seat.place.lots.table.choose([first])
    seat.settle()
    QTest.keyClick(seat.place, Qt.Key.Key_E, CTRL)
    seat.place.side.form().set_values({"value": "20.4", "source": "own refractometer"})
    seat.place.side.form().submit()
    seat.settle()
    assert seat.place.lots.lines[first].hold == "moisture 20.4 %, at most 20 % allowed"
    assert seat.place.lots.hold.text() == "Free"
    QTest.keyClick(seat.place, Qt.Key.Key_H, CTRL)
    seat.place.side.form().set_values({"why": "read again by the laboratory"})
    seat.place.side.form().submit()
    seat.settle()
    assert seat.place.lots.lines[first].hold is None
    QTest.keyClick(seat.place, Qt.Key.Key_T, CTRL)
    seat.place.side.form().set_values({f"lot_{first}": "12.5"})
    seat.place.side.form().submit()
    seat.settle()
    assert sorted(each.left_g for each in seat.place.lots.lines.values()) == [7_500, 12_500]
    QTest.keyClick(seat.place, Qt.Key.Key_O, CTRL)
    seat.place.side.form().set_values({"kg": "0.5", "sink": "spill"})
    seat.place.side.form().submit()
    seat.settle()
    assert seat.place.lots.lines[first].left_g == 7_000
    QTest.keyClick(seat.place, Qt.Key.Key_J, CTRL)
    assert seat.opened == [("batches", ("jar", first))]


def test_honey_bought_in_needs_the_sellers_lot_mark(seat: Seat) -> None:
    seat.place.buy()
    form = seat.place.side.form()
    form.set_values({"name": "drum X", "kg": "300", "country": "Spain"})
    form.submit()
    seat.settle()
    assert "seller's lot mark" in form.fields["supplier_lot"].message()
    form.set_values({"supplier_lot": "E-77"})
    form.submit()
    seat.settle()
    assert [each.name for each in seat.place.lots.lines.values()] == ["drum X"]


def test_every_field_of_the_harvest_has_an_address(seat: Seat) -> None:
    seat.place.take()
    seat.settle()
    for kind in (QLineEdit, QComboBox, QPlainTextEdit):
        for piece in seat.place.findChildren(kind):
            if isinstance(piece.parent(), QComboBox):
                continue
            assert piece.objectName() or piece.parent().objectName(), piece
