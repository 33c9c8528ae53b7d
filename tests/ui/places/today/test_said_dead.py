"""A hive of which an old spreadsheet says that it is dead: shown first, brought in as ended or alive."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony
from tests.builders.yards import rows
from tests.ui.places.sitting import seated

TEXT = "Hive,Site,Queen year,Last visit,Brood,Comment\n1,Pound Furlong,2025,14/4/2026,6,\n2,Pound Furlong,2024,14/4/2026,0,dead\n"


@pytest.mark.parametrize(("presses", "living"), [(0, 1), (1, 2)])
def test_the_person_says_how_it_comes_in(sqlite_ledger: Ledger, qtbot, tmp_path, presses: int, living: int):
    file = tmp_path / "hives.csv"
    file.write_text(TEXT, encoding="utf-8")
    with seated(sqlite_ledger, "today", qtbot, tmp_path / "desk") as seat:
        pane = seat.place.spreadsheet
        pane._chosen(file)
        seat.until(lambda: pane.read is not None)
        assert pane.gone.text() == "1 hive said dead: comes in as ended"
        for _ in range(presses):
            QTest.mouseClick(pane.gone, Qt.MouseButton.LeftButton)
        pane.bring_in()
        seat.settle()
    assert sum(row.ended_on is None for row in rows(sqlite_ledger, Colony)) == living
