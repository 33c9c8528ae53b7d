"""The grid as it stands on the window: sums, tabs, Qt's own rules, nothing cut, the queen beside her hive."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtTest import QAbstractItemModelTester

from beeledger.database.ledger import Ledger
from beeledger.rules.rounds.entry import QueenState
from beeledger.ui.widgets.painting import elisions
from tests.builders.yards import Yard, strips, yard
from tests.ui.places.rounds.evening import SINGLE, Typist, double_yard, evening

MARKS = ["301", "302", "305", "308", "311", "312"]


@pytest.fixture
def fen(sqlite_ledger: Ledger) -> Yard:
    strips(sqlite_ledger)
    place = double_yard(sqlite_ledger, "Fen End", MARKS, boxes=SINGLE)
    yard(sqlite_ledger, "Low Dyke", "77", "78")
    return place


@pytest.fixture
def desk(fen: Yard, qtbot, tmp_path) -> Iterator[Typist]:
    with evening(fen.ledger, qtbot, tmp_path / "desk") as typist:
        yield typist


@pytest.fixture
def sheet(desk: Typist) -> Any:
    return desk.open("Fen")


def grid(desk: Typist) -> Any:
    return desk.seat.place.pane.grid


def test_the_sums_stand_under_their_columns(desk, sheet):
    desk.lines("qe7 9 4 2+", "e8 10 4 2 d7")
    sums = desk.seat.place.pane.foot.sums()
    assert (sums["seen"], sums["eggs"], sums["brood"], sums["bees"], sums["supers"]) == (
        "1",
        "2",
        "15",
        "19",
        "+1",
    )
    assert "next look 21 May" in desk.seat.place.pane.foot.accessibleName()


def test_two_rounds_stand_in_tabs_and_keep_where_they_were(desk, sheet):
    desk.lines("n", "n")
    desk.open("Low")
    desk.lines("n")
    assert [one.tab().state for one in desk.seat.place.rounds.values()] == ["2 of 6", "1 of 2"]
    desk.press("Ctrl+Tab")
    assert desk.seat.place.pane.sheet is sheet
    assert grid(desk).row == 2


def test_the_model_keeps_qts_rules_while_lines_come_and_go(desk, sheet, qtbot):
    tester = QAbstractItemModelTester(grid(desk).cells, QAbstractItemModelTester.FailureReportingMode.Fatal)
    desk.lines("n", "z", "q7 9 4")
    desk.type("/\n")
    desk.press("Ctrl+Delete", "Ctrl+Z", "Ctrl+R")
    assert grid(desk).cells.rowCount() == len(sheet.lines)
    tester.deleteLater()


def test_no_figure_hive_or_state_is_cut_at_the_smallest_window(fen: Yard, qtbot, tmp_path):
    with evening(fen.ledger, qtbot, tmp_path / "small", (1318, 696)) as desk:
        desk.open("Fen")
        desk.lines(
            "q/v 10.5 11.5 12.5 5 c12s/k s+1-2 l12.5t x m44/d7 d14/q; a long note that may be shortened"
        )
        elisions.on = True
        try:
            desk.seat.place.grab()
            assert elisions.cut == []
        finally:
            elisions.on = False
            elisions.clear()


def test_the_queen_of_the_record_stands_beside_the_hive_with_her_word(desk, sheet, fen: Yard):
    cells = grid(desk).cells
    said = cells.data(cells.index(0, 2), 0)
    assert said == "blue ’25"
    assert sheet.record(0).queen_state in (None, QueenState.RIGHT)
