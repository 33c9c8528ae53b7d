"""The shop window of a table: filtered, sorted, said aloud, and never reckoning."""

from __future__ import annotations

import time

import pytest
from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester

from beeledger.ui.widgets.cells import Cell, Column, Row, Run
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.record_model import CELL_ROLE, ID_ROLE, RecordModel

COLUMNS = (Column("hive", "Hive"), Column("site", "Site"), Column("stores", "Stores", "kg"))


def a_row(number: int, site: str, stores: int | None) -> Row:
    text = "" if stores is None else str(stores)
    return Row(number, (Cell(str(number)), Cell(site), Cell(text)), sort=(number, site, stores))


@pytest.fixture
def model(qapp: object) -> RecordModel:
    made = RecordModel(COLUMNS)
    made.set_rows([a_row(12, "Mill Leat", 9), a_row(7, "Perry Tree", None), a_row(30, "Mill Leat", 14)])
    return made


def ids(model: RecordModel) -> list[object]:
    return [row.id for row in model.rows_shown()]


def test_qt_finds_no_fault_with_the_model(model: RecordModel, qtmodeltester: object) -> None:
    qtmodeltester.check(model)
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Warning)
    model.set_filter("mill", None)
    model.set_order((2, True))
    model.set_rows([])
    model.set_rows([a_row(1, "Ling", 3)])
    assert tester.model() is model


def test_qt_does_find_fault_with_a_model_that_lies(qapp: object, qtmodeltester: object) -> None:
    class Lying(QAbstractTableModel):
        def rowCount(self, parent: QModelIndex | None = None) -> int:
            return 2

        def columnCount(self, parent: QModelIndex | None = None) -> int:
            return 1

        def data(self, index: QModelIndex, role: int = 0) -> object:
            return None

    # it says that every cell has rows below it, which its cells then deny having a parent in
    with pytest.raises(AssertionError):
        qtmodeltester.check(Lying(), force_py=True)


def test_words_must_all_be_there_and_or_parts_alternatives(model: RecordModel) -> None:
    model.set_filter("MILL 30", None)
    assert ids(model) == [30]
    model.set_filter("perry or 12", None)
    assert ids(model) == [12, 7]
    model.set_filter("nowhere", None)
    assert ids(model) == []
    model.set_filter("  ", None)
    assert ids(model) == [12, 7, 30]


def test_accents_do_not_hide_a_site(model: RecordModel) -> None:
    model.set_rows([a_row(1, "Château field", 3)])
    model.set_filter("chateau", None)
    assert ids(model) == [1]


def test_a_condition_and_words_both_hold(model: RecordModel) -> None:
    model.set_filter("mill", lambda row: row.sort[2] > 10)
    assert ids(model) == [30]


def test_figures_sort_as_figures_and_what_is_not_known_stays_last(model: RecordModel) -> None:
    model.set_order((2, False))
    assert ids(model) == [12, 30, 7]
    model.set_order((2, True))
    assert ids(model) == [30, 12, 7]
    model.set_order(None)
    assert ids(model) == [12, 7, 30]


def test_without_sort_keys_the_texts_sort_and_blanks_stay_last(qapp: object) -> None:
    model = RecordModel(COLUMNS[:1])
    model.set_rows([Row(1, (Cell("b"),)), Row(2, (Cell(""),)), Row(3, (Cell("A"),))])
    model.set_order((0, False))
    assert ids(model) == [3, 1, 2]
    model.set_order((0, True))
    assert ids(model) == [1, 3, 2]


def test_equal_figures_keep_the_order_they_came_in(qapp: object) -> None:
    model = RecordModel(COLUMNS)
    model.set_rows([a_row(number, "Ling", 5) for number in (4, 2, 9)])
    model.set_order((2, False))
    assert ids(model) == [4, 2, 9]


def test_a_cell_says_its_state_and_its_queens_colour(model: RecordModel) -> None:
    assert Cell("4 days", mark=Mark.LATE).said() == "late, 4 days"
    assert Cell("25-114", disc="blue").said() == "blue, 25-114"
    assert Cell("blue 25-114", disc="blue").said() == "blue 25-114"
    assert Cell(runs=(Run("18"), Run("swarm check"))).said() == "18 swarm check"
    assert Cell("6", spoken="6 kilograms, low").said() == "6 kilograms, low"
    spoken = model.data(model.index(0, 1), Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Mill Leat"


def test_a_line_gives_its_id_and_its_ready_cell(model: RecordModel) -> None:
    assert model.data(model.index(1, 0), ID_ROLE) == 7
    assert model.data(model.index(1, 0), CELL_ROLE) is model.row_at(1).cells[0]
    assert model.line_of(30) == 2
    model.set_filter("perry", None)
    assert model.line_of(30) is None


def test_a_head_says_title_and_unit(model: RecordModel) -> None:
    assert model.headerData(2, Qt.Orientation.Horizontal) == "Stores kg"


def test_a_row_of_the_wrong_width_is_refused(model: RecordModel) -> None:
    with pytest.raises(ValueError, match="2 cells for 3 columns"):
        model.set_rows([Row(1, (Cell("1"), Cell("2")))])


def test_two_thousand_rows_are_filtered_between_two_key_strokes(qapp: object) -> None:
    model = RecordModel(COLUMNS)
    model.set_rows([a_row(number, f"Site {number % 80}", number % 20) for number in range(2000)])
    model.set_order((2, True))
    taken = []
    for words in ("site 1", "site 12", "site 123", "7 or 9", ""):
        begun = time.perf_counter()
        model.set_filter(words, None)
        taken.append(time.perf_counter() - begun)
    assert min(taken) < sorted(taken)[2] < 0.015
