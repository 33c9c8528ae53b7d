"""Today puts off what is due at chosen sites, and marks the restricted ones on its map."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.due import PutOff
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, change_site
from beeledger.queries.due import SiteDue
from beeledger.queries.pressing import Morning
from beeledger.rules.due import Grade
from beeledger.ui.places.today.table import shapes
from beeledger.ui.widgets.marks import Mark
from tests.builders.yards import LOOKED, Yard, rows, yard
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier
CHORD = CTRL | Qt.KeyboardModifier.ShiftModifier
TODAY = date(2026, 5, 14)


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    place = yard(sqlite_ledger, "Long Drove", "3", "7")
    perform(sqlite_ledger, change_site, place.site, NewSite("Long Drove", grid="SO 430 640"))
    place.post(date(2026, 5, 5), h3=LOOKED, h7=LOOKED)
    return place


@pytest.fixture
def seat(drove: Yard, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(drove.ledger, "today", qtbot, tmp_path / "desk") as found:
        yield found


def test_a_site_is_put_off_by_keys_with_a_note_and_leaves_the_list(seat: Seat, drove: Yard):
    assert list(seat.place.lines) == [drove.site]
    seat.place.table.choose([drove.site])
    QTest.keyClick(seat.place.table, Qt.Key.Key_O, CHORD)
    seat.settle()
    form = seat.place.side.form()
    form.set_values({"until": "25 May", "by_whom": "RS"})
    QTest.keyClick(form.fields["note"].editor, Qt.Key.Key_Return, CTRL)
    seat.settle()
    assert form.fields["note"].message() == "a putting off says why"
    form.set_values({"note": "flooded"})
    QTest.keyClick(form.fields["note"].editor, Qt.Key.Key_Return, CTRL)
    seat.settle()
    assert seat.place.side.form() is None
    assert {(row.until_on, row.by_whom, row.note) for row in rows(drove.ledger, PutOff)} == {
        (date(2026, 5, 25), "RS", "flooded")
    }
    assert seat.place.lines == {}


def test_nothing_chosen_is_said_and_opens_no_form(seat: Seat):
    seat.place.table.choose([])
    seat.place.put_off()
    assert seat.place.side.form() is None
    assert not seat.place.later.isEnabled()


def test_a_restricted_site_carries_its_own_mark_whether_due_or_quiet():
    line = SiteDue(
        1, "Gorse Ley", "GL", Grade.LATE, 6, date(2026, 5, 8), 31, 32, "18 swarm check", 165, 14_000, 340_000, 260_000,
        None, None,
    )  # fmt: skip
    places = ((2, "Low Dyke", 341_000, 261_000), (3, "Fen End", 342_000, 262_000))
    found = Morning(None, (line,), (), places, None, frozenset({1, 2}))
    marks = {site.key: site.mark for site in shapes(found, TODAY)}
    assert marks == {1: Mark.HELD, 2: Mark.HELD, 3: None}
    assert "restricted" in next(site.words for site in shapes(found, TODAY) if site.key == 1)
    free = Morning(None, (line,), (), places, None)
    assert {site.key: site.mark for site in shapes(free, TODAY)} == {1: Mark.LATE, 2: None, 3: None}
