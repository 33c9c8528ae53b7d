"""What a column of an old spreadsheet is: shown, set by the person, and remembered by the desk."""

from __future__ import annotations

from beeledger.database.ledger import Ledger
from tests.ui.places.sitting import seated

TEXT = "Hive,Site,Brood,Oddity\n1,Pound Furlong,5,2\n2,Pound Furlong,6,3\n"


def test_a_column_set_by_the_person_is_read_so_and_remembered(sqlite_ledger: Ledger, qtbot, tmp_path):
    file = tmp_path / "hives.csv"
    file.write_text(TEXT, encoding="utf-8")
    with seated(sqlite_ledger, "today", qtbot, tmp_path / "desk") as seat:
        pane = seat.place.spreadsheet
        pane._chosen(file)
        seat.until(lambda: pane.read is not None)
        first = pane.read
        assert [one.field for one in pane.columns.taken] == ["hive", "site", "brood", ""]
        pane.columns.table.choose([3])
        choice = pane.columns.choice
        choice.setCurrentIndex(choice.findData("temper"))
        choice.activated.emit(choice.currentIndex())
        seat.until(lambda: pane.read is not first)
        assert [row.temper for row in pane.read.reading.colonies] == [2, 3]
        (kept,) = seat.place.desk.settings.column_choices.values()
        assert kept == {"oddity": "temper"}
