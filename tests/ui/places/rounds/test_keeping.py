"""What was typed is there again: a desk closed and opened, a workbook out and back, a sheet on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from statistics import median
from time import thread_time
from typing import Any

import pytest
from openpyxl import load_workbook

from beeledger.database.ledger import Ledger
from beeledger.model.rounds import RoundEntry
from beeledger.rules.rounds.entry import Entry
from beeledger.ui.desk.desk import FileQuestion
from beeledger.ui.places.rounds import sheet as sheet_module
from tests.builders.yards import Yard, rows, strips
from tests.ui.places.rounds.evening import SINGLE, Typist, double_yard, evening

MARKS = [str(number) for number in range(401, 431)]


@pytest.fixture
def fen(sqlite_ledger: Ledger) -> Yard:
    strips(sqlite_ledger)
    return double_yard(sqlite_ledger, "Fen End", MARKS, boxes=SINGLE)


@pytest.fixture
def desk(fen: Yard, qtbot, tmp_path) -> Iterator[Typist]:
    with evening(fen.ledger, qtbot, tmp_path / "desk") as typist:
        yield typist


def answer_files(desk: Typist, path: Path) -> None:
    def answered(question: Any) -> None:
        if isinstance(question, FileQuestion):
            question.then(path)

    desk.seat.desk.asked.connect(answered)


def test_a_draft_is_there_again_with_all_that_stood_in_it(fen: Yard, qtbot, tmp_path):
    with evening(fen.ledger, qtbot, tmp_path / "desk") as first:
        sheet = first.open("Fen")
        first.lines("q7 9 4 2; clipped", "ns-3", "8 y3", "n? stores", "nx")
        first.press("Up", "Shift+F4")
        first.type("tested\n")
        first.press("F7")
        first.type("l2;gate\n")
        first.press("F2")
        first.seat.place.pane.grid.go_to_field(7, "mites_count")
        first.type("44/")
        kept, views = sheet.body(), sheet.views
    with evening(fen.ledger, qtbot, tmp_path / "desk") as again:
        again.settle()
        place = again.seat.place
        sheet = place.pane.sheet
        assert sheet.body() == kept
        assert [view.open for view in sheet.views] == [view.open for view in views]
        assert place.pane.grid.row == 7
        assert place.pane.grid.typing == "44/"
        again.type("d7\n")
        assert (sheet.lines[7].typed.mites_count, sheet.lines[7].typed.mites_days) == (44, 7)


def test_a_draft_posted_at_another_desk_is_not_posted_twice(desk: Typist, fen: Yard):
    desk.open("Fen")
    desk.lines("n")
    front = desk.seat.place.front
    fen_round = desk.seat.place.poster
    desk.press("Ctrl+Return")
    desk.settle()
    desk.seat.place._take_in(front.sheet.body())
    desk.settle()
    desk.press("Ctrl+Return")
    desk.settle()
    assert len(rows(fen.ledger, RoundEntry)) == 1
    assert any("posted already" in said.text for said in desk.seat.said)
    assert fen_round is desk.seat.place.poster


def test_a_round_goes_out_as_a_workbook_and_comes_back_filled(desk: Typist, fen: Yard, tmp_path):
    sheet = desk.open("Fen")
    desk.lines("q7 9 4 2+")
    path = tmp_path / "round.xlsx"
    answer_files(desk, path)
    desk.press("Ctrl+S")
    desk.settle()
    fill_workbook(path, {"402": {"Brood, frames": 8}, "403": {"Brood, frames": "eight"}})
    desk.press("Ctrl+Shift+O")
    desk.settle()
    back = desk.seat.place.pane.sheet
    assert back is sheet
    assert back.lines[0].text == "q7 9 4 2+"
    assert sheet.body()["head"]["source"] == "workbook"
    assert back.lines[1].typed.brood_tenths == 80
    assert back.views[2].waits
    told = place_of(desk).pane.beside.reading.rows.facts()
    assert "Hives, row 8, column K (Brood)" in told[0].second
    assert any("beside the grid" in said.text for said in desk.seat.said)
    desk.press("F3", "Return")
    assert place_of(desk).pane.grid.row == 2
    desk.press("Ctrl+Z")
    assert back.lines[1].empty


def test_a_workbook_of_a_round_that_is_not_open_becomes_a_draft(desk: Typist, fen: Yard, tmp_path):
    desk.open("Fen")
    path = tmp_path / "round.xlsx"
    answer_files(desk, path)
    desk.press("Ctrl+S")
    desk.settle()
    desk.press("Ctrl+W")
    fill_workbook(path, {"405": {"Brood, frames": 6}})
    desk.press("Ctrl+Shift+O")
    desk.settle()
    (one,) = desk.seat.place.rounds.values()
    assert [line.mark for line in one.sheet.lines if not line.empty] == ["405"]
    assert len(one.sheet.lines) == len(MARKS)


def test_every_finding_of_a_workbook_stands_beside_the_grid_until_it_was_looked_through(
    fen: Yard, qtbot, tmp_path
):
    with evening(fen.ledger, qtbot, tmp_path / "desk") as desk:
        desk.open("Fen")
        path = tmp_path / "round.xlsx"
        answer_files(desk, path)
        desk.press("Ctrl+S")
        desk.settle()
        fill_workbook(path, {"402": {"Brood, frames": "eight", "Temper": 9}, "403": {"Bees": "few"}})
        desk.press("Ctrl+Shift+O")
        desk.settle()
        shown = place_of(desk).pane.beside.reading.rows.facts()
        cells = [fact.second.split(".")[0] for fact in shown if fact.key]
        assert cells == [
            "Hives, row 7, column K (Brood)",
            "Hives, row 7, column P (Temper 1 to 5)",
            "Hives, row 8, column L (Bees)",
        ]
    with evening(fen.ledger, qtbot, tmp_path / "desk") as again:
        again.settle()
        reading = place_of(again).pane.beside.reading
        assert reading.rows.facts() == shown
        reading.close_it.click()
        assert reading.isHidden()
        assert place_of(again).pane.sheet.place.get("read") is None


def place_of(desk: Typist) -> Any:
    """The place itself."""
    return desk.seat.place


def fill_workbook(path: Path, cells: dict[str, dict[str, Any]]) -> None:
    """Type into the cells of hives, by the headings, as on a tablet."""
    book = load_workbook(path)
    page = book["Hives"]
    heading_row = next(row for row in range(1, 12) if page.cell(row, 1).value == "Hive")
    headings = {str(cell.value): cell.column for cell in page[heading_row] if cell.value}
    for row in range(heading_row + 1, page.max_row + 1):
        for heading, value in cells.get(str(page.cell(row, 1).value), {}).items():
            at = next(column for name, column in headings.items() if name.startswith(heading.split(",")[0]))
            page.cell(row, at).value = value
    book.save(path)


def test_the_sheet_of_the_round_is_shown_as_it_will_print(desk: Typist):
    desk.open("Fen")
    desk.press("Ctrl+P")
    place = desk.seat.place
    desk.seat.until(lambda: place.paper.printed is not None)
    assert place.paper.printed.about.key == "round-sheet"
    assert len(place.paper.printed.pages) >= 2
    desk.press("Escape")
    assert place.stack.currentWidget() is place.pane


def timed(desk: Typist, qapp: Any, keys: str) -> list[float]:
    """Milliseconds that the window works from each key until all it changed is painted, whatever else runs."""
    spent = []
    for letter in keys:
        begun = thread_time()
        desk.type(letter)
        qapp.processEvents()
        spent.append((thread_time() - begun) * 1000)
    return spent


@pytest.mark.parametrize("mode", ["line", "cells"])
def test_a_key_and_its_painting_are_at_most_12_milliseconds_of_work(desk: Typist, qapp, mode):
    desk.open("Fen")
    qapp.processEvents()
    if mode == "cells":
        desk.press("F2")
        desk.seat.place.pane.grid.go_to_field(0, "brood_tenths")
    keys = "7\n8\n7.5\n9\n" * 5 if mode == "cells" else "q7 9 4 2+;clipped\n" * 3
    assert median(timed(desk, qapp, keys)) <= 12


def test_nothing_is_asked_of_the_ledger_while_lines_are_typed(desk: Typist, monkeypatch):
    desk.open("Fen")
    desk.settle()

    def asked(*_args: object) -> None:
        raise AssertionError("a key asked the ledger")

    monkeypatch.setattr(desk.seat.desk.workers, "read", asked)
    desk.lines("q7 9 4 2+", "n", "c4sq/cp990:b3f4s", "j401")
    desk.press("F2")
    desk.type("8\n")
    assert desk.seat.place.pane.sheet.lines[0].typed == Entry(
        queen_seen=True, brood_tenths=70, bees_tenths=90, stores_g=4000, temper=2, supers_on=1
    )


def test_a_key_judges_its_own_line_and_those_it_names_and_no_other(desk: Typist, monkeypatch):
    sheet = desk.open("Fen")
    desk.lines("n7", "n8", "j401", "n9")
    judged: list[str] = []
    real = sheet_module.view_of
    monkeypatch.setattr(
        sheet_module, "view_of", lambda line, *more: judged.append(line.mark) or real(line, *more)
    )
    desk.press("F2")
    desk.seat.place.pane.grid.go_to_field(0, "brood_tenths")
    judged.clear()
    desk.type("6")
    assert judged == ["401"]
    desk.press("Return")
    judged.clear()
    desk.seat.place.pane.grid.go_to_field(0, "outcome")
    desk.type("z")
    assert sorted(judged) == ["401", "403"]
    assert len(sheet.views) == len(MARKS)
