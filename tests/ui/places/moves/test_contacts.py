"""Contacts at the desk: asked for and shown by keyboard."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from tests.operations.trips import farm
from tests.ui.places.sitting import seated

CONTROL = Qt.KeyboardModifier.ControlModifier


def test_contacts_of_a_site_are_asked_for_and_come_as_a_paper(sqlite_ledger: Ledger, qtbot, tmp_path) -> None:
    there = farm(sqlite_ledger)
    there.post(["1", "2"], "Home Yard", "Ladder Hill", date(2026, 4, 22))
    with seated(sqlite_ledger, "moves", qtbot, tmp_path / "desk") as seat:
        QTest.keyClick(seat.place.table, Qt.Key.Key_C, CONTROL | Qt.KeyboardModifier.ShiftModifier)
        seat.until(lambda: seat.place.side.form() is not None)
        form = seat.place.side.form()
        QTest.keyClick(form, Qt.Key.Key_Return, CONTROL)
        assert "site is missing" in form.fields["site"].message()
        form.set_values({"site": str(there.sites["Home Yard"]), "first": "1 April 2026"})
        QTest.keyClick(form, Qt.Key.Key_Return, CONTROL)
        seat.until(lambda: seat.place.front.currentWidget() is seat.place.paper)
