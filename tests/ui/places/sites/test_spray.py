"""A spray notice at the desk: written and closed by keyboard."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.spray import SprayNotice
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, change_site
from beeledger.ui.widgets.marks import Mark
from tests.builders.yards import rows, yard
from tests.ui.places.sitting import Seat, seated

CONTROL = Qt.KeyboardModifier.ControlModifier


def submit(seat: Seat) -> None:
    QTest.keyClick(seat.place.side.form(), Qt.Key.Key_Return, CONTROL)
    seat.settle()


def test_a_notice_is_written_shown_first_and_closed_by_keyboard(
    sqlite_ledger: Ledger, qtbot, tmp_path
) -> None:
    drove = yard(sqlite_ledger, "Long Drove", "3", "7")
    perform(sqlite_ledger, change_site, drove.site, NewSite("Long Drove", grid="SO 392 751"))
    with seated(sqlite_ledger, "sites", qtbot, tmp_path / "desk") as seat:
        QTest.keyClick(seat.place.table, Qt.Key.Key_N, CONTROL | Qt.KeyboardModifier.ShiftModifier)
        seat.until(lambda: seat.place.side.form() is not None)
        form = seat.place.side.form()
        submit(seat)
        assert "who gave" in form.fields["given_by"].message()
        form.set_values(
            {"given_by": "Ruth Hall", "middle": "SO 392 751", "from_at": "20:00", "until_at": "02:00"}
        )
        submit(seat)
        (row,) = rows(sqlite_ledger, SprayNotice)
        assert (row.given_by, row.radius_m, row.easting_m) == ("Ruth Hall", 3_000, 339_200)
        seat.until(lambda: bool(seat.place.card.spray.facts()))
        first, ring, inside = seat.place.card.spray.facts()
        assert (first.name, first.mark, ring.middle) == ("From Ruth Hall", Mark.LATE, "Ruth Hall")
        assert (inside.name, inside.value) == ("Long Drove", "2 hives")
        seat.place.card.spray.setFocus()
        QTest.keyClick(seat.place.card.spray, Qt.Key.Key_Return)
        seat.until(lambda: seat.place.side.form() is not None)
        seat.place.side.form().set_values({"done": "Closed at dusk, opened at seven"})
        submit(seat)
        assert rows(sqlite_ledger, SprayNotice)[0].done == "Closed at dusk, opened at seven"
        (over,) = seat.place.card.spray.facts()
        assert over.mark is Mark.MET
